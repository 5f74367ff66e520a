"""Set the page on which a crew writes down a reading, or that something differs from the tag."""

from __future__ import annotations

import json
import math
import uuid
from collections.abc import Iterable, Iterator, Mapping
from types import MappingProxyType
from urllib.parse import urlencode

from starlette.responses import Response

from cardgen.asbuilt.model import BuiltValve
from cardgen.record.frame import go
from cardgen.record.html import Child, Markup, element
from cardgen.record.results_page import verdict_line
from cardgen.results import Kind, expected_band
from cardgen.results.model import value_text
from cardgen.server.entries import entry_of
from cardgen.server.entry_script import SCRIPT
from cardgen.server.frame import form
from cardgen.server.job_context import JobContext as Asked
from cardgen.server.job_context import is_place, valves_at
from cardgen.server.job_context import job_context as asked
from cardgen.server.photos import ACCEPTED
from cardgen.server.request_context import LOGIN
from cardgen.server.request_context import RequestContext as Visit
from cardgen.server.said import DIFFERENCE, NOTES_MOST, BadField, is_reading, measured_of
from cardgen.server.shown import READINGS, judged_of, kind_name, next_step, page, title_of

KEYS = ("7", "8", "9", "4", "5", "6", "1", "2", "3", ".", "0", "OL", "clear")
_NOTHING: Mapping[str, str] = MappingProxyType({})


def entry_page(visit: Visit) -> Response:
    """The empty form; above it the verdict of what was just saved without a script."""
    return entry_form(visit, asked(visit))


def entry_form(
    visit: Visit,
    about: Asked,
    *,
    typed: Mapping[str, str] = _NOTHING,
    wrong: BadField | None = None,
) -> Response:
    """The page, with what was typed and what is wrong with it."""
    place = _place(visit, about, typed)
    return page(
        visit,
        about,
        about.text("title"),
        _alert(about, wrong),
        element("div", id="said", hidden=True, role="status", aria_live="polite"),
        _saved(visit, about),
        _state(about),
        element("div", id="waiting", class_="alert", hidden=True, role="status"),
        element("button", id="next", type="button", class_="quiet", hidden=True),
        element("ul", *_ways(visit, about, place), class_="list"),
        _reading(visit, about, place, typed),
        _difference(visit, about, place, typed),
        scripts=(SCRIPT,),
        status=400 if wrong else 200,
    )


def _place(visit: Visit, about: Asked, typed: Mapping[str, str]) -> str:
    """A box or controller of the job; empty for all of it."""
    asked_for = visit.query.get("box", "") or typed.get("place", "")
    return asked_for if is_place(about.now, asked_for) else ""


def _ways(visit: Visit, about: Asked, place: str) -> Iterator[Markup]:
    """Back to the place, and to the login where that is needed."""
    if place:
        yield element("li", go(place, about.to_place(place)))
    if not visit.crew:
        here = about.to(READINGS, box=place, valve=visit.query.get("valve", ""))
        to = urlencode({"to": f"/{about.job.path}/{here}"})
        yield element("li", go(about.text("log in first"), f"{LOGIN}?{to}"))


def _alert(about: Asked, wrong: BadField | None) -> Markup | None:
    if wrong is None:
        return None
    text = about.text(f"wrong {wrong.name}", **wrong.values)
    return element("p", text, class_="alert", role="alert")


def _saved(visit: Visit, about: Asked) -> Markup | None:
    entry = entry_of(visit.store, visit.query["saved"]) if "saved" in visit.query else None
    if entry is None or entry.job != about.now.key:
        return None
    if not is_reading(entry):
        return element("p", about.text("report saved"), class_="verdict", role="status")
    measured = measured_of(entry)
    each = judged_of(about, measured)
    parts: tuple[Child, ...] = ()
    if each is not None:
        step = element("p", next_step(about, each))
        parts = (verdict_line(about.page_words, each), step)
    head = element("p", element("b", title_of(about, measured)))
    return element("div", head, *parts, class_="verdict", role="status")


def _state(about: Asked) -> Markup:
    """What the script says, so that it holds no word."""
    return element(
        "div",
        id="state",
        hidden=True,
        data_waits=about.text("waits", number="#number"),
        data_waits_one=about.text("waits one", number="#number"),
        data_login=about.text("log in to send"),
        data_offline=about.text("offline"),
        data_next=about.text("next valve", valve="#valve"),
        data_expected=about.text("expected", band="#band"),
        data_empty=about.text("wrong no value"),
        data_inside=about.text("inside"),
        data_outside=about.text("outside"),
        data_change=about.text("change it"),
        data_again=about.text("send again"),
        data_away=about.text("throw away"),
        data_sure=about.text("throw away sure"),
        data_large=about.text("wrong photo large"),
    )


# ---- a reading -----------------------------------------------------------------------------


def _reading(visit: Visit, about: Asked, place: str, typed: Mapping[str, str]) -> Markup | None:
    """Nothing where no valve is: there is nothing to measure."""
    valves = valves_at(about.now, place)
    if not valves:
        return None
    return form(
        visit,
        about.to(READINGS),
        *_hidden(place),
        *_valves(about, valves, typed.get("valve", visit.query.get("valve", ""))),
        _kinds(about, typed.get("kind", str(Kind.CONTROLLER))),
        element("p", about.page_words("how to read"), class_="small"),
        *_value(about, typed),
        _notes(about, "notes", "notes", typed if typed.get("kind") != DIFFERENCE else _NOTHING),
        _photo(about, "photo"),
        element("button", about.text("save")),
        id="entry",
        enctype="multipart/form-data",
        data_kept=True,
    )


