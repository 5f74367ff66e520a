"""Send all that was entered of a job as one ZIP file, piece by piece: the same bytes each time."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Sequence
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

from starlette.responses import Response, StreamingResponse

from cardgen.results import results_csv
from cardgen.results.csv_out import harmless
from cardgen.server.entries import StoredEntry, entries, photo_of
from cardgen.server.entry_fields import by, is_reading, measured_of, when, withdrawn
from cardgen.server.http_error import HttpError
from cardgen.server.job_context import job_context
from cardgen.server.request_context import RequestContext
from cardgen.server.store import Store

_FIRST_DAY = (1980, 1, 1, 0, 0, 0)  # the earliest a ZIP file can say; no clock enters it
_REPORT_COLUMNS = ("id", "when", "job", "box", "by", "what", "closed", "photo")


def export_all(request: RequestContext) -> Response:
    """Readings and reports as tables, photos by the id of their entry."""
    if not request.is_office:
        raise HttpError(403, "office only")
    context = job_context(request)
    found = entries(request.store, context.now.key)
    name = re.sub("[^A-Za-z0-9.-]", "", f"{context.now.job_code}-{context.now.key}-entries.zip")
    return StreamingResponse(
        _pieces(request.store, found),
        headers={"Content-Disposition": f'attachment; filename="{name}"'},
        media_type="application/zip",
    )


class _Outbox(io.RawIOBase):
    """What was written and is not sent yet; it can only be written on."""

    def __init__(self) -> None:
        super().__init__()
        self._data = bytearray()

    def writable(self) -> bool:
        return True

    def write(self, data: object) -> int:
        piece = bytes(data)  # type: ignore[call-overload]  # any buffer
        self._data += piece
        return len(piece)

    def taken(self) -> bytes:
        piece, self._data = bytes(self._data), bytearray()
        return piece


def _pieces(store: Store, found: Sequence[StoredEntry]) -> Iterator[bytes]:
    """No more than one photo is in memory at a time."""
    outbox = _Outbox()
    with ZipFile(outbox, "w") as archive:
        readings = results_csv(measured_of(entry) for entry in found if is_reading(entry))
        archive.writestr(_member("readings.csv", ZIP_DEFLATED), readings)
        reports = [entry for entry in found if not is_reading(entry)]
        archive.writestr(_member("reports.csv", ZIP_DEFLATED), _reports_csv(reports))
        yield outbox.taken()
        for entry in found:
            photo = photo_of(store, entry.id) if entry.photo else None
            if photo is not None:
                archive.writestr(_member(_photo_name(entry), ZIP_STORED), photo.data)
                yield outbox.taken()
    yield outbox.taken()


def _member(name: str, method: int) -> ZipInfo:
    info = ZipInfo(name, _FIRST_DAY)
    info.compress_type = method
    return info


def _photo_name(entry: StoredEntry) -> str:
    return f"photos/{entry.id}.jpg"


def _reports_csv(reports: Sequence[StoredEntry]) -> bytes:
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(_REPORT_COLUMNS)
    for entry in reports:
        photo = _photo_name(entry) if entry.photo else ""
        cells = (entry.id, when(entry), entry.record_key, entry.box, by(entry), entry.notes)
        writer.writerow([harmless(cell) for cell in (*cells, withdrawn(entry), photo)])
    return stream.getvalue().encode()
