"""Set the page on which a crew writes down a reading, or that something differs from the tag."""

from __future__ import annotations

import json
import math
import uuid
from collections.abc import Iterable, Iterator, Mapping
from types import MappingProxyType
from urllib.parse import urlencode

from starlette.responses import Response

from cardgen.asbuilt import BuiltValve
from cardgen.record.html import Child, Markup, element
from cardgen.record.names import WORKER
from cardgen.record.page_frame import link
from cardgen.record.results_page import verdict_line
from cardgen.results import Kind, expected_band
from cardgen.results.measured import value_text
from cardgen.server.addresses import READINGS
from cardgen.server.crew_assets import ENTRY_SCRIPTS
from cardgen.server.entries import entry_of
from cardgen.server.entry_fields import DIFFERENCE, NOTES_MOST, BadField, is_reading, measured_of
from cardgen.server.job_context import JobContext, is_place, job_context, valves_at
from cardgen.server.page_shell import crew_page, form
from cardgen.server.photos import ACCEPTED, LONGEST_PX
from cardgen.server.readings_html import judged_of, kind_name, next_step, title_of
from cardgen.server.request_body import PHOTO_BYTES
from cardgen.server.request_context import LOGIN, RequestContext

KEYS = ("7", "8", "9", "4", "5", "6", "1", "2", "3", ".", "0", "OL", "clear")
_OTHER_FIELDS_BYTES = 64 * 1024  # bytes that come with a photo; our choice
_NOTHING: Mapping[str, str] = MappingProxyType({})


def entry_page(request: RequestContext) -> Response:
    """The empty form; above it the verdict of what was just saved without a script."""
    return entry_form(request, job_context(request))


def entry_form(
    request: RequestContext,
    context: JobContext,
    *,
    typed: Mapping[str, str] = _NOTHING,
    wrong: BadField | None = None,
) -> Response:
    """The page, with what was typed and what is wrong with it."""
    place = _place(request, context, typed)
    return crew_page(
        request,
        context,
        context.text("title"),
        _alert(context, wrong),
        element("div", id="said", hidden=True, role="status", aria_live="polite"),
        _saved(request, context),
        _state(context),
        element("div", id="waiting", class_="alert", hidden=True, role="status"),
        element("button", id="next", type="button", class_="quiet", hidden=True),
        element("ul", *_ways(request, context, place), class_="list"),
        _reading(request, context, place, typed),
        _difference(request, context, place, typed),
        scripts=ENTRY_SCRIPTS,
        status=400 if wrong else 200,
    )


def _place(request: RequestContext, context: JobContext, typed: Mapping[str, str]) -> str:
    """A box or controller of the job; empty for all of it."""
    asked_for = request.query.get("box", "") or typed.get("place", "")
    return asked_for if is_place(context.now, asked_for) else ""


def _ways(request: RequestContext, context: JobContext, place: str) -> Iterator[Markup]:
    """Back to the place, and to the login where that is needed."""
    if place:
        yield element("li", link(place, context.to_place(place)))
    if not request.crew:
        here = context.to(READINGS, box=place, valve=request.query.get("valve", ""))
        to = urlencode({"to": f"/{context.job.path}/{here}"})
        yield element("li", link(context.text("log in first"), f"{LOGIN}?{to}"))


def _alert(context: JobContext, wrong: BadField | None) -> Markup | None:
    if wrong is None:
        return None
    text = context.text(f"wrong {wrong.name}", **wrong.values)
    return element("p", text, class_="alert", role="alert")


def _saved(request: RequestContext, context: JobContext) -> Markup | None:
    entry = entry_of(request.store, request.query["saved"]) if "saved" in request.query else None
    if entry is None or entry.record_key != context.now.key:
        return None
    if not is_reading(entry):
        return element("p", context.text("report saved"), class_="verdict", role="status")
    measured = measured_of(entry)
    each = judged_of(context, measured)
    parts: tuple[Child, ...] = ()
    if each is not None:
        step = element("p", next_step(context, each))
        parts = (verdict_line(context.page_words, each), step)
    head = element("p", element("b", title_of(context, measured)))
    return element("div", head, *parts, class_="verdict", role="status")


def _state(context: JobContext) -> Markup:
    """What the scripts say and must know of the server; they hold no word and no address."""
    return element(
        "div",
        id="state",
        hidden=True,
        data_waits=context.text("waits", number="#number"),
        data_waits_one=context.text("waits one", number="#number"),
        data_login=context.text("log in to send"),
        data_offline=context.text("offline"),
        data_next=context.text("next valve", valve="#valve"),
        data_expected=context.text("expected", band="#band"),
        data_empty=context.text("wrong no value"),
        data_inside=context.text("inside"),
        data_outside=context.text("outside"),
        data_change=context.text("change it"),
        data_again=context.text("send again"),
        data_away=context.text("throw away"),
        data_sure=context.text("throw away sure"),
        data_large=context.text("wrong photo large"),
        data_login_page=LOGIN,
        data_worker=WORKER,
        data_photo_side=str(LONGEST_PX),
        data_photo_bytes=str(PHOTO_BYTES - _OTHER_FIELDS_BYTES),
    )


