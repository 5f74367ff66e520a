"""Stage 6: turn all that is known of a job without errors into plain values in trade words."""

from cardgen.asbuilt.build import as_built
from cardgen.asbuilt.model.conductors import ConductorMark
from cardgen.asbuilt.model.job import AsBuilt
from cardgen.asbuilt.spans import Spans, nowhere, spans_of
from cardgen.wiring.uses import Role, Use

__all__ = [
    "AsBuilt",
    "ConductorMark",
    "Role",
    "Spans",
    "Use",
    "as_built",
    "nowhere",
    "spans_of",
]
