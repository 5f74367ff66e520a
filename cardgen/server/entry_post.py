"""Take in what a crew has entered: looked at, stored once, answered with its verdict."""

from __future__ import annotations

import json

from starlette.responses import JSONResponse, RedirectResponse, Response

from cardgen.record.results_page import SIGNS, outdated
from cardgen.server.addresses import READINGS
from cardgen.server.bad_field import BadField
from cardgen.server.entries import Conflict, CrewEntry, Photo, StoredEntry, add, entry_of
from cardgen.server.entry_fields import entry_from, is_reading, measured_of
from cardgen.server.entry_page import entry_form
from cardgen.server.http_error import HttpError
from cardgen.server.job_context import JobContext, job_context
from cardgen.server.photos import BadPhoto, fit_photo
from cardgen.server.readings_html import judged_of, next_step, title_of
from cardgen.server.request_context import RequestContext


def take_entry(request: RequestContext) -> Response:
    """Store it; as JSON its verdict, else the way back to the form that shows it."""
    context = job_context(request)
    try:
        photo = _photo(request)
        now_s = request.store.now()
        entry = entry_from(
            request.form,
            context.job,
            context.words,
            request.crew,
            photo=photo is not None,
            now_s=now_s,
        )
        stored = _stored(request, entry, photo)
    except BadField as wrong:
        if request.json:
            text = context.text(f"wrong {wrong.name}", **wrong.values)
            return JSONResponse({"error": wrong.name, "sentence": text}, 400)
        return entry_form(request, context, typed=request.form, wrong=wrong)
    if request.json:
        return JSONResponse(_told(context, stored))
    place = request.form.get("place", "")
    back = context.to(READINGS, box=place, valve=stored.valve, saved=stored.id)
    return RedirectResponse(f"/{context.job.path}/{back}", 303)


def _stored(request: RequestContext, entry: CrewEntry, photo: Photo | None) -> StoredEntry:
    """The entry as it is kept.

    An answer may have been lost, and another crew sends what is left on the phone, or another
    Pillow makes other bytes of the photo: it is the same entry, and its first sender's.

    Raises:
        HttpError: if its mark belongs to something else.
    """
    try:
        return add(request.store, (entry,), network=request.network, photo=photo)[0]
    except Conflict as fault:
        known = entry_of(request.store, entry.id)
        if known is not None and _place_and_value(known) == _place_and_value(entry):
            return known
        raise HttpError(409, "conflict") from fault


def _place_and_value(entry: CrewEntry) -> tuple[str, ...]:
    """Without who sent it."""
    place = (entry.record_key, entry.box, entry.valve)
    further = (str(text) for name, text in sorted(json.loads(entry.more).items()) if name != "by")
    return (*place, entry.kind, entry.value, entry.notes, entry.said_at, *further)


def _photo(request: RequestContext) -> Photo | None:
    """A browser sends an empty file where none was chosen.

    Raises:
        BadField: if it is none that is kept.
    """
    sent = request.files.get("photo")
    if sent is None or not sent.data:
        return None
    try:
        return fit_photo(sent.data)
    except BadPhoto as fault:
        raise BadField(fault.name) from fault


def _told(context: JobContext, stored: StoredEntry) -> dict[str, object]:
    """What the script shows of it."""
    told = {"id": stored.id, "sign": "✓", "title": context.text("report saved")}
    if not is_reading(stored):
        return {**told, "lines": ()}
    measured, words = measured_of(stored), context.page_words
    each = judged_of(context, measured)
    told["title"] = title_of(context, measured)
    if each is None:
        return {**told, "lines": ()}
    finding = each.finding
    lines = [words.of("verdict", finding.name, **finding.values), next_step(context, each)]
    if each.outdated_by is not None:
        lines.append(outdated(words, each))
    return {**told, "sign": SIGNS[finding.outcome], "lines": lines}