def _hidden(place: str) -> Iterator[Markup]:
    """Sent twice by a hasty finger, the mark makes one of it; a script makes its own."""
    yield element("input", type="hidden", name="id", value=str(uuid.uuid4()))
    yield element("input", type="hidden", name="when", value="")
    yield element("input", type="hidden", name="place", value=place)


def _valves(about: Asked, valves: Iterable[BuiltValve], chosen: str) -> Iterator[Markup]:
    """The valves of each box under its name."""
    by_box: dict[str, list[BuiltValve]] = {}
    for valve in valves:
        by_box.setdefault(valve.box, []).append(valve)
    only = len(by_box) == 1 and len(next(iter(by_box.values()))) == 1
    for box, found in by_box.items():
        tiles = (_valve(about, valve, checked=only or valve.id == chosen) for valve in found)
        legend = element("legend", about.text("valve in", box=box))
        yield element("fieldset", legend, *tiles, class_="tiles", data_box=box)


def _valve(about: Asked, valve: BuiltValve, *, checked: bool) -> Markup:
    area = element("small", valve.area or about.words(f"record.kind {valve.kind}"))
    return element(
        "label",
        element(
            "input",
            type="radio",
            name="valve",
            value=valve.id,
            required=True,
            checked=checked,
            data_box=valve.box,
            data_controller=valve.controller,
            data_bands=json.dumps(dict(_bands(valve)), ensure_ascii=False),
        ),
        element("span", valve.id, area),
        class_="tile",
    )


def _bands(valve: BuiltValve) -> Iterator[tuple[str, tuple[float, float | None, str]]]:
    """By kind: the ends, and how they are shown; JSON has no infinity."""
    for kind in Kind:
        band = expected_band(kind, valve)
        if band is not None:
            low, high = band
            ends = [value_text(end) for end in band if end != math.inf]
            yield kind, (low, None if high == math.inf else high, f"{'–'.join(ends)} {kind.unit}")


def _kinds(about: Asked, chosen: str) -> Markup:
    tiles = (
        element(
            "label",
            element(
                "input",
                type="radio",
                name="kind",
                value=str(kind),
                required=True,
                checked=kind == chosen,
            ),
            element("span", kind_name(about, kind), element("small", kind.unit)),
            class_="tile",
        )
        for kind in Kind
    )
    return element("fieldset", element("legend", about.text("measured")), *tiles, class_="tiles")


def _value(about: Asked, typed: Mapping[str, str]) -> Iterator[Markup]:
    yield element("label", about.text("value"), for_="f-value")
    yield element(
        "input",
        id="f-value",
        name="value",
        class_="field value",
        inputmode="decimal",
        autocomplete="off",
        maxlength="14",
        value=typed.get("value", ""),
    )
    yield element("p", id="hint", aria_live="polite")
    keys = (
        element("button", about.text("clear") if key == "clear" else key, type="button", value=key)
        for key in KEYS
    )
    yield element("div", *keys, id="keys", class_="keys", hidden=True)
    box = element("input", type="checkbox", name="ol", value="OL", checked=bool(typed.get("ol")))
    yield element("label", box, about.text("shows ol"), id="ol", class_="check")


def _notes(about: Asked, label: str, id_: str, typed: Mapping[str, str], **more: bool) -> Markup:
    area = element(
        "textarea",
        typed.get("notes", ""),
        id=f"f-{id_}",
        name="notes",
        class_="field",
        maxlength=str(NOTES_MOST),
        **more,
    )
    return element("div", element("label", about.text(label), for_=f"f-{id_}"), area)


def _photo(about: Asked, id_: str) -> Markup:
    picker = element("input", type="file", id=f"f-{id_}", name="photo", accept=ACCEPTED)
    return element("div", element("label", about.text("photo"), for_=f"f-{id_}"), picker)


# ---- something differs ---------------------------------------------------------------------


def _difference(visit: Visit, about: Asked, place: str, typed: Mapping[str, str]) -> Markup:
    ours = typed.get("kind") == DIFFERENCE
    wanted = ours or "report" in visit.query
    fields: tuple[Child, ...] = (
        *_hidden(place),
        element("input", type="hidden", name="kind", value=DIFFERENCE),
        element("label", about.text("where"), for_="f-box"),
        _places(about, typed.get("box", "") or place),
        _notes(about, "what differs", "differs", typed if ours else _NOTHING),
        _photo(about, "other-photo"),
        element("button", about.text("report")),
    )
    action = about.to(READINGS)
    sent = form(visit, action, *fields, enctype="multipart/form-data", data_kept=True)
    return element(
        "details", element("summary", about.text("differs")), sent, id="differs", open=wanted
    )


def _places(about: Asked, chosen: str) -> Markup:
    known = [*about.now.box, *(each.id for each in about.now.controllers)]
    options = (element("option", id_, value=id_, selected=id_ == chosen) for id_ in known)
    return element("select", *options, id="f-box", name="box", class_="field")
