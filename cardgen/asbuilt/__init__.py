"""Stage 6: turn all that is known of a job without errors into plain values in trade words."""

from cardgen.asbuilt.build import as_built
from cardgen.asbuilt.model.boxes import BuiltBox
from cardgen.asbuilt.model.conductors import Band, BuiltSpare, ConductorMark
from cardgen.asbuilt.model.controllers import BuiltController
from cardgen.asbuilt.model.job import AsBuilt
from cardgen.asbuilt.model.valves import BuiltValve
from cardgen.asbuilt.spans import Spans, nowhere, spans_of
from cardgen.wiring.uses import Role, Use

__all__ = [
    "AsBuilt",
    "Band",
    "BuiltBox",
    "BuiltController",
    "BuiltSpare",
    "ConductorMark",
    "Role",
    "Spans",
    "Use",
]
__all__ += ["BuiltValve", "as_built", "nowhere", "spans_of"]
