"""Read what is sent: not more than is allowed, not for ever, and only what can be understood."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncGenerator, Mapping
from urllib.parse import parse_qsl

from starlette.formparsers import MultiPartException, MultiPartParser
from starlette.requests import Request

from cardgen.server.visit import FORM, PARTS, Refusal, Upload

# The slowest that is still waited for: 4 KB a second, after a start of 20 s (our choice: one bar
# of signal brings a photo of 1 MB in some minutes).
_START, _SLOWEST = 20.0, 4096
_FIELDS = 200  # of one form


async def read_body(request: Request, most: int) -> bytes:
    """The whole body.

    Raises:
        Refusal: if it does not say its length, is too large, or takes too long.
    """
    told = request.headers.get("content-length", "")
    if not told.isascii() or not told.isdigit() or "transfer-encoding" in request.headers:
        raise Refusal(411, "length", headers={"Connection": "close"})
    if len(told) > 12 or int(told) > most:
        # What still comes is thrown away (see `wire`), so that a browser shows the answer.
        raise Refusal(413, "large", most=most // 1024)
    body = bytearray()
    try:
        async with asyncio.timeout(deadline(int(told))):
            async for chunk in request.stream():
                body += chunk
    except TimeoutError as error:
        raise Refusal(408, "slow", headers={"Connection": "close"}) from error
    return bytes(body)


def deadline(length: int) -> float:
    """Seconds until so many bytes must be there."""
    return _START + length / _SLOWEST


async def read_form(
    request: Request, media: str, body: bytes
) -> tuple[Mapping[str, str], Mapping[str, Upload]]:
    """The fields and files of a form; none of what is no form.

    Raises:
        Refusal: if it cannot be read, or is not UTF-8.
    """
    try:
        if media == FORM:
            text = body.decode("ascii")
            pairs = parse_qsl(
                text, keep_blank_values=True, strict_parsing=bool(text), errors="strict",
                max_num_fields=_FIELDS,
            )  # fmt: skip
            return dict(pairs), {}
        if media == PARTS:
            return await _parts(request, body)
    except (ValueError, MultiPartException) as error:
        raise Refusal(400, "unread") from error
    return {}, {}


async def _parts(request: Request, body: bytes) -> tuple[Mapping[str, str], Mapping[str, Upload]]:
    async def stream() -> AsyncGenerator[bytes, None]:
        yield body

    parser = MultiPartParser(
        request.headers, stream(), max_files=1, max_fields=_FIELDS, max_part_size=64 * 1024
    )
    form = await parser.parse()
    # The parser takes what was cut off for whole (RFC 2046, 5.1.1: the last line ends in '--').
    if not body.rstrip(b"\r\n").endswith(b"--"):
        raise ValueError("cut off")
    fields: dict[str, str] = {}
    files: dict[str, Upload] = {}
    for name, value in form.multi_items():
        if isinstance(value, str):
            fields[_utf8(name, body)] = _utf8(value, body)
        else:
            data = await value.read()
            files[name] = Upload(value.filename or "", value.content_type or "", data)
    await form.close()
    return fields, files


def _utf8(text: str, body: bytes) -> str:
    """The parser takes what is not UTF-8 for something else: then it is not what was sent."""
    if text.encode() not in body:
        raise ValueError("not UTF-8")
    return text
