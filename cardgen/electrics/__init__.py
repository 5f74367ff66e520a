"""Stage 4: resistance of every way, and what a meter will read at the controller."""

from cardgen.electrics.readings import Reading, read_all

__all__ = ["Reading", "read_all"]