# ---- a reading -----------------------------------------------------------------------------


def _reading(
    request: RequestContext, context: JobContext, place: str, typed: Mapping[str, str]
) -> Markup | None:
    """Nothing where no valve is: there is nothing to measure."""
    valves = valves_at(context.now, place)
    if not valves:
        return None
    return form(
        request,
        context.to(READINGS),
        *_hidden(place),
        *_valves(context, valves, typed.get("valve", request.query.get("valve", ""))),
        _kinds(context, typed.get("kind", str(Kind.CONTROLLER))),
        element("p", context.page_words("how to read"), class_="small"),
        *_value(context, typed),
        _notes(context, "notes", "notes", typed if typed.get("kind") != DIFFERENCE else _NOTHING),
        _photo(context, "photo"),
        element("button", context.text("save")),
        id="entry",
        enctype="multipart/form-data",
        data_kept=True,
    )


def _hidden(place: str) -> Iterator[Markup]:
    """Sent twice by a hasty finger, the mark makes one of it; a script makes its own."""
    yield element("input", type="hidden", name="id", value=str(uuid.uuid4()))
    yield element("input", type="hidden", name="when", value="")
    yield element("input", type="hidden", name="place", value=place)


def _valves(context: JobContext, valves: Iterable[BuiltValve], chosen: str) -> Iterator[Markup]:
    """The valves of each box under its name."""
    by_box: dict[str, list[BuiltValve]] = {}
    for valve in valves:
        by_box.setdefault(valve.box, []).append(valve)
    only = len(by_box) == 1 and len(next(iter(by_box.values()))) == 1
    for box, found in by_box.items():
        tiles = (_valve(context, valve, checked=only or valve.id == chosen) for valve in found)
        legend = element("legend", context.text("valve in", box=box))
        yield element("fieldset", legend, *tiles, class_="tiles", data_box=box)


def _valve(context: JobContext, valve: BuiltValve, *, checked: bool) -> Markup:
    area = element("small", valve.area or context.words(f"record.kind {valve.kind}"))
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


# What is measured at every valve, at one tap each.
_OFFERED = (Kind.CONTROLLER, Kind.COIL, Kind.VOLTS, Kind.MILLIAMPERES, Kind.INSULATION)


def _kinds(context: JobContext, chosen: str) -> Markup:
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
            element("span", kind_name(context, kind), element("small", kind.unit)),
            class_="tile",
        )
        for kind in _OFFERED
    )
    return element("fieldset", element("legend", context.text("measured")), *tiles, class_="tiles")


def _value(context: JobContext, typed: Mapping[str, str]) -> Iterator[Markup]:
    yield element("label", context.text("value"), for_="f-value")
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
        element(
            "button", context.text("clear") if key == "clear" else key, type="button", value=key
        )
        for key in KEYS
    )
    yield element("div", *keys, id="keys", class_="keys", hidden=True)
    box = element("input", type="checkbox", name="ol", value="OL", checked=bool(typed.get("ol")))
    yield element("label", box, context.text("shows ol"), id="ol", class_="check")


def _notes(
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


def _photo(context: JobContext, id_: str) -> Markup:
    picker = element("input", type="file", id=f"f-{id_}", name="photo", accept=ACCEPTED)
    return element("div", element("label", context.text("photo"), for_=f"f-{id_}"), picker)


# ---- something differs ---------------------------------------------------------------------


def _difference(
    request: RequestContext, context: JobContext, place: str, typed: Mapping[str, str]
) -> Markup:
    ours = typed.get("kind") == DIFFERENCE
    wanted = ours or "report" in request.query
    fields: tuple[Child, ...] = (
        *_hidden(place),
        element("input", type="hidden", name="kind", value=DIFFERENCE),
        element("label", context.text("where"), for_="f-box"),
        _places(context, typed.get("box", "") or place),
        _notes(context, "what differs", "differs", typed if ours else _NOTHING),
        _photo(context, "other-photo"),
        element("button", context.text("report")),
    )
    action = context.to(READINGS)
    sent = form(request, action, *fields, enctype="multipart/form-data", data_kept=True)
    return element(
        "details", element("summary", context.text("differs")), sent, id="differs", open=wanted
    )


def _places(context: JobContext, chosen: str) -> Markup:
    known = [*context.now.box, *(each.id for each in context.now.controllers)]
    options = (element("option", id_, value=id_, selected=id_ == chosen) for id_ in known)
    return element("select", *options, id="f-box", name="box", class_="field")
