"""Give each station that names no conductor a free one, or say which leg has too few."""

from cardgen.allot.allotment import Allotment, LegNeed, Way
from cardgen.allot.give import allot

__all__ = ["Allotment", "LegNeed", "Way", "allot"]
