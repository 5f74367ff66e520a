"""Say why a station gets no hot where every leg of every cable has enough conductors."""

from __future__ import annotations

from cardgen.allot.allotment import Need
from cardgen.allot.demand import Tracks, or_take_out
from cardgen.allot.supply import FreeConductors
from cardgen.allot.ways import Search
from cardgen.english_lists import english_list
from cardgen.faults.conductor_faults import HOT_WITHOUT_WAY
from cardgen.problems import Problem


def hot_without_way(supply: FreeConductors, need: Need) -> Problem:
    """With the first of the reasons that applies."""
    tracks = Tracks(supply.job)
    cut_off = [box for box in need.boxes if not tracks.to(need.begin.at, box)]
    return HOT_WITHOUT_WAY.at(
        need.station.span,
        variant="no cable" if cut_off else _reason(supply, need),
        station=need.station.id,
        controller=need.begin.at,
        boxes=english_list(f"'{box}'" for box in cut_off or need.boxes),
        joints=english_list(f"'{at}'" for at in supply.job.joints),
        or_take_out=or_take_out(supply.job),
    )


def _reason(supply: FreeConductors, need: Need) -> str:
    """Why not, though cables lead there; empty where they have nothing free."""
    alone = next(Search(supply, need).ways(), None)
    if alone is not None and not supply.leaves_spares(alone.names):
        return "spares promised"
    if alone is not None:
        return "all taken"
    if any(Search(supply, need, as_built=False).ways()):
        return "joints written"
    return "several boxes" if len(need.boxes) > 1 else ""
