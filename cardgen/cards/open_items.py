"""Turn what is not known, not measured or not as it should be into rows: what, and where."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cardgen.asbuilt.gaps import gaps
from cardgen.asbuilt.model.as_built import OwnerFinding
from cardgen.asbuilt.model.built_valves import BuiltValve
from cardgen.cards.printable import Printable
from cardgen.english_lists import runs
from cardgen.units import SupplyKind
from cardgen.words import Text, Words

Row = tuple[Text, Text]
MOST = 24  # names, or runs of names, in one row: the list must stay short (ours)
# What a test sheet has room for, by what drives the coils.
READINGS = {
    SupplyKind.AC: ("ohms at the controller", "volts", "milliamperes", "insulation"),
    SupplyKind.LATCHING: ("ohms at the controller", "insulation"),
    SupplyKind.TWO_WIRE: ("ohms at the coil", "insulation"),
}


def open_items(printable: Printable) -> Iterator[Row]:
    """What somebody has still to do: first what the check warns of, then what is blank."""
    known = printable.asbuilt
    found = [finding for finding in known.findings if finding.is_open]
    for finding in (*found, *gaps(known)):
        yield _row(printable.words, finding)
    yield from _not_measured(printable)
    spares = [spare.id for spare in known.spares if not spare.dead]
    for code, things in (("spare loops", spares), ("grounds", known.surge_units)):
        if things:
            yield _row(printable.words, OwnerFinding(code=code, things=tuple(things)))


def good_to_know(printable: Printable) -> Iterator[Row]:
    """What is right as it is, but must be known before somebody works on it."""
    for finding in printable.asbuilt.findings:
        if not finding.is_open:
            yield _row(printable.words, finding)


def _row(words: Words, finding: OwnerFinding) -> Row:
    return words(f"open item.{finding.code}"), _listed(words, finding.things)


def _listed(words: Words, things: Iterable[str]) -> Text:
    """All of them, or the first and how many more."""
    names = list(dict.fromkeys(things))
    shown = list(runs(names))[:MOST]
    last = names.index(shown[-1][-1]) + 1
    listed = words.list_of(names[:last])
    left = len(names) - last
    return words("open item.more", names=listed, number=left) if left else listed


def _not_measured(printable: Printable) -> Iterator[Row]:
    """Stations together that lack the same readings."""
    lacking: dict[tuple[str, ...], list[str]] = {}
    for valve in printable.asbuilt.in_order:
        if kinds := _blank_readings(printable, valve):
            lacking.setdefault(kinds, []).append(valve.id)
    words = printable.words
    for kinds, valves in lacking.items():
        what = words.list_of(words.named("open item", kinds))
        yield words("open item.not measured", what=what), _listed(words, valves)


def _blank_readings(printable: Printable, valve: BuiltValve) -> tuple[str, ...]:
    """Behind a device ohms mean nothing."""
    supply = SupplyKind(printable.asbuilt.controller[valve.controller].supply_kind)
    read = printable.measured.get(valve.id, {})
    return tuple(
        kind
        for kind in READINGS[supply]
        if kind not in read and not (valve.device and kind == "ohms at the controller")
    )
