"""Turn each coil into the tag that hangs beside it."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt import BuiltValve
from cardgen.cards import cautions
from cardgen.cards.card import Card, CardKind, FieldValue, Table, on_paper
from cardgen.cards.expected import (
    BOUND,
    LINE_FOR_WORDS,
    OHMS,
    TO_FILL_IN,
    by_place,
    in_parts,
    known,
    volts_at_valve,
)
from cardgen.cards.printable import Printable
from cardgen.light_dataclass import replace
from cardgen.words import Said, Text, Words, apart

_Row = tuple[Said, ...]  # unit, figure, and what belongs to it


def valve_tags(printable: Printable) -> Iterator[Card]:
    """One tag for each valve and relay, in the order of the file."""
    for valves in printable.asbuilt.stations.values():
        for valve in valves:
            yield Card(
                kind=CardKind.VALVE_TAG,
                id=valve.id,
                at=valve.box,
                owner=valve.station,
                names=tuple(dict.fromkeys((valve.station, valve.id))),
                controllers=valve.controllers,
                series="" if valve.kind == "valve" else "devices",
                span=printable.spans.valves[valve.id],
                fields=on_paper(_fields(printable, valve)),
            )


def _fields(printable: Printable, valve: BuiltValve) -> dict[str, FieldValue]:
    fields: dict[str, FieldValue] = {
        "headline": valve.id,
        "box_label": printable.words("valve tag.box"),
        "box": valve.box,
        "area": _what(printable.words, valve),
        "terminal": _landing(printable.words, valve),
        **printable.code_of(valve.box),
        "stamp": printable.stamp,
        **printable.warning,
    }
    fields |= _conductors(printable.words, valve)
    at = cautions.at_valves(printable.asbuilt, (valve,))
    for name, order in (("boxed", cautions.VALVE_TAG), ("boxed_short", cautions.SMALL_VALVE_TAG)):
        warnings = cautions.in_words(printable.words, order, at)
        lines: tuple[Said, ...] = (*warnings, *boxed_lines(printable.words, valve))
        if lines:
            fields[name] = lines
    twin = twin_line(printable, valve)
    if twin:
        fields["twin"] = twin
    return fields | _readings(printable.words, valve)


def _landing(words: Words, valve: BuiltValve) -> Text:
    """Where its hot lands: a terminal, a path, or the isolators of those that share it."""
    if valve.isolators:
        both, plus = words.list_of(valve.isolators), " + ".join(valve.isolators)
        shared = words("valve tag.shared", terminal=valve.terminal, controllers=both, plus=plus)
        return words.joined((shared, words("valve tag.isolators")))
    controller = words.labeled("valve tag.controller", valve.controller)
    if valve.decoder:
        return words.joined((controller, words("valve tag.path")))
    return words.joined((controller, words.labeled("valve tag.terminal", valve.terminal)))


def _conductors(words: Words, valve: BuiltValve) -> dict[str, FieldValue]:
    if valve.hot_unknown:
        return _to_fill_in(words, valve)
    if valve.hot is None or valve.back is None:
        return {}  # it has a decoder's leads
    fields: dict[str, FieldValue] = {}
    if valve.hot_changes and valve.hot_at_controller:
        fields["first"] = valve.hot_at_controller
        fields["first_label"] = words("valve tag.hot at controller")
    in_one_cable = valve.hot.cable == valve.back.cable  # the hot says already what marks it
    return fields | {
        "hot_label": words("valve tag.hot"),
        "hot": valve.hot,
        "common_label": _back(words, valve),
        "common": replace(valve.back, band="") if in_one_cable else valve.back,
    }


def _back(words: Words, valve: BuiltValve) -> Text:
    if valve.own_return:
        return words("valve tag.return")
    return words.labeled("valve tag.common", valve.controller)


def _to_fill_in(words: Words, valve: BuiltValve) -> dict[str, FieldValue]:
    """The color of a hot that is not known is written by hand, and that of a common likewise."""
    fields: dict[str, FieldValue] = {}
    if valve.hot_at_controller:
        fields["first"] = valve.hot_at_controller
        fields["first_label"] = words("valve tag.hot at controller")
    return fields | {
        "hot_label": words("valve tag.hot"),
        "hot": valve.hot or words("valve tag.color"),
        "common_label": _back(words, valve),
        "common": valve.back or words("valve tag.color"),
    }


def _what(words: Words, valve: BuiltValve) -> Said:
    """What it waters; in capitals, where it is no common valve."""
    area = area_of(words, valve)
    if area == TO_FILL_IN:
        return LINE_FOR_WORDS
    return area if valve.kind == "valve" else area.upper()


def area_of(words: Words, valve: BuiltValve) -> Said:
    """What it waters, in the words of the job, or what it is; a line where nobody knows it."""
    if valve.kind == "valve":
        return valve.area or TO_FILL_IN
    return words("terms.pump start relay" if valve.kind == "relay" else f"terms.{valve.kind}")


def boxed_lines(words: Words, valve: BuiltValve) -> tuple[Text, ...]:
    """What a hand must know before it touches this one."""
    return tuple(line for name in valve.musts for line in _must(words, valve, name))


def _must(words: Words, valve: BuiltValve, name: str) -> Iterator[Text]:
    """Nothing of what its area or its polarity says."""
    decoder = valve.decoder
    match name:
        case "master valve" | "latching" | "hot at controller":  # it has a field of its own
            return
        case "relay":
            yield words("valve tag.pump side")
        case "normally open":
            yield words("terms.normally open").upper()
        case "polarity":
            hot, common = map(words.color, valve.polarity)
            yield words("valve tag.latching", hot=hot, common=common)
        case "decoder" if decoder:
            yield words.labeled("valve tag.decoder", str(decoder.address))
            if decoder.serial:
                yield words.labeled("valve tag.serial", decoder.serial)
        case "tied":
            yield words("legend.tied", stations=words.list_of(valve.tied)).upper()
        case "device":
            yield words("terms.behind", device=valve.device).upper()
        case _:
            yield words(f"valve tag.{name}", **{name: valve.musts[name]})


def twin_line(printable: Printable, valve: BuiltValve) -> str:
    """`1 of 2 valves · other: A10b in VB-9`."""
    if not valve.others:
        return ""
    twins, words = printable.asbuilt.stations[valve.station], printable.words
    others = words.joined(
        words("valve tag.other", valve=other.id, box=other.box) for other in valve.others
    )
    count = words("valve tag.twin", number=twins.index(valve) + 1, count=len(twins))
    return apart((count, words.labeled("valve tag.others", others.printed)))


def _readings(words: Words, valve: BuiltValve) -> dict[str, FieldValue]:
    """What a meter must show, by the place where it is read.

    What else draws the current is a line of its own, or stands behind the current on a face that
    has `controller_readings_with`.
    """
    where = "isolators" if valve.isolators else "controller"
    on = words("valve tag.on")
    to_fill_in = (OHMS.strip(BOUND), TO_FILL_IN, "")
    ohms: list[_Row] = [in_parts(valve.ohms)] if valve.ohms else []
    if valve.lacks_ohms:
        ohms = [to_fill_in]
    amperes = known((by_place(valve),))
    current: list[_Row] = [("mA", each, "" if valve.has_two_currents else on) for each in amperes]
    at_coil: list[_Row] = [in_parts(valve.coil, is_coil=True)] if valve.coil else [to_fill_in]
    at_coil += [("V", volts, on) for volts in known((volts_at_valve(valve),))]
    fields: dict[str, FieldValue] = {}
    for name, title, rows in (
        ("controller_readings", f"at the {where}", ohms + current),
        ("coil_readings", "at the coil", at_coil),
    ):
        if rows:
            fields[name] = Table.of(("", "", ""), rows)
            fields[f"{name}_title"] = words(f"valve tag.{title}")
    if ohms or current:
        together = ((unit, figure, _on_with(words, valve)) for unit, figure, _ in current)
        fields["controller_readings_with"] = Table.of(("", "", ""), [*ohms, *together])
    if valve.runs_with and current:
        fields["runs_with"] = words("valve tag.with", others=words.list_of(valve.runs_with))
    return fields


def _on_with(words: Words, valve: BuiltValve) -> Said:
    """`on with MV-1 + PUMP`; behind `230 / 580 C` only what is in the second, `(MV-1)`."""
    if not valve.runs_with:
        return words("valve tag.on")
    others = " +\u00a0".join(valve.runs_with)
    return f"({others})" if valve.has_two_currents else words("valve tag.on with", plus=others)
