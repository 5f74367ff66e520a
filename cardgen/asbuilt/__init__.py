"""Stage 6: turn all that is known of a job without errors into plain values in trade words."""

from cardgen.asbuilt.build import as_built
from cardgen.asbuilt.model import AsBuilt
from cardgen.asbuilt.spans import Spans, nowhere, spans_of

__all__ = ["AsBuilt", "Spans", "as_built", "nowhere", "spans_of"]
