"""Turn the nodes of a job into the text of a file, laid out as the sample jobs are."""

from __future__ import annotations

import re
from collections.abc import Iterator

from cardgen.editing.quoting import written
from cardgen.reading import nodes
from cardgen.reading.nodes import Node, Scalar

WIDEST = 100
# What other readers take for another number, or for a time.
_ODD_NUMBER = re.compile(r"0[0-9xob_].*|[0-9][0-9_]*[eE][0-9]+|[0-9_]*_[0-9_]*|[0-9]+:[0-9:]+")


def job_text(root: nodes.Mapping) -> str:
    """Each section begins after a blank line."""
    sections = (
        "\n".join(entry_lines(e.key.text, e.value, 0)) for e in root.entries if _says(e.value)
    )
    return "\n\n".join(sections) + "\n"


def _says(node: Node) -> bool:
    return bool(flow(node).strip("{}[]"))


def entry_lines(key: str, node: Node, indent: int) -> Iterator[str]:
    """In one line where it has room, else a line for each thing in it."""
    start = f"{' ' * indent}{scalar(key)}:"
    line = f"{start} {flow(node)}"
    is_section = indent == 0 and isinstance(node, nodes.Mapping) and _is_block(node)
    if (len(line) <= WIDEST and not is_section) or isinstance(node, Scalar):
        yield line
    elif isinstance(node, nodes.Mapping):
        yield start
        for entry in node.entries:
            yield from entry_lines(entry.key.text, entry.value, indent + 2)
    elif all(isinstance(item, Scalar) for item in node.items):
        yield from _wrapped(start, [flow(item) for item in node.items], indent + 2)
    else:
        yield start
        yield from (f"{' ' * (indent + 2)}- {flow(item)}" for item in node.items)


def _is_block(node: nodes.Mapping) -> bool:
    """A section whose entries have names; `job` and `record` are lines."""
    return any(not isinstance(entry.value, Scalar) for entry in node.entries)


def _wrapped(start: str, items: list[str], indent: int) -> Iterator[str]:
    line = f"{start} ["
    for number, item in enumerate(items):
        piece = item + ("]" if number == len(items) - 1 else ",")
        if len(line) + len(piece) + 1 > WIDEST and not line.endswith("["):
            yield line
            line = " " * indent + piece
        else:
            line += piece if line.endswith("[") else f" {piece}"
    yield line


def flow(node: Node) -> str:
    """A value in one line."""
    if isinstance(node, Scalar):
        return scalar(node.text)
    if isinstance(node, nodes.Sequence):
        return f"[{', '.join(flow(item) for item in node.items)}]"
    pairs = (f"{scalar(e.key.text)}: {flow(e.value)}" for e in node.entries)
    return f"{{{', '.join(pairs)}}}"


def scalar(text: str) -> str:
    """With quotes only where YAML, or another reader of it, would take it for something else."""
    return written(text, in_brackets=True, quote="'", always=bool(_ODD_NUMBER.fullmatch(text)))
