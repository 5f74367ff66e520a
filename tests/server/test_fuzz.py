"""Whatever is sent to any address of the server: an answer in order, and none but sound entries."""

from __future__ import annotations

import json
import logging
import string
import uuid
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import quote

import html5lib
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from starlette.applications import Starlette

from cardgen.results import value_of
from cardgen.server.app import application
from cardgen.server.backup import checked
from cardgen.server.entries import entries
from cardgen.server.entry_fields import DIFFERENCE
from cardgen.server.request_body import FORM, PARTS
from cardgen.server.request_context import JSON, LOGIN
from cardgen.server.routing import PageRoute
from cardgen.server.store import Store
from tests.record.records import LARKSPUR
from tests.server.crews import GOOD, Served, enter, send
from tests.server.phones import Answer, Phone, raw, status

# The last test looks at what those before it have stored.
pytestmark = pytest.mark.xdist_group("fuzz")

SOME = settings(
    max_examples=120,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
FEWER = settings(SOME, max_examples=50)
METHODS = ("GET", "HEAD", "POST", "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "BREW")
FIELDS = ("id", "valve", "kind", "value", "notes", "box", "place", "when", "by", "token", "photo")
NAMES = (LARKSPUR, "VB-1", "VB-2", "A", "A1", "STATION_A1", "..", ".", "%2e%2e", "index.html")
# Of every alphabet, controls and lone halves of pairs among them.
ODD = st.text(st.characters(codec=None, exclude_categories=()), max_size=40).map(
    lambda text: text.encode("utf-8", "surrogatepass").decode("latin-1")
)
TEXT = st.text(max_size=60)
TOKEN = st.text(string.ascii_letters + string.punctuation, max_size=80)
SAID = st.one_of(TEXT, st.sampled_from([*GOOD.values(), "OL", "-1", "1e9", "0", "", DIFFERENCE]))


@pytest.fixture(scope="module")
def told() -> Iterator[list[logging.LogRecord]]:
    """What the server notes for the office; a bug of ours would be there."""
    found: list[logging.LogRecord] = []
    handler = logging.Handler(logging.ERROR)
    handler.emit = found.append  # type: ignore[method-assign,assignment]
    log = logging.getLogger("cardgen.server")
    log.addHandler(handler)
    yield found
    log.removeHandler(handler)


@pytest.fixture(scope="module")
def at(record: Served) -> tuple[Phone, Phone]:
    """A phone of nobody, and one of a crew."""
    return record.anyone(), record.crew()


def paths(app: Starlette) -> list[str]:
    """The address of every page beside the files."""
    return sorted({route.path for route in app.routes if isinstance(route, PageRoute)})


def judged(answer: Answer, told: list[logging.LogRecord]) -> None:
    """In order, whatever was asked."""
    assert not told, told[-1].getMessage()
    assert 200 <= answer.status < 500, answer.text
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert "default-src 'none'" in answer.headers["content-security-policy"]
    media = answer.headers.get("content-type", "")
    if media.startswith("text/html") and answer.body:
        html5lib.HTMLParser(strict=True).parse(answer.body.decode())
    if media.startswith(JSON) and answer.body:
        json.loads(answer.body)


@st.composite
def asked(draw: st.DrawFn) -> str:
    """An address: of a page or file, with names that are there, that are not, and pure noise."""
    piece = st.one_of(st.sampled_from(NAMES), TEXT.map(quote), ODD.map(quote))
    page = draw(st.sampled_from(["/{job}/{page}/", "/{page}", LOGIN, "/LOGOUT_", *PLACES]))
    said = page.replace("{job:path}", draw(st.one_of(st.just(LARKSPUR), piece)))
    for name in ("{job}", "{page}", "{id}"):
        said = said.replace(name, draw(piece))
    query = st.dictionaries(st.sampled_from(FIELDS), st.one_of(TEXT, st.sampled_from(NAMES)))
    found = "&".join(f"{name}={quote(value)}" for name, value in draw(query).items())
    return f"{said}?{found}" if found else said


PLACES = paths(application(Path("nowhere"), Store(Path("nowhere.sqlite")), secure=False))


def test_every_page_is_among_what_is_asked_for() -> None:
    assert len(PLACES) >= 7
    assert all("{" not in p.replace("{job:path}", "").replace("{id}", "") for p in PLACES)


@SOME
@given(st.sampled_from(METHODS), asked(), st.binary(max_size=200), st.booleans(), st.data())
def test_any_request(
    at: tuple[Phone, Phone],
    told: list[logging.LogRecord],
    method: str,
    path: str,
    body: bytes,
    is_crew: bool,
    data: st.DataObject,
) -> None:
    if method == "POST" and path.startswith((LOGIN, "/LOGOUT_")):
        method = "PUT"  # guessing PINs is slow on purpose, and the crew stays logged in
    kind = data.draw(st.sampled_from([FORM, PARTS, JSON, "text/plain", "", "a/b; boundary=x"]))
    own = f"http://127.0.0.1:{at[0].port}"
    origin = data.draw(st.sampled_from(["null", "http://a.example", own]))
    headers = {"Content-Type": kind, "Origin": origin, "X-Token": data.draw(TOKEN)}
    judged(at[is_crew].ask(method, path, body or None, headers), told)


@SOME
@given(st.dictionaries(st.sampled_from(FIELDS), SAID), st.binary(max_size=300), st.booleans())
def test_any_form_of_a_crew(
    at: tuple[Phone, Phone],
    told: list[logging.LogRecord],
    fields: dict[str, str],
    photo: bytes,
    as_script: bool,
) -> None:
    fields.pop("token", None)
    files = {"photo": ("a.jpg", "image/jpeg", photo)} if photo else {}
    accept = {"Accept": JSON} if as_script else {}
    odd = {name: value for name, value in fields.items() if value.isprintable()}
    for page in (p for p in PLACES if p.endswith("READINGS_")):
        path = page.replace("{job:path}", LARKSPUR)
        judged(send(at[1], path, {"id": str(uuid.uuid4()), **GOOD, **odd}, files, accept), told)


@FEWER
@given(st.binary(max_size=600), st.lists(st.lists(SAID, max_size=6), max_size=4))
def test_any_table_of_a_crew(
    at: tuple[Phone, Phone], told: list[logging.LogRecord], noise: bytes, rows: list[list[str]]
) -> None:
    said = "when,valve,kind,value\n" + "\n".join(",".join(row) for row in rows)
    for table in (noise, said.encode("utf-8", "surrogatepass")):
        for page in (p for p in PLACES if p.endswith("CSV_")):
            path = page.replace("{job:path}", LARKSPUR)
            judged(send(at[1], path, {}, {"table": ("t.csv", "text/csv", table)}), told)


@FEWER
@given(st.binary(min_size=1, max_size=400), st.sampled_from(METHODS), ODD)
def test_any_bytes_on_the_wire(
    record: Served, told: list[logging.LogRecord], noise: bytes, method: str, path: str
) -> None:
    odd = path.encode("latin-1", "replace").replace(b"\r", b"").replace(b"\n", b"")
    line = f"{method} /".encode() + odd + b" HTTP/1.1\r\nHost: x\r\nConnection: close\r\n"
    for sent in (
        noise + b"\r\n\r\n",
        line + noise.replace(b"\n", b" ") + b"\r\n\r\n",
        line + b"\r\n",
    ):
        answer = raw(record.port, sent, wait=40)
        assert status(answer) < 500, answer[:300]
        assert not told


def test_what_was_stored_meanwhile_is_sound(record: Served, told: list[logging.LogRecord]) -> None:
    """The last test of this module: it looks at what all others have left."""
    assert enter(record.crew()).status == 200  # by chance the others may have left nothing
    kept = entries(record.store, LARKSPUR)
    valves = {f"A{n}" for n in range(1, 7)}
    assert kept
    for entry in kept:
        is_reading = entry.valve in valves and value_of(entry.value) is not None
        assert is_reading or entry.kind == DIFFERENCE
        assert entry.notes.isprintable() or set(entry.notes) <= set(string.printable)
    assert checked(record.store.path).entries == len(kept)
    assert record.anyone().get(f"/{LARKSPUR}/VB-1/").status == 200
    assert not told
