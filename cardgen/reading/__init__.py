"""Stage 1: turn YAML text into nodes that know their line and column."""

from cardgen.reading.files import read_text
from cardgen.reading.nodes import KeyValue, Mapping, Node, Scalar, Sequence
from cardgen.reading.parse import parse

__all__ = ["KeyValue", "Mapping", "Node", "Scalar", "Sequence", "parse", "read_text"]
