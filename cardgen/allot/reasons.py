"""Say why a station gets no hot where every leg of every cable has enough conductors."""

from __future__ import annotations

from cardgen.allot.demand import Tracks, or_take_out
from cardgen.allot.model import Need
from cardgen.allot.supply import FreeConductors
from cardgen.allot.ways import Search
from cardgen.checks.reporting import error
from cardgen.lists import listed
from cardgen.problems import Problem


def hot_without_way(supply: FreeConductors, need: Need) -> Problem:
    """The first of the reasons that holds."""
    name, start = need.station.id, need.begin.at
    sentence, help_ = _reason(supply, need, name, start)
    return error("hot-without-way", need.station.span, sentence, help_)


def _reason(supply: FreeConductors, need: Need, name: str, start: str) -> tuple[str, str]:
    tracks = Tracks(supply.job)
    cut_off = [f"'{box}'" for box in need.boxes if not tracks.to(start, box)]
    boxes = listed(f"'{box}'" for box in need.boxes)
    if cut_off:
        sentence = f"no cable leads from {start} to {listed(cut_off)}, so {name} gets no hot"
        return sentence, "add the cable that comes there, or look at the names in the runs"
    alone = next(Search(supply, need).ways(), None)
    if alone is not None and not supply.leaves_spares(alone.names):
        sentence = f"a hot for {name} would leave a box fewer spares than it asks for"
        return sentence, "lay a cable with more conductors, or ask for fewer spares"
    if alone is not None:
        sentence = f"other stations take every conductor that could lead to {boxes} for {name}"
        way_out = "lay a cable with more conductors, or another one beside it"
        return sentence, way_out + or_take_out(supply.job)
    if any(Search(supply, need, as_built=False).ways()):
        written = listed(f"'{at}'" for at in supply.job.joints)
        sentence = f"the joints written out leave no free conductor for {name}"
        return sentence, f"write {name} into its joints ({written}), or name its hot yourself"
    if len(need.boxes) > 1:
        sentence = f"no way of free conductors passes {boxes} one after the other for {name}"
        return sentence, "name its hot yourself and write out the joints where it parts"
    sentence = f"no free conductor leads from {start} to {boxes} for {name}"
    return sentence, (
        "what is free may have no flag, be promised as a spare, or serve something in another leg: "
        "lay another cable, or name a hot yourself"
    )
