"""Count connectors, caps for free ends, pigtails and jumpers: each once, wherever it lies."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator

from cardgen.asbuilt import BuiltBox, BuiltController
from cardgen.cards.material import Material, a_tenth_more
from cardgen.cards.printable import Printable
from cardgen.cards.wire_materials import by_decoder
from cardgen.words import Text


def connectors(printable: Printable) -> Iterator[Material]:
    yield from _connectors(printable)
    yield from _caps(printable)
    yield from _pigtails(printable)
    yield from _jumpers(printable)


def _connectors(printable: Printable) -> Iterator[Material]:
    """By type; one that holds a pigtail is one connector, too.

    That of a hot that is not known is of no type that anything tells.
    """
    counts: dict[str, Counter[str]] = defaultdict(Counter)
    for where, held in _held(printable):
        counts[held][where] += 1
    for name, numbers in counts.items():
        yield a_tenth_more(printable, "connectors", _connector(printable, name), numbers)


def _held(printable: Printable) -> Iterator[tuple[str, str]]:
    """For each connector where it is, and its type; empty where nothing tells that."""
    known = printable.asbuilt
    for box in known.boxes:
        yield from (("joints in boxes", joint.held) for joint in box.joints)
        yield from (("hots not known", "") for _ in box.hots_unknown)
        for sensor in box.unpaired:  # its wires go on here in others, two and two
            yield from (("unpaired", "") for _ in range(math.ceil(len(sensor.marks) / 2)))
    for controller in known.controllers:
        assumed = [t.held for t in controller.terminals if t.takes_pigtail]
        at = (*(joint.held for joint in controller.connectors), *assumed)
        yield from (("joints at controllers", held) for held in at)
    for valve in by_decoder(printable).values():
        assert valve.decoder is not None
        yield from (("decoder leads", held) for held in valve.decoder.connectors)


def _connector(printable: Printable, name: str) -> Text:
    """With all that it is rated for."""
    words = printable.words
    if not name:
        return words("materials.unknown connector")
    rated = next(each.rating for each in printable.asbuilt.connectors if each.id == name)
    said = (words("terms.connector", name=name), words("terms.takes", conductors=rated))
    return words.joined(said)


def _caps(printable: Printable) -> Iterator[Material]:
    known = printable.asbuilt
    counts: dict[str, Counter[str]] = defaultdict(Counter)
    ends = (
        *(("free ends", end) for box in known.boxes for end in box.capped),
        *(("free ends at controllers", end) for each in known.controllers for end in each.capped),
    )
    for where, end in ends:
        counts[end.mark.gauge][where] += 1
    for gauge, numbers in counts.items():
        said = gauge or printable.words("terms.gauge not known")
        cap = printable.words("materials.cap", gauge=said)
        yield a_tenth_more(printable, "connectors", cap, numbers)


def _pigtails(printable: Printable) -> Iterator[Material]:
    """By gauge and length, with the places; at C one for each terminal that takes several wires."""
    words, known = printable.words, printable.asbuilt
    found: dict[tuple[str, str], list[tuple[int, Text]]] = defaultdict(list)
    places: tuple[BuiltBox | BuiltController, ...] = (*known.boxes, *known.controllers)
    for place in places:
        names: dict[tuple[str, str], list[str]] = defaultdict(list)
        for pigtail in place.pigtails:
            names[pigtail.gauge, pigtail.length].append(pigtail.id)
        for size, mine in names.items():
            found[size].append((len(mine), words.same(_at(place.id, mine))))
    for controller in known.controllers:
        for terminal in controller.terminals:
            if terminal.takes_pigtail:
                at_terminal = {"terminal": terminal.name, "controller": controller.id}
                where = words("materials.at terminal", **at_terminal)
                found[terminal.pigtail_gauge, ""].append((1, where))
    for (gauge, length), at in found.items():
        gauge_said = gauge or words("materials.gauge not given")
        length_said = length or words("materials.length not given")
        yield Material(
            group="connectors",
            what=words("materials.short wire", gauge=gauge_said, length=length_said),
            quantity=sum(number for number, _ in at),
            basis=words.joined([where for _, where in at], "; "),
        )


def _jumpers(printable: Printable) -> Iterator[Material]:
    """Between two terminals one, of three linked ones two."""
    groups = {each.id: each.jumpers for each in printable.asbuilt.controllers if each.jumpers}
    if groups:
        linked = ((name, [" + ".join(group) for group in each]) for name, each in groups.items())
        yield Material(
            group="connectors",
            what=printable.words("materials.jumper"),
            quantity=sum(len(group) - 1 for each in groups.values() for group in each),
            basis="; ".join(_at(name, each) for name, each in linked),
        )


def _at(place: str, names: Iterable[str]) -> str:
    """`VB-1: PT-1, PT-3`."""
    return f"{place}: {', '.join(names)}"
