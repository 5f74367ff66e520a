"""Read what is sent: not more than is allowed, not for ever, and only what can be understood."""

from __future__ import annotations

import asyncio
import io
from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import parse_qsl

from multipart import MultipartParser, parse_options_header
from starlette.requests import Request

from cardgen.server.http_error import HttpError

FORM = "application/x-www-form-urlencoded"
PARTS = "multipart/form-data"
# What a page takes at most.
FORM_BYTES, TABLE_BYTES, PHOTO_BYTES = 64 * 1024, 2 * 1024 * 1024, 8 * 1024 * 1024
# The slowest that is still waited for: 4 KB a second, after a start of 20 s (our choice: one bar
# of signal brings a photo of 1 MB in some minutes).
START_S, SLOWEST_BYTES_PER_S = 20.0, 4096
_MOST_FIELDS, _FIELD_BYTES = 200, 64 * 1024  # of one form


@dataclass(frozen=True, slots=True)
class Upload:
    """A file of a form; what its sender calls it and its kind is only a claim."""

    name: str
    media: str
    data: bytes


async def read_body(request: Request, max_bytes: int) -> bytes:
    """The whole body.

    Raises:
        HttpError: if it does not say its length, is too large, or takes too long.
    """
    told = request.headers.get("content-length", "")
    if not told.isascii() or not told.isdigit() or "transfer-encoding" in request.headers:
        raise HttpError(411, "length", headers={"Connection": "close"})
    if len(told) > 12 or int(told) > max_bytes:
        # What still comes is thrown away (see `http_server`), so that a browser shows the answer.
        raise HttpError(413, "large", most=max_bytes // 1024)
    try:
        async with asyncio.timeout(deadline_s(int(told))):
            return await request.body()
    except TimeoutError as error:
        raise HttpError(408, "slow", headers={"Connection": "close"}) from error


def deadline_s(length_bytes: int) -> float:
    """Seconds until so many bytes must be there."""
    return START_S + length_bytes / SLOWEST_BYTES_PER_S


def read_form(
    kind: str, body: bytes, field_bytes: int = _FIELD_BYTES
) -> tuple[Mapping[str, str], Mapping[str, Upload]]:
    """The fields and files of a form; none of what is no form.

    Args:
        kind: its `Content-Type`.
        field_bytes: the longest field of one with files.

    Raises:
        HttpError: if it cannot be read, or is not UTF-8.
    """
    media, options = parse_options_header(kind)
    try:
        if media == FORM:
            text = body.decode("ascii")
            pairs = parse_qsl(
                text, keep_blank_values=True, strict_parsing=bool(text), errors="strict",
                max_num_fields=_MOST_FIELDS,
            )  # fmt: skip
            return dict(pairs), {}
        if media == PARTS:
            return _parts(options.get("boundary", ""), body, field_bytes)
    except ValueError as error:  # all that the parsers raise are
        raise HttpError(400, "unread") from error
    return {}, {}


def _parts(
    boundary: str, body: bytes, field_bytes: int
) -> tuple[Mapping[str, str], Mapping[str, Upload]]:
    fields: dict[str, str] = {}
    files: dict[str, Upload] = {}
    most = max(1, len(body))  # all in memory: no photo is laid down in a file of its own
    parser = MultipartParser(
        io.BytesIO(body), boundary, len(body),
        part_limit=_MOST_FIELDS, spool_limit=most, memory_limit=most,
    )  # fmt: skip
    for part in parser:
        if part.filename is not None:
            files[part.name] = Upload(part.filename, part.content_type, part.raw)
        elif part.size <= field_bytes:
            fields[part.name] = part.raw.decode("utf-8")
        else:
            raise ValueError("too long a field")
    if len(files) > 1:
        raise ValueError("more than one file")
    return fields, files
