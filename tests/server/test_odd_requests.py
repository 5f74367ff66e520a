"""Whatever is sent to whichever page, the answer is one that was meant: never a mistake of ours."""

from __future__ import annotations

import random

import pytest

from tests.server.crews import READINGS, Served
from tests.server.phones import JOB, raw, status

PAGES = (
    *("/", "/LOGIN_", READINGS, f"{READINGS}?box=VB-1", f"/{JOB}/VB-1/", f"/{JOB}/VB-1"),
    *(f"/{JOB}/{name}" for name in ("RESULTS_?valve=A1", "REPORTS_", "READINGS_CSV_", "PHOTOS_/x")),
)
BEHIND = (
    *("%00", "%ff", "'\"><", "../", "é", "\x7f", "%C3%A4", "?saved=1&page=-1&valve[]=1", "#x"),
    *("//", ";", "?" + "a=1&" * 500, "?language=xx&box=%00&valve=%F0%9F%92%A9", "x" * 300),
)
KINDS = (
    *("application/x-www-form-urlencoded", "multipart/form-data; boundary=cut", "x" * 200, ""),
    *("multipart/form-data", "application/json", "text/csv"),
)
PART = b'--cut\r\nContent-Disposition: form-data; name="%s"\r\n\r\n%s\r\n--cut--\r\n'
BODIES = (
    *(b"", b"a=b", b"id=1&value=OL", b"\xff\xfe", b"{}", b"[1", b"--cut--\r\n"),
    *(PART % (b"value", b"1e999"), PART % (b'photo"; filename="x', b"not a photo")),
    PART % (b'table"; filename="x', b"a,b\r\n1"),
)


def one(chance: random.Random, cookie: str, token: str) -> bytes:
    method = chance.choice(["GET", "GET", "POST", "POST", "HEAD", "PUT", "OPTIONS"])
    path = chance.choice(PAGES) + (chance.choice(BEHIND) if chance.random() < 0.5 else "")
    body = chance.choice(BODIES) if method in ("POST", "PUT") else b""
    head = [f"Host: {chance.choice(['x', '', '127.0.0.1'])}", "Connection: close"]
    maybe = (
        (0.8, f"Cookie: {cookie}"),
        (0.8, f"X-Token: {token}"),
        (0.3, "Accept: application/json"),
        (0.2, f"Accept-Language: {chance.choice(['es', 'xx;q=z', '*', ',,,;;'])}"),
    )
    head += [line for part, line in maybe if chance.random() < part]
    if body or method in ("POST", "PUT"):
        head += [f"Content-Type: {chance.choice(KINDS)}", f"Content-Length: {len(body)}"]
    lines = "\r\n".join([f"{method} {path} HTTP/1.1", *head, "", ""])
    return lines.encode() + body


@pytest.mark.parametrize("seed", range(3))
def test_no_request_is_answered_with_a_mistake_of_ours(record: Served, seed: int) -> None:
    chance, ana = random.Random(seed), record.crew()
    cookie = "; ".join(f"{name}={value}" for name, value in ana.cookies.items())
    token = ana.token()
    for _ in range(150):
        sent = one(chance, cookie, token)
        assert status(raw(record.port, sent)) in {
            *(200, 303, 304, 308, 400, 401, 403, 404, 405, 409, 411, 413, 415),
        }, sent
