"""Stage 6: turn all that is known of a job without errors into plain values in trade words."""

from cardgen.asbuilt.build import as_built
from cardgen.asbuilt.model.as_built import AsBuilt
from cardgen.asbuilt.model.built_boxes import BuiltBox
from cardgen.asbuilt.model.built_conductors import Band, BuiltSpare, ConductorMark
from cardgen.asbuilt.model.built_controllers import BuiltController
from cardgen.asbuilt.model.built_valves import BuiltValve
from cardgen.asbuilt.network_values import network_values
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
__all__ += ["BuiltValve", "as_built", "network_values", "nowhere", "spans_of"]
