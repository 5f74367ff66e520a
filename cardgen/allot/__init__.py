"""Give each station that names no conductor a free one, or say which leg has too few."""

from cardgen.allot.give import allot
from cardgen.allot.model import Allotment, LegNeed, Way

__all__ = ["Allotment", "LegNeed", "Way", "allot"]
