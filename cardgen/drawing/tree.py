"""Turn a checked job into home runs: each cable that leaves a controller, with its extensions."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import replace

from cardgen.asbuilt.model import AsBuilt, BuiltCable, BuiltConductor, ConductorMark, Role
from cardgen.cards import Printable
from cardgen.cards.lengths import beside_in
from cardgen.cards.plain_words import spoken_mark
from cardgen.drawing.contents import Contents, Spot
from cardgen.drawing.model import BoxLine, BoxOnRun, CableRun, HomeRun, RunLeg
from cardgen.drawing.starts import lines_at_start

# By cable and index of one of its places, the cables that begin there.
Hung = dict[tuple[str, int], list[str]]


def home_runs(printable: Printable) -> tuple[HomeRun, ...]:
    """The home runs of all controllers, in the order of the file."""
    homes, hung = _hang(printable.asbuilt)
    order = list(printable.asbuilt.controller)
    homes.sort(key=lambda cable: _rank(order, cable.run[0].at))
    families = {cable.id: tuple(_family(printable.asbuilt, cable, hung)) for cable in homes}
    contents = Contents(printable, families)
    return tuple(_home_run(printable, cable, hung, contents) for cable in homes)


def _rank(order: list[str], name: str) -> int:
    return order.index(name) if name in order else len(order)


def _hang(asbuilt: AsBuilt) -> tuple[list[BuiltCable], Hung]:
    """Which cables leave a controller, and where each of the others begins.

    Where several cables come to a box, an extension belongs to the one it is joined with there.
    A cable that no other leads to is drawn by itself.
    """
    homes = [cable for cable in asbuilt.cables if cable.run[0].at in asbuilt.controller]
    placed = {cable.id for cable in homes}
    left = [cable for cable in asbuilt.cables if cable.id not in placed]
    hung: Hung = defaultdict(list)
    while left:
        found = _next(asbuilt, left, placed)
        if found is None:
            homes.append(left[0])
            cable = left[0]
        else:
            cable, parent, index = found
            hung[parent, index].append(cable.id)
        placed.add(cable.id)
        left.remove(cable)
    return homes, hung


def _next(
    asbuilt: AsBuilt, left: list[BuiltCable], placed: set[str]
) -> tuple[BuiltCable, str, int] | None:
    """A cable, that from which it goes on, and where: joined ones first."""
    spare: tuple[BuiltCable, str, int] | None = None
    for cable in left:
        start = cable.run[0].at
        joined = _joined_with(asbuilt, cable.id, start)
        for parent in asbuilt.cables:
            if parent.id not in placed or start not in parent.places[1:]:
                continue
            found = (cable, parent.id, parent.places.index(start))
            if parent.id in joined:
                return found
            spare = spare or found
    return spare


def _joined_with(asbuilt: AsBuilt, cable: str, at: str) -> set[str]:
    """The cables of which a conductor is joined with one of this cable."""
    found: set[str] = set()
    for linked in asbuilt.box[at].linked if at in asbuilt.box else ():
        members = [m for joint in linked for m in joint.members if not m.pigtail]
        cables = {member.mark.cable for member in members if member.mark}
        found |= cables if cable in cables else set()
    return found - {cable}


def _family(asbuilt: AsBuilt, cable: BuiltCable, hung: Hung) -> Iterator[BuiltCable]:
    yield cable
    for index in range(len(cable.run)):
        for name in hung.get((cable.id, index), ()):
            yield from _family(asbuilt, asbuilt.cable[name], hung)


def _home_run(printable: Printable, cable: BuiltCable, hung: Hung, contents: Contents) -> HomeRun:
    start = cable.run[0].at
    return HomeRun(
        title=contents.title(start),
        about=contents.about(start),
        lines=_spoken(
            printable, (*contents.coils(cable.id, cable.id), *lines_at_start(printable, cable))
        ),
        run=_run(printable, cable, hung, contents, home=cable.id),
        words=printable.words,
    )


def _run(
    printable: Printable, cable: BuiltCable, hung: Hung, contents: Contents, home: str
) -> CableRun:
    stops = []
    for index, stop in enumerate(cable.run[1:], 1):
        branches = (printable.asbuilt.cable[name] for name in hung.get((cable.id, index), ()))
        stops.append(
            BoxOnRun(
                span=printable.spans.cables[cable.id],
                title=contents.title(stop.at),
                about=contents.about(stop.at),
                stretch=_stretch(printable, cable, index, contents.inside[cable.id]),
                lines=_spoken(printable, contents.at(Spot(home=home, cable=cable.id, box=stop.at))),
                branches=tuple(_run(printable, b, hung, contents, home) for b in branches),
            )
        )
    return CableRun(span=printable.spans.cables[cable.id], cable=cable.id, stops=tuple(stops))


def _spoken(printable: Printable, lines: Iterable[BoxLine]) -> tuple[BoxLine, ...]:
    """The lines with every colour in the words of the print."""

    def said(found: Iterable[ConductorMark]) -> tuple[ConductorMark, ...]:
        return tuple(spoken_mark(each, printable.words) for each in found)

    return tuple(replace(x, marks=said(x.marks), joined=said(x.joined)) for x in lines)


def _stretch(
    printable: Printable, cable: BuiltCable, index: int, conductors: Iterable[BuiltConductor]
) -> RunLeg:
    """What leads to the place of that index."""
    inside = [c for c in conductors if len(c.legs) >= index]
    gauges = Counter(c.mark.gauge for c in inside)
    wires = ", ".join(f"{number} × {gauge}" for gauge, number in gauges.items())
    return RunLeg(
        cable=cable.id,
        band=cable.band,
        length=beside_in(cable.run[index].length),
        wires=f"{wires}, {printable.words('drawing.shielded')}" if cable.shielded else wires,
        carries=_carries(printable, inside, cable.run[index].at),
    )


def _carries(printable: Printable, inside: list[BuiltConductor], to: str) -> str:
    """Whose hots and sensors' wires lie in the leg that leads to a place."""
    found = (conductor.at(to, onward=False) for conductor in inside)
    uses = {use for stretch in found if stretch for use in stretch.uses}
    live = {use.of for use in uses if use.role in (Role.HOT, Role.SENSOR)}
    order = (*printable.asbuilt.stations, *(sensor.id for sensor in printable.asbuilt.sensors))
    names: list[str] = [name for name in order if name in live]
    if any(use.role is Role.PATH for use in uses):
        names.append(printable.words("drawing.path"))
    return printable.words("drawing.for", valves=printable.words.listed(names)) if names else ""
