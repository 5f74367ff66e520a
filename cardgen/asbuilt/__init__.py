"""Stage 6: turn all that is known of a job without errors into plain values in trade words."""

from cardgen.asbuilt.build import as_built
from cardgen.asbuilt.model.boxes import Box
from cardgen.asbuilt.model.conductors import Band, ConductorMark, Spare
from cardgen.asbuilt.model.controllers import Controller
from cardgen.asbuilt.model.job import AsBuilt
from cardgen.asbuilt.model.valves import Valve
from cardgen.asbuilt.spans import Spans, nowhere, spans_of
from cardgen.wiring.uses import Role, Use

__all__ = ["AsBuilt", "Band", "Box", "ConductorMark", "Controller", "Role", "Spans", "Spare", "Use"]
__all__ += ["Valve", "as_built", "nowhere", "spans_of"]
