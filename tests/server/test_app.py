"""What reaches a page is in order: its method, kind, size and sender; closed unless it is open."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from html import unescape
from pathlib import Path
from urllib.parse import urlencode

import pytest
from starlette.responses import JSONResponse, Response

from cardgen.server.app import application
from cardgen.server.request_body import FORM, PARTS, PHOTO_BYTES
from cardgen.server.request_context import JSON, RequestContext
from cardgen.server.routing import PageRoute
from tests.server.phones import JOB, PIN, Phone, application_of, live, opened, raw, record, status

FORM_KIND = {"Content-Type": FORM}


def echo(request: RequestContext) -> Response:
    files = {name: [file.name, file.media, len(file.data)] for name, file in request.files.items()}
    said = {
        "crew": request.crew,
        "form": dict(request.form),
        "files": files,
        "sent": len(request.body),
    }
    return JSONResponse({**said, "values": dict(request.values), "query": dict(request.query)})


def broken(request: RequestContext) -> Response:
    raise RuntimeError(f"a bug at {request.path}")


PAGES = (
    PageRoute("/ECHO_", echo),
    PageRoute("/ECHO_", echo, method="POST", media=(FORM, PARTS, JSON)),
    PageRoute("/{job:path}/PHOTO_/{box}", echo, method="POST",
              media=(PARTS, "image/jpeg"), max_bytes=PHOTO_BYTES),
    PageRoute("/LARGE_", echo, method="POST", media=(PARTS,), max_bytes=PHOTO_BYTES),
    PageRoute("/BROKEN_", broken, open=True),
)  # fmt: skip


@pytest.fixture(scope="module")
def port(tmp_path_factory: pytest.TempPathFactory) -> Iterator[int]:
    folder = tmp_path_factory.mktemp("gate")
    web, store = record(folder / "web"), opened(folder / "web.sqlite", "Ana", "Ben")
    with live(application_of(web, store, *PAGES)) as found:
        yield found
    store.close()


@pytest.fixture(scope="module")
def ana(port: int) -> Phone:
    phone = Phone(port)
    assert phone.log_in().status == 303
    return phone


def parts(*fields: tuple[str, bytes, str]) -> tuple[bytes, dict[str, str]]:
    """A multipart body (RFC 7578): name, data, file name if it is one."""
    body = b""
    for name, data, file in fields:
        named = f'; filename="{file}"' if file else ""
        kind = "Content-Type: image/jpeg\r\n" if file else ""
        head = f'--cut\r\nContent-Disposition: form-data; name="{name}"{named}\r\n{kind}\r\n'
        body += head.encode() + data + b"\r\n"
    return body + b"--cut--\r\n", {"Content-Type": "multipart/form-data; boundary=cut"}


# ---- methods -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "method",
    ["POST", "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE", "CONNECT", "PROPFIND", "BREW", "get"],
)
def test_the_record_is_only_read(port: int, method: str) -> None:
    answer = Phone(port).ask(method, f"/{JOB}/VB-1/")
    assert answer.status == 405
    assert answer.headers["allow"] == "GET, HEAD"


def test_a_page_takes_its_own_methods_only(port: int) -> None:
    for method in ("PUT", "DELETE", "OPTIONS", "TRACE", "PATCH"):
        answer = Phone(port).ask(method, "/LOGIN_")
        assert answer.status == 405
        assert answer.headers["allow"] == "GET, HEAD, POST"
    assert Phone(port).ask("HEAD", "/LOGIN_").status == 200
    assert Phone(port).get("/LOGOUT_").status == 405


def test_a_websocket_is_not_spoken(port: int) -> None:
    asked = (
        f"GET /{JOB}/VB-1/ HTTP/1.1\r\nHost: x\r\nConnection: Upgrade\r\nUpgrade: websocket\r\n"
        "Sec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==\r\nSec-WebSocket-Version: 13\r\n\r\n"
    )
    with_close = asked.replace("Connection: Upgrade", "Connection: Upgrade, close")
    assert status(raw(port, with_close.encode())) in (200, 400)


# ---- headers -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "path", [f"/{JOB}/VB-1/", f"/{JOB}/VB-1", "/LOGIN_", "/nowhere", "/ECHO_", "/BROKEN_", "/%ff"]
)
def test_every_answer_tells_browsers_to_be_strict(port: int, path: str) -> None:
    headers = Phone(port).get(path).headers
    policy = headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "frame-ancestors 'none'" in policy
    assert "unsafe" not in policy
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["cross-origin-opener-policy"] == "same-origin"
    assert headers["cross-origin-resource-policy"] == "same-origin"
    assert headers["referrer-policy"] in ("no-referrer", "same-origin")
    assert "camera=()" in headers["permissions-policy"]
    assert "server" not in headers
    wanted = "no-cache" if path.endswith("VB-1/") else "no-store"
    assert headers["cache-control"] == wanted


# ---- kinds and encodings -------------------------------------------------------------------


@pytest.mark.parametrize(
    "kind",
    [
        *("", "text/plain", "application/xml", "text/html", "image/svg+xml", FORM + "x"),
        *("multipart/mixed; boundary=cut", "application/json, " + FORM, "image/png"),
    ],
)
def test_another_kind_of_data_is_not_taken(ana: Phone, kind: str) -> None:
    answer = ana.ask("POST", "/ECHO_", b"token=x", {"Content-Type": kind})
    assert answer.status == 415
    assert answer.headers["accept-post"] == f"{FORM}, {PARTS}, {JSON}"


@pytest.mark.parametrize(
    "body",
    [
        *(b"a=%ff", b"a=%c0%ae", b"a=\xff", "a=ä".encode(), b"a=%ed%a0%80", b"no pair"),
        b"&".join(b"a=1" for _ in range(201)),
    ],
)
def test_a_form_that_cannot_be_read_is_refused(ana: Phone, body: bytes) -> None:
    assert ana.ask("POST", "/ECHO_", body, FORM_KIND).status == 400


@pytest.mark.parametrize(
    ("body", "kind"),
    [
        (b"", "multipart/form-data"),
        (b"--cut\r\n", "multipart/form-data; boundary=other"),
        (b"nonsense", "multipart/form-data; boundary=cut"),
        (b"--cut\r\nno header\r\n\r\nx\r\n--cut--\r\n", "multipart/form-data; boundary=cut"),
        (parts(("note", b"\xff\xfe", ""))[0], "multipart/form-data; boundary=cut"),
        (parts(("note", b"caf\xe9", ""))[0], "multipart/form-data; boundary=cut"),
        (parts(("a", b"1", "x"), ("b", b"2", "y"))[0], "multipart/form-data; boundary=cut"),
        (parts(("a", b"x" * 70_000, ""))[0][:60_000], "multipart/form-data; boundary=cut"),
        (parts(("a", b"x" * 65_537, ""))[0], "multipart/form-data; boundary=cut"),
        (parts(*[("a", b"1", "")] * 201)[0], "multipart/form-data; boundary=cut"),
        (parts(("a", b"1", ""))[0], "multipart/form-data; boundary="),
    ],
)
def test_parts_that_cannot_be_read_are_refused(ana: Phone, body: bytes, kind: str) -> None:
    answer = ana.ask("POST", "/LARGE_", body, {"Content-Type": kind, "X-Token": ana.token()})
    assert answer.status == 400


def test_what_is_in_order_arrives_as_sent(ana: Phone) -> None:
    body, kind = parts(("note", "Größe 5 Ω".encode(), ""), ("photo", b"\xff\xd8\x00", "a.jpg"))
    answer = ana.ask("POST", f"/{JOB}/PHOTO_/VB-1?x=1", body, {**kind, "X-Token": ana.token()})
    assert json.loads(answer.body) == {
        "crew": "Ana",
        "form": {"note": "Größe 5 Ω"},
        "files": {"photo": ["a.jpg", "image/jpeg", 3]},
        "sent": len(body),
        "values": {"job": JOB, "box": "VB-1"},
        "query": {"x": "1"},
    }
    told = ana.post("/ECHO_", token=ana.token(), note="ñ & =").body
    assert json.loads(told)["form"]["note"] == "ñ & ="


# ---- sizes ---------------------------------------------------------------------------------


def test_a_form_that_is_too_large_is_refused_before_it_is_read(ana: Phone) -> None:
    head = f"POST /ECHO_ HTTP/1.1\r\nHost: x\r\nConnection: close\r\nContent-Type: {FORM}\r\n"
    cookie = f"Cookie: cardgen-session={ana.cookies['cardgen-session']}\r\n"
    got = raw(ana.port, f"{head}{cookie}Content-Length: 70000\r\n\r\n".encode())
    assert status(got) == 413  # although nothing of the 70,000 bytes came
    assert b"64 KB" in got


@pytest.mark.parametrize(
    "length",
    ["", "Content-Length: -1", "Content-Length: 1e3", "Content-Length: ٣",
     "Content-Length: 99999999999999999999999", "Transfer-Encoding: chunked",
     "Content-Length: 5\r\nContent-Length: 6", "Content-Length: 5\r\nTransfer-Encoding: chunked"],
)  # fmt: skip
def test_a_body_says_how_long_it_is(ana: Phone, length: str) -> None:
    head = f"POST /ECHO_ HTTP/1.1\r\nHost: x\r\nConnection: close\r\nContent-Type: {FORM}\r\n"
    cookie = f"Cookie: cardgen-session={ana.cookies['cardgen-session']}\r\n"
    sent = f"{head}{cookie}{length}\r\n".replace("\r\n\r\n", "\r\n")
    assert status(raw(ana.port, f"{sent}\r\n0\r\n\r\n".encode())) in (400, 411, 413)


def test_a_photo_may_be_large_and_no_larger(ana: Phone) -> None:
    headers = {"Content-Type": "image/jpeg", "X-Token": ana.token()}
    path = f"/{JOB}/PHOTO_/VB-1"
    answer = ana.ask("POST", path, bytes(PHOTO_BYTES), headers)
    assert json.loads(answer.body)["sent"] == PHOTO_BYTES
    head = f"POST {path} HTTP/1.1\r\nHost: x\r\nConnection: close\r\nContent-Type: image/jpeg\r\n"
    cookie = f"Cookie: cardgen-session={ana.cookies['cardgen-session']}\r\n"
    got = raw(ana.port, f"{head}{cookie}Content-Length: {PHOTO_BYTES + 1}\r\n\r\n".encode())
    assert status(got) == 413


def test_who_is_not_logged_in_sends_no_body(port: int) -> None:
    head = f"POST /{JOB}/PHOTO_/VB-1 HTTP/1.1\r\nHost: x\r\nContent-Type: image/jpeg\r\n"
    got = raw(port, f"{head}Content-Length: {PHOTO_BYTES}\r\nConnection: close\r\n\r\n".encode())
    assert status(got) == 401


# ---- who sends it, and from where ----------------------------------------------------------


def test_a_page_for_crews_leads_to_the_login_and_back(port: int) -> None:
    phone = Phone(port)
    answer = phone.get("/ECHO_")
    assert (answer.status, answer.headers["location"]) == (303, "/LOGIN_?to=/ECHO_")
    answer = phone.get("/ECHO_?valve=A1&x=%C3%A4")
    form = phone.get(answer.headers["location"])
    (to,) = re.findall('name="to" value="([^"]*)"', form.text)
    sent = phone.post("/LOGIN_", crew="ben", pin=PIN, to=unescape(to), token=form.token)
    assert sent.headers["location"] == "/ECHO_?valve=A1&x=%C3%A4"
    assert json.loads(phone.get("/ECHO_").body)["crew"] == "Ben"
    late = Phone(port).post("/ECHO_", note="written before the session came to its end")
    assert late.status == 401
    assert '<a class="go" href="/LOGIN_">' in late.text
    as_json = Phone(port).get("/ECHO_", Accept="application/json")
    assert (as_json.status, json.loads(as_json.body)["error"]) == (401, "login")


@pytest.mark.parametrize(
    "to",
    ["//example.com/", "https://example.com/", "/\\example.com", "\\\\example.com", "javascript:1",
     "/ok\r\nSet-Cookie: x=1", "/\t/example.com", "LOGIN_", ""],
)  # fmt: skip
def test_after_the_login_one_stays_on_this_server(port: int, to: str) -> None:
    answer = Phone(port).log_in(to=to)
    assert (answer.status, answer.headers["location"]) == (303, "/LOGIN_")


def test_a_form_without_its_token_is_forged(port: int, ana: Phone) -> None:
    ben = Phone(port)
    ben.log_in("Ben")
    of_a_visitor = Phone(port).get("/LOGIN_").token
    for token in ("", "x", "InF1YXJyeSI.abc", ana.token()[:-1], ben.token(), of_a_visitor):
        answer = ana.post("/ECHO_", token=token)
        assert answer.status == 403
        assert "Nothing is stored" in answer.text


def test_a_token_alone_is_nothing(port: int, ana: Phone) -> None:
    assert Phone(port).post("/ECHO_", token=ana.token()).status == 401


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "https://example.com"},
        {"Origin": "null"},
        {"Origin": "http://127.0.0.1:1"},
        {"Origin": "http://127.0.0.1.example.com"},
        {"Sec-Fetch-Site": "cross-site"},
        {"Sec-Fetch-Site": "same-site"},
        {"Sec-Fetch-Site": "none"},
        {"Sec-Fetch-Site": "cross-site", "Origin": "http://127.0.0.1:{port}"},
    ],
)
def test_a_page_of_another_site_cannot_send(ana: Phone, headers: dict[str, str]) -> None:
    body = urlencode({"token": ana.token()}).encode()
    own = {name: value.format(port=ana.port) for name, value in headers.items()}
    assert ana.ask("POST", "/ECHO_", body, {**FORM_KIND, **own}).status == 403
    assert ana.ask("POST", "/LOGOUT_", body, {**FORM_KIND, **own}).status == 403
    assert json.loads(ana.get("/ECHO_").body)["crew"] == "Ana"  # she is still logged in


def test_a_login_form_is_bound_to_its_phone(port: int) -> None:
    other = Phone(port).get("/LOGIN_").token
    victim = Phone(port)
    assert victim.post("/LOGIN_", crew="Ben", pin=PIN, token=other).status == 403
    victim.get("/LOGIN_")
    assert victim.post("/LOGIN_", crew="Ben", pin=PIN, token=other).status == 403


# ---- open or closed ------------------------------------------------------------------------


def test_every_page_is_for_crews_only_unless_it_is_open(tmp_path: Path) -> None:
    web, store = record(tmp_path / "web"), opened(tmp_path / "web.sqlite", "Ana")
    app = application(web, store, secure=False)
    routes = [route for route in app.routes if isinstance(route, PageRoute)]
    assert routes == app.routes  # no other kind of route, which would ask nobody
    assert [(route.path, sorted(route.methods or ())) for route in routes if route.open] == [
        ("/LOGIN_", ["GET", "HEAD"]),
        ("/LOGIN_", ["POST"]),
        ("/{job:path}/READINGS_", ["GET", "HEAD"]),
        ("/{job:path}/RESULTS_", ["GET", "HEAD"]),
    ]
    closed = [(route.path, m) for route in routes if not route.open for m in route.methods or ()]
    assert len(closed) > 5
    with live(app) as port:
        for path, method in closed:
            asked = path.replace("{job:path}", JOB).replace("{id}", "x")
            answer = Phone(port).ask(method, asked)
            wanted = (401, None) if method == "POST" else (303, f"/LOGIN_?to={asked}")
            assert (answer.status, answer.headers.get("location")) == wanted
    store.close()


def test_a_page_that_does_not_say_is_closed() -> None:
    assert not PageRoute("/NEW_", echo).open


# ---- mistakes ------------------------------------------------------------------------------


def test_a_bug_of_ours_is_a_page_that_tells_nothing_of_it(
    port: int, caplog: pytest.LogCaptureFixture
) -> None:
    answer = Phone(port).get("/BROKEN_")
    assert answer.status == 500
    assert "made a mistake" in answer.text
    assert "RuntimeError" not in answer.text
    assert Phone(port).get("/LOGIN_").status == 200
    # The office sees where it was, once.
    told = [record for record in caplog.records if record.levelname == "ERROR"]
    assert told[0].getMessage() == "a mistake of cardgen at /BROKEN_"
    assert [record.exc_info is not None for record in told] == [False, True]


def test_a_script_gets_json_and_a_person_a_page(port: int) -> None:
    told = json.loads(Phone(port).get("/nowhere", Accept="application/json").body)
    assert told["error"] == "not here"
    assert "Scan the code" in told["help"]
    page = Phone(port).get("/nowhere", Accept="text/html,application/json;q=0.9")
    assert page.headers["content-type"] == "text/html; charset=utf-8"
    assert "Scan the code" in page.text
