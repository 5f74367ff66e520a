"""The form arrives in fewer bytes where the browser takes it."""

from __future__ import annotations

import gzip

from starlette.requests import Request
from starlette.responses import Response, StreamingResponse

from cardgen.server.compression import compress
from tests.for_each import for_each
from tests.server.crews import READINGS, Served


def test_the_form_is_compressed_for_a_browser_that_takes_it(record: Served) -> None:
    phone = record.anyone()
    plain = phone.get(READINGS)
    packed = phone.get(READINGS, **{"Accept-Encoding": "gzip, br"})
    assert "content-encoding" not in plain.headers
    assert packed.headers["content-encoding"] == "gzip"
    assert len(packed.body) < len(plain.body) / 2
    assert packed.headers["content-length"] == str(len(packed.body))
    for answer in (plain, packed):
        assert answer.headers["vary"] == "Accept-Encoding"
    assert b'id="f-value"' in gzip.decompress(packed.body)


TAKES = "br, gzip"


@for_each(
    ("size", "media", "takes", "packed", "varies"),
    [
        (1000, "text/html; charset=utf-8", TAKES, True, True),
        (999, "text/html; charset=utf-8", TAKES, False, False),  # nothing to win
        (1000, "text/csv", TAKES, True, True),
        (1000, "application/json", TAKES, True, True),
        (1000, "image/jpeg", TAKES, False, False),  # small already
        (1000, "", TAKES, False, False),
        (1000, "text/html", "br", False, True),  # told to whatever keeps answers for others
        (1000, "text/html", "", False, True),
    ],
)
def test_what_is_packed(size: int, media: str, takes: str, packed: bool, varies: bool) -> None:
    response = Response(b"x" * size, headers={"Content-Type": media} if media else {})
    compress(asking(takes), response)
    assert (response.headers.get("content-encoding") == "gzip") is packed
    assert (gzip.decompress(response.body) if packed else response.body) == b"x" * size
    assert response.headers["content-length"] == str(len(response.body))
    assert response.headers.get("vary") == ("Accept-Encoding" if varies else None)


def test_what_is_packed_or_sent_in_pieces_stays_as_it_is() -> None:
    pieces = StreamingResponse(iter([b"x" * 2000]), media_type="text/html")
    done = Response(b"x" * 2000, media_type="text/html", headers={"Content-Encoding": "br"})
    for response in (pieces, done):
        before = list(response.headers.items())
        compress(asking(TAKES), response)
        assert list(response.headers.items()) == before


def asking(takes: str) -> Request:
    headers = [(b"accept-encoding", takes.encode())] if takes else []
    return Request({"type": "http", "method": "GET", "path": "/", "headers": headers})
