"""Take in what a crew has entered: looked at, stored once, answered with its verdict."""

from __future__ import annotations

from starlette.responses import JSONResponse, RedirectResponse, Response

from cardgen.record.results_page import SIGNS
from cardgen.server.addresses import READINGS
from cardgen.server.asked import Asked, asked
from cardgen.server.entries import Conflict, Entry, Photo, Stored, add, entry_of
from cardgen.server.entry_fields import BadField, entry_from, is_reading, measured_of
from cardgen.server.entry_page import entry_form
from cardgen.server.photos import Unusable, fit_photo
from cardgen.server.readings_html import judged_of, next_step, title_of
from cardgen.server.visit import Refusal, Visit


def take_entry(visit: Visit) -> Response:
    """Store it; as JSON its verdict, else the way back to the form that shows it."""
    about = asked(visit)
    try:
        photo = _photo(visit)
        entry = entry_from(visit.form, about.job, visit.crew, photo=photo is not None)
        stored = _stored(visit, entry, photo)
    except BadField as wrong:
        if visit.json:
            text = about.text(f"wrong {wrong.name}", **wrong.values)
            return JSONResponse({"error": wrong.name, "sentence": text}, 400)
        return entry_form(visit, about, typed=visit.form, wrong=wrong)
    if visit.json:
        return JSONResponse(_told(about, stored))
    place = visit.form.get("place", "")
    back = about.to(READINGS, box=place, valve=stored.valve, saved=stored.id)
    return RedirectResponse(f"/{about.job.path}/{back}", 303)


def _stored(visit: Visit, entry: Entry, photo: Photo | None) -> Stored:
    """The entry as it is kept.

    An answer may have been lost, and another crew sends what is left on the phone, or another
    Pillow makes other bytes of the photo: it is the same entry, and its first sender's.

    Raises:
        Refusal: if its mark belongs to something else.
    """
    try:
        return add(visit.store, (entry,), network=visit.network, photo=photo)[0]
    except Conflict as fault:
        known = entry_of(visit.store, entry.id)
        if known is not None and _said(known) == _said(entry):
            return known
        raise Refusal(409, "conflict") from fault


def _said(entry: Entry) -> tuple[str, ...]:
    """Without who sent it."""
    place = (entry.job, entry.box, entry.valve)
    return (*place, entry.kind, entry.value, entry.notes, entry.said_at)


def _photo(visit: Visit) -> Photo | None:
    """A browser sends an empty file where none was chosen.

    Raises:
        BadField: if it is none that is kept.
    """
    sent = visit.files.get("photo")
    if sent is None or not sent.data:
        return None
    try:
        return fit_photo(sent.data)
    except Unusable as fault:
        raise BadField(fault.name) from fault


def _told(about: Asked, stored: Stored) -> dict[str, object]:
    """What the script shows of it."""
    told = {"id": stored.id, "sign": "✓", "title": about.text("report saved")}
    if not is_reading(stored):
        return {**told, "lines": ()}
    measured, words = measured_of(stored), about.page_words
    each = judged_of(about, measured)
    told["title"] = title_of(about, measured)
    if each is None:
        return {**told, "lines": ()}
    finding = each.finding
    lines = [words.of("verdict", finding.name, **finding.values), next_step(about, each)]
    if each.outdated_by is not None:
        lines.append(words("read before", revision=each.outdated_by))
    return {**told, "sign": SIGNS[finding.outcome], "lines": lines}
