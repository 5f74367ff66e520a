"""Set the form of a reading: the valves, then value, keys and buttons that stay in view."""

from __future__ import annotations

import json
import math
import uuid
from collections.abc import Iterable, Iterator, Mapping

from cardgen.asbuilt import BuiltValve
from cardgen.record.html import Markup, element
from cardgen.results import Kind, expected_band
from cardgen.results.measured import value_text
from cardgen.server.addresses import READINGS
from cardgen.server.entry_conditions import conditions_part
from cardgen.server.entry_fields import DIFFERENCE, NOTES_MOST
from cardgen.server.entry_kinds import MARKS, ends_part, kinds_part
from cardgen.server.job_context import JobContext, valves_at
from cardgen.server.page_shell import form
from cardgen.server.photos import ACCEPTED
from cardgen.server.request_context import RequestContext
from cardgen.server.shared_terminals import AT_TERMINAL, coils_of, is_shared, strip_order

DIGITS = ("7", "8", "9", "4", "5", "6", "1", "2", "3", ".", "0", "clear")
# What is measured where one stands: the wires are lifted at the terminals, the coil is in the box.
AT_CONTROLLER, IN_BOX = Kind.CONTROLLER, Kind.COIL


def reading_form(
    request: RequestContext, context: JobContext, place: str, typed: Mapping[str, str]
) -> Markup | None:
    """Nothing where no valve is: there is nothing to measure."""
    if not valves_at(context.now, place):
        return None
    typed = typed if typed.get("kind") != DIFFERENCE else {}
    usual = IN_BOX if place in context.now.box else AT_CONTROLLER
    chosen = typed.get("valve", request.query.get("valve", ""))
    return form(
        request,
        context.to(READINGS),
        *hidden_fields(place),
        _valves(context, place, chosen),
        _pad(context, place, typed, typed.get("kind", usual)),
        element("p", context.page_words("how to read"), class_="small"),
        conditions_part(context, typed),
        notes(context, "notes", "notes", typed),
        photo(context, "photo"),
        _day(context, typed),
        id="entry",
        enctype="multipart/form-data",
        data_kept=True,
    )


def hidden_fields(place: str) -> Iterator[Markup]:
    """Sent twice by a hasty finger, the mark makes one of it; a script makes its own."""
    yield element("input", type="hidden", name="id", value=str(uuid.uuid4()))
    yield element("input", type="hidden", name="when", value="")
    yield element("input", type="hidden", name="place", value=place)


# ---- the valves ----------------------------------------------------------------------------


def _valves(context: JobContext, place: str, chosen: str) -> Markup:
    """In boxes one measures coils; at a controller a terminal has one reading for all its coils.

    The page of no place is kept on phones, and shows those of the place at which it is opened.
    """
    now, valves = context.now, valves_at(context.now, place)
    at_strip = bool(place) and place not in now.box
    shared = dict.fromkeys(v.station for v in valves if is_shared(v) and place not in now.box)
    only = len(valves) == 1 or (at_strip and len({valve.station for valve in valves}) == 1)
    order = strip_order(now)
    coils = {
        valve.id: _coil(context, valve, order, checked=only or valve.id == chosen)
        for valve in valves
    }
    terminals = {t: _terminal(context, t, order, checked=only or t == chosen) for t in shared}
    if at_strip:
        stations = sorted(
            {valve.station for valve in valves}, key=lambda s: order.get(s, len(order))
        )
        first = {valve.station: coils[valve.id] for valve in valves}
        tiles = [terminals.get(station) or first[station] for station in stations]
        sets = [_tiles(context.text("terminals of", controller=place), tiles)]
    else:
        boxes = dict.fromkeys(valve.box for valve in valves)
        sets = [
            _tiles(context.text("valve in", box=b), [coils[v.id] for v in valves if v.box == b])
            for b in boxes
        ]
        sets += [_tiles(context.text("terminals"), terminals.values())] if terminals else []
    summary = element("summary", context.text("choose valve"))
    return element("details", summary, *sets, id="valves", open=True)


def _tiles(legend: str, tiles: Iterable[Markup]) -> Markup:
    return element("fieldset", element("legend", legend), *tiles, class_="tiles")


