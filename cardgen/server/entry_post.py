"""Take in what a crew has entered: looked at, stored once, answered with its verdict."""

from __future__ import annotations

from urllib.parse import urlencode

from starlette.responses import JSONResponse, RedirectResponse, Response

from cardgen.server.asked import Asked, asked
from cardgen.server.entries import Conflict, Photo, Stored, add
from cardgen.server.entry_page import entry_form
from cardgen.server.photos import Unusable, fit_photo
from cardgen.server.said import Wrong, entry_from, is_reading, measured_of
from cardgen.server.shown import (
    READINGS,
    SIGNS,
    amount,
    finding_of,
    kind_name,
    next_step,
    sentence,
)
from cardgen.server.visit import Refusal, Visit


def take_entry(visit: Visit) -> Response:
    """Store it; as JSON its verdict, else the way back to the form that shows it."""
    about = asked(visit)
    try:
        photo = _photo(visit)
        entry = entry_from(visit.form, about.job, visit.crew, photo=photo is not None)
        (stored,) = add(visit.store, (entry,), network=visit.network, photo=photo)
    except Conflict as fault:
        raise Refusal(409, "conflict") from fault
    except Wrong as wrong:
        if visit.json:
            text = about.text(f"wrong {wrong.name}", **wrong.values)
            return JSONResponse({"error": wrong.name, "sentence": text}, 400)
        return entry_form(visit, about, typed=visit.form, wrong=wrong)
    if visit.json:
        return JSONResponse(_told(about, stored))
    back = {"box": visit.form.get("place", ""), "valve": stored.valve, "saved": stored.id}
    query = urlencode({name: value for name, value in back.items() if value})
    return RedirectResponse(f"{about.path}/{READINGS}?{query}", 303)


def _photo(visit: Visit) -> Photo | None:
    """A browser sends an empty file where none was chosen.

    Raises:
        Wrong: if it is none that is kept.
    """
    sent = visit.files.get("photo")
    if sent is None or not sent.data:
        return None
    try:
        return fit_photo(sent.data)
    except Unusable as fault:
        raise Wrong(fault.name) from fault


def _told(about: Asked, stored: Stored) -> dict[str, object]:
    """What the script shows of it."""
    if not is_reading(stored):
        return {"id": stored.id, "sign": "✓", "title": about.text("report saved"), "lines": []}
    measured = measured_of(stored)
    finding = finding_of(about, measured)
    title = f"{stored.valve}: {kind_name(about, stored.kind)}: {amount(measured)}"
    if finding is None:
        return {"id": stored.id, "sign": "✓", "title": title, "lines": []}
    said = [sentence(about, finding), next_step(about, finding.name, finding)]
    return {"id": stored.id, "sign": SIGNS[finding.outcome], "title": title, "lines": said}
