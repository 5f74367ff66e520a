"""Say what the prints would have to say if it is the job file that is wrong, or is to follow."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt import AsBuilt, BuiltValve
from cardgen.diagnosis import FaultKind, SuspectedFault
from cardgen.words import Text, Words

# By kind what says something else once the job file is corrected; the order is that of a crew.
_PRINTS = {
    FaultKind.EXCHANGED: ("tags", "flags", "legends", "splice cards"),
    FaultKind.MOVED_ON: ("tags", "flags", "legends", "splice cards"),
    FaultKind.SECOND_COIL: ("tags", "splice cards", "legends", "test sheets"),
    FaultKind.WRONG_BOX: ("tags", "flags", "box tags", "splice cards", "legends"),
    FaultKind.WRONG_LENGTH: ("tags", "legends", "test sheets"),
    FaultKind.WRONG_GAUGE: ("tags", "splice cards", "legends", "test sheets"),
    FaultKind.WRONG_COIL: ("tags", "legends", "test sheets"),
}


def reprint(words: Words, known: AsBuilt, fault: SuspectedFault) -> Text | None:
    """`If the wires stay as they are, swap ... in the job file. Then print again: ...`."""
    if fault.kind not in _PRINTS:
        return None
    valves = [known.valve[name] for name in _concerned(known, fault) if name in known.valve]
    named = words.list_of(fault.valves or [site.conductor for site in fault.sites])
    prints = words.list_of(list(_prints(words, known, fault, valves)))
    return words.joined(
        (
            words(f"diagnosis.reprint {fault.kind}", what=named),
            words("diagnosis.print again", prints=prints, revision=known.revision),
        ),
        " ",
    )


def _concerned(known: AsBuilt, fault: SuspectedFault) -> tuple[str, ...]:
    """Those named; of a length or a size all whose way has that conductor."""
    if fault.kind not in (FaultKind.WRONG_LENGTH, FaultKind.WRONG_GAUGE):
        return fault.valves
    conductors = {site.conductor for site in fault.sites}
    return tuple(
        valve.id
        for valve in known.in_order
        if any(step.name in conductors for step in (*valve.hot_way, *valve.back_way))
    )


def _prints(
    words: Words, known: AsBuilt, fault: SuspectedFault, valves: list[BuiltValve]
) -> Iterator[Text]:
    sites = (place for site in fault.sites for place in (site.start, site.end))
    boxes = [p for p in dict.fromkeys((*(v.box for v in valves), *sites)) if p in known.box]
    of = {
        "tags": [valve.id for valve in valves],
        "flags": [valve.station for valve in valves],
        "box tags": boxes,
        "splice cards": boxes,
        "legends": [valve.controller for valve in valves],
        "test sheets": [valve.controller for valve in valves],
    }
    for name in _PRINTS[fault.kind]:
        things = list(dict.fromkeys(of[name]))
        if things:
            named = words.list_of(things)
            yield words.count(f"diagnosis.print {name}", len(things), names=named)
