"""Turn a job and what is suspected in it into the stops of the way: controller, boxes, marks.

Only the runs on which something is marked or read off, each as far as the last such box.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from cardgen.advice.evidence_words import ToldValue
from cardgen.advice.merged_sites import NOTHING
from cardgen.advice.suspect_words import Kneeling
from cardgen.advice.told import Advice
from cardgen.asbuilt import AsBuilt, BuiltValve, ConductorMark
from cardgen.asbuilt.model.built_conductors import BuiltCable
from cardgen.asbuilt.model.home_runs import Branch, Spot
from cardgen.cards.card import WayStop
from cardgen.diagnosis import SuspectSite
from cardgen.words import Text, Words


def way_stops(words: Words, known: AsBuilt, advice: Advice) -> tuple[WayStop, ...]:
    """From each controller outward; none where nothing is suspected and no reading is off."""
    return tuple(_StopMaker(words, known, advice).stops())


@dataclass(slots=True)
class _Marked:
    """What is marked, by leg (cable and index of the place it leads to), and by place."""

    legs: dict[tuple[str, int], list[str]] = field(default_factory=lambda: defaultdict(list))
    wires: dict[tuple[str, int], list[ConductorMark]] = field(
        default_factory=lambda: defaultdict(list)
    )
    places: dict[str, list[str]] = field(default_factory=lambda: defaultdict(list))


class _StopMaker:
    def __init__(self, words: Words, known: AsBuilt, advice: Advice) -> None:
        self.words, self.known = words, known
        self.values = _by_valve(advice.values)
        self.marked = _marked(self.known, advice.kneeling)
        self._shown: set[str] = set()  # places whose own marks stand on a stop already

    def stops(self) -> Iterator[WayStop]:
        starts: list[str] = []
        for home in self.known.home_runs:
            if not self._is_needed(home, home):
                continue
            if home.start not in starts:
                starts.append(home.start)
                yield self._start(home.start)
            yield from self._run(home, home, 1)
        for place in self.marked.places.keys() - set(starts) - self._shown:
            if place in self.known.controller:  # a terminal, and nothing else on its runs
                yield self._start(place)

    def _start(self, place: str) -> WayStop:
        self._shown.add(place)
        title = self.words("terms.controller", controller=place)
        is_controller = place in self.known.controller
        return WayStop(
            depth=0,
            begins=False,
            is_controller=is_controller,
            title=title.printed if is_controller else place,
            here=tuple(self.marked.places.get(place, ())),
        )

    def _run(self, home: Branch, branch: Branch, depth: int) -> Iterator[WayStop]:
        last = self._last(home, branch)
        for index in range(1, last + 1):
            yield self._stop(home, branch, index, depth, is_last=index == last)
            for further in branch.further.get(index, ()):
                if self._is_needed(home, further):
                    yield from self._run(home, further, depth + 1)

    def _stop(
        self, home: Branch, branch: Branch, index: int, depth: int, *, is_last: bool
    ) -> WayStop:
        cable, leg = branch.cable, (branch.cable.id, index)
        place = cable.run[index].at
        here = () if place in self._shown else tuple(self.marked.places.get(place, ()))
        self._shown.add(place)
        notes = self._notes(Spot(home=home.cable.id, cable=cable.id, place=place))
        beyond = cable.places[index + 1 :] if is_last else ()
        if beyond:
            notes = (*notes, self.words("diagnosis.onward", boxes=self.words.list_of(beyond)))
        wires = dict.fromkeys(self.marked.wires.get(leg, ()))
        before = self.marked.wires.get((cable.id, index - 1), ())  # shown there, and the same on
        return WayStop(
            depth=depth,
            begins=index == 1,
            is_controller=place in self.known.controller,
            title=place,
            leg=self._leg_words(cable, index),
            wires=tuple(wire for wire in wires if wire not in before),
            on_leg=tuple(dict.fromkeys(self.marked.legs.get(leg, ()))),
            here=here,
            off=tuple(said.printed for said in self._off(home, branch, place)),
            notes=tuple(said.printed for said in notes),
        )

    def _leg_words(self, cable: BuiltCable, index: int) -> str:
        length = cable.run[index].length or self.words("terms.length not known")
        return self.words.joined((cable.id, length), " · ").printed

    # ---- what is shown ---------------------------------------------------------------------

    def _is_needed(self, home: Branch, branch: Branch) -> bool:
        return self._last(home, branch) > 0

    def _last(self, home: Branch, branch: Branch) -> int:
        """The index of the last place of its cable that is shown, 0 for none."""
        needed = (
            index
            for index, place in enumerate(branch.cable.places)
            if index and self._is_marked(home, branch, index, place)
        )
        return max(needed, default=0)

    def _is_marked(self, home: Branch, branch: Branch, index: int, place: str) -> bool:
        return (
            (branch.cable.id, index) in self.marked.legs
            or place in self.marked.places
            or any(v.is_off for valve in self._valves(home, branch, place) for v in self._of(valve))
            or any(self._is_needed(home, further) for further in branch.further.get(index, ()))
        )

    def _valves(self, home: Branch, branch: Branch, place: str) -> Sequence[BuiltValve]:
        spot = Spot(home=home.cable.id, cable=branch.cable.id, place=place)
        return self.known.hanging.get(spot, ())

    def _of(self, valve: BuiltValve) -> Sequence[ToldValue]:
        return self.values.get(valve.id, ())

    def _off(self, home: Branch, branch: Branch, place: str) -> Iterator[Text]:
        for valve in self._valves(home, branch, place):
            for value in self._of(valve):
                if value.is_off:
                    yield off_in_words(self.words, value)

    def _notes(self, spot: Spot) -> tuple[Text, ...]:
        """By station: of a twin the meter at the controller reads both coils."""
        stations: dict[str, list[ToldValue]] = {}
        for valve in self.known.hanging.get(spot, ()):
            stations.setdefault(valve.station, [])
            for twin in self.known.stations[valve.station]:
                stations[valve.station] += self._of(twin)
        of = {
            "good": [id for id, own in stations.items() if own and not any(v.is_off for v in own)],
            "not measured": [id for id, own in stations.items() if not own],
        }
        return tuple(
            self.words(f"diagnosis.{name}", valves=self.words.list_of(ids))
            for name, ids in of.items()
            if ids
        )


def off_in_words(words: Words, value: ToldValue) -> Text:
    """`! A5 OL; expected 33.7 (30.1 to 37.2)`."""
    key = "diagnosis.off" if value.expected else "diagnosis.off alone"
    about = words.joined((value.what, value.read), ": ") if value.is_special else value.read
    return words(key, valve=value.valve, read=about, expected=value.expected)


def _by_valve(values: Sequence[ToldValue]) -> Mapping[str, Sequence[ToldValue]]:
    found: dict[str, list[ToldValue]] = defaultdict(list)
    for value in values:
        found[value.valve].append(value)
    return found


def _marked(known: AsBuilt, kneeling: Iterator[Kneeling]) -> _Marked:
    marked = _Marked()
    for each in kneeling:
        legs = list(_legs(known, each.site))
        for cable, index in legs:
            marked.legs[cable, index].append(each.mark)
            if each.site.conductor in known.conductor:
                marked.wires[cable, index].append(known.conductor[each.site.conductor].mark)
        if not legs:
            marked.places[each.site.start].append(each.mark)
    return marked


def _legs(known: AsBuilt, site: SuspectSite) -> Iterator[tuple[str, int]]:
    """Those between its ends, or as many of them as its distance leaves."""
    if site.start == site.end:
        return
    conductor = known.conductor.get(site.conductor)
    cables = [known.cable[conductor.mark.cable]] if conductor else list(known.cables)
    for cable in cables:
        if not {site.start, site.end} <= set(cable.places):
            continue
        first, last = (cable.places.index(place) for place in (site.start, site.end))
        away: float | None = 0.0  # meters from `start` to the near end of the leg
        steps = range(first + 1, last + 1) if first < last else range(first, last, -1)
        for index in steps:
            meters = cable.run[index].meters
            if away is None or meters is None:  # what lies behind it may be anywhere
                away = None
                yield cable.id, index
                continue
            if _reaches(site, away, away + meters):
                yield cable.id, index
            away += meters


def _reaches(site: SuspectSite, near: float, far: float) -> bool:
    least = 0.0 if site.least_m is None else site.least_m
    most = far if site.most_m is None else site.most_m
    return near < most + NOTHING and far > least - NOTHING