def _coil(
    context: JobContext, valve: BuiltValve, order: Mapping[str, int], *, checked: bool
) -> Markup:
    area = valve.area or context.words(f"record.kind {valve.kind}").printed
    bands = dict(_bands(valve, Kind))
    shared = valve.station if is_shared(valve) else None
    rank = order.get(valve.station, len(order))
    tile = _tile(valve.id, area, bands, valve.controller, rank, checked=checked)
    return element("label", *tile, class_="tile", data_box=valve.box, data_terminal=shared)


def _terminal(context: JobContext, name: str, order: Mapping[str, int], *, checked: bool) -> Markup:
    coils = coils_of(context.now, name)
    bands = dict(_bands(coils[0], (kind for kind in Kind if kind in AT_TERMINAL)))
    about = ", ".join(coil.id for coil in coils)
    rank = order.get(name, len(order))
    tile = _tile(name, about, bands, coils[0].controller, rank, checked=checked)
    return element("label", *tile, class_="tile")


def _tile(
    name: str, about: str, bands: Mapping[str, object], controller: str, rank: int, *, checked: bool
) -> tuple[Markup, Markup]:
    box = element(
        "input",
        type="radio",
        name="valve",
        value=name,
        required=True,
        checked=checked,
        data_controller=controller,
        data_rank=str(rank),
        data_about=about,
        data_bands=json.dumps(bands, ensure_ascii=False),
    )
    return box, element("span", name, element("small", about))


def _bands(
    valve: BuiltValve, kinds: Iterable[Kind]
) -> Iterator[tuple[str, tuple[float, float | None, str]]]:
    """By kind: the ends, and how they are shown; JSON has no infinity."""
    for kind in kinds:
        band = expected_band(kind, valve)
        if band is not None:
            low, high = band
            ends = [value_text(end) for end in band if end != math.inf]
            yield kind, (low, None if high == math.inf else high, f"{'–'.join(ends)} {kind.unit}")


# ---- the value and its keys ----------------------------------------------------------------


def _pad(context: JobContext, place: str, typed: Mapping[str, str], kind: str) -> Markup:
    """What is pressed for each valve of a walk, in one view."""
    label = element("label", context.text("measured"), for_="f-kind", class_="hidden-label")
    return element(
        "div",
        element("output", id="valve-name"),
        label,
        kinds_part(context, kind),
        *ends_part(context, place, typed),
        *_value(context, typed),
        element("p", id="hint", aria_live="polite"),
        _keys(context),
        element("button", context.text("save"), id="save"),
        element("button", id="next", type="button", class_="quiet", hidden=True),
        class_="pad",
    )


def _value(context: JobContext, typed: Mapping[str, str]) -> Iterator[Markup]:
    yield element("label", context.text("value"), for_="f-value", class_="hidden-label")
    yield element(
        "input",
        id="f-value",
        name="value",
        class_="field value",
        inputmode="decimal",
        autocomplete="off",
        maxlength="20",
        value=typed.get("value", ""),
    )
    box = element("input", type="checkbox", name="ol", value="OL", checked=bool(typed.get("ol")))
    yield element("label", box, context.text("shows ol"), id="ol", class_="check")


def _keys(context: JobContext) -> Markup:
    def key(name: str) -> Markup:
        text = context.text("clear") if name == "clear" else name
        return element("button", text, type="button", value=name)

    digits = element("div", *map(key, DIGITS), class_="digits")
    return element(
        "div",
        digits,
        element("div", *map(key, MARKS), class_="marks"),
        id="keys",
        class_="keys",
        hidden=True,
    )


# ---- what is not needed for each -----------------------------------------------------------


def notes(
    context: JobContext, label: str, id_: str, typed: Mapping[str, str], **more: bool
) -> Markup:
    area = element(
        "textarea",
        typed.get("notes", ""),
        id=f"f-{id_}",
        name="notes",
        class_="field",
        maxlength=str(NOTES_MOST),
        **more,
    )
    return element("div", element("label", context.text(label), for_=f"f-{id_}"), area)


def photo(context: JobContext, id_: str) -> Markup:
    picker = element("input", type="file", id=f"f-{id_}", name="photo", accept=ACCEPTED)
    return element("div", element("label", context.text("photo"), for_=f"f-{id_}"), picker)


def _day(context: JobContext, typed: Mapping[str, str]) -> Markup:
    """Of a sheet of paper that is typed in later; it stays until it is emptied."""
    picker = element(
        "input", type="date", id="f-day", name="day", class_="field", value=typed.get("day", "")
    )
    return element("div", element("label", context.text("day of paper"), for_="f-day"), picker)
