"""Set the page on which a crew writes down a reading, or that something differs from the tag."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from urllib.parse import urlencode

from starlette.responses import Response

from cardgen.record.html import Child, Markup, element
from cardgen.record.names import WORKER
from cardgen.record.page_frame import link
from cardgen.record.results_page import verdict_line
from cardgen.server.addresses import READINGS
from cardgen.server.bad_field import BadField
from cardgen.server.crew_assets import ENTRY_SCRIPTS
from cardgen.server.entries import entry_of
from cardgen.server.entry_fields import DIFFERENCE, is_reading, measured_of
from cardgen.server.entry_parts import (
    AT_CONTROLLER,
    IN_BOX,
    hidden_fields,
    notes,
    photo,
    reading_form,
)
from cardgen.server.job_context import JobContext, is_place, job_context
from cardgen.server.page_shell import crew_page, form
from cardgen.server.photos import LONGEST_PX
from cardgen.server.readings_html import judged_of, next_step, title_of
from cardgen.server.request_body import PHOTO_BYTES
from cardgen.server.request_context import LOGIN, RequestContext
from cardgen.server.waiting_part import waiting_list, waiting_state

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
        _log_in_first(request, context, place),
        _alert(context, wrong),
        _state(context),
        element(
            "div",
            waiting_list(),
            element("div", id="said", hidden=True, role="status", aria_live="polite"),
            _saved(request, context),
            reading_form(request, context, place, typed),
            class_="around-pad",
        ),
        _difference(request, context, place, typed),
        link(place, context.to_place(place)) if place else None,
        scripts=ENTRY_SCRIPTS,
        status=400 if wrong else 200,
        bar_first=False,
    )


def _place(request: RequestContext, context: JobContext, typed: Mapping[str, str]) -> str:
    """A box or controller of the job; empty for all of it."""
    asked_for = request.query.get("box", "") or typed.get("place", "")
    return asked_for if is_place(context.now, asked_for) else ""


def _log_in_first(request: RequestContext, context: JobContext, place: str) -> Markup | None:
    if request.crew:
        return None
    here = context.to(READINGS, box=place, valve=request.query.get("valve", ""))
    to = urlencode({"to": f"/{context.job.path}/{here}"})
    return link(context.text("log in first"), f"{LOGIN}?{to}")


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
    """On the page of the form also what that says and needs."""
    return waiting_state(
        context,
        data_skip=context.text("skip to", valve="#valve"),
        data_save_next=context.text("save and next", valve="#valve"),
        data_choose=context.text("wrong valve"),
        data_expected=context.text("expected", band="#band"),
        data_empty=context.text("wrong no value"),
        data_unclear=context.text("wrong value"),
        data_ends=context.text("wrong ends"),
        data_less_leads=context.text("less leads", ohms="#ohms"),
        data_inside=context.text("inside"),
        data_outside=context.text("outside"),
        data_of_day=context.text("of day", day="#day"),
        data_kept_already=context.text("kept already"),
        data_large=context.text("wrong photo large"),
        data_at_controller=str(AT_CONTROLLER),
        data_in_box=str(IN_BOX),
        data_worker=WORKER,
        data_photo_side=str(LONGEST_PX),
        data_photo_bytes=str(PHOTO_BYTES - _OTHER_FIELDS_BYTES),
    )


# ---- something differs ---------------------------------------------------------------------


def _difference(
    request: RequestContext, context: JobContext, place: str, typed: Mapping[str, str]
) -> Markup:
    ours = typed.get("kind") == DIFFERENCE
    wanted = ours or "report" in request.query
    fields: tuple[Child, ...] = (
        *hidden_fields(place),
        element("input", type="hidden", name="kind", value=DIFFERENCE),
        element("label", context.text("where"), for_="f-box"),
        _places(context, typed.get("box", "") or place),
        notes(context, "what differs", "differs", typed if ours else _NOTHING),
        photo(context, "other-photo"),
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
