"""Only the finished record is sent: no way leads out of its folder, or to what is hidden in it."""

from __future__ import annotations

import gzip
import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.server.http_error import HttpError
from cardgen.server.served_files import ServedFiles
from tests.for_each import for_each
from tests.server.phones import JOB, PAGE, Phone, raw, serving, status

SECRET = b"not to be published"


@pytest.fixture(scope="module")
def web(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[int, Path]]:
    folder = tmp_path_factory.mktemp("files")
    with serving(folder) as (port, _):
        out = folder / "web"
        (folder / "secret.txt").write_bytes(SECRET)
        (folder / "beside").mkdir()
        (folder / "beside" / "index.html").write_bytes(SECRET)
        (out / ".hidden").write_bytes(SECRET)
        (out / ".git").mkdir()
        (out / ".git" / "index.html").write_bytes(SECRET)
        (out / JOB / ".VB-1.part").write_bytes(SECRET)
        (out / "link.txt").symlink_to(folder / "secret.txt")
        (out / "folder").symlink_to(folder / "beside")
        (out / "to_hidden.html").symlink_to(out / ".hidden")
        (out / "to_git.html").symlink_to(out / ".git" / "index.html")
        (out / "to_git").symlink_to(out / ".git")
        (out / "loop").symlink_to(out / "loop")
        (out / JOB / "VB-2").mkdir()  # a folder without a page
        os.mkfifo(out / "pipe")
        yield port, folder


def get(port: int, target: str) -> bytes:
    sent = f"GET {target} HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n"
    return raw(port, sent.encode("latin-1"))


UP = (
    *("..", "%2e%2e", "%2E%2E", ".%2e", "%2e.", "%252e%252e", "%25252e%25252e", "..;", ". ."),
    *("%c0%ae%c0%ae", "%e0%80%ae%e0%80%ae", "%f0%80%80%ae%f0%80%80%ae", "..%00", "%uff0e%uff0e"),
    "%ef%bc%8e%ef%bc%8e",
)
SLASH = (
    *("/", "%2f", "%2F", "%252f", "\\", "%5c", "%5C", "%255c", "%c0%af", "%e0%80%af"),
    *("%c1%9c", "//", "/./", "%00/", "%ef%bc%8f"),
)


@for_each("slash", SLASH)
@for_each("up", UP)
def test_no_spelling_of_the_way_up_leads_out(web: tuple[int, Path], up: str, slash: str) -> None:
    port, _ = web
    for start in ("/", f"/{JOB}/", f"/{JOB}{slash}"):
        for depth in (1, 2, 3):
            for end in ("secret.txt", "web.sqlite", "beside"):
                if depth != 2 and end != "secret.txt":
                    continue  # the depth that fits the file is enough for the others
                got = get(port, start + (up + slash) * depth + end)
                assert status(got) in (308, 400, 404), got[:300]
                assert SECRET not in got
                assert b"SQLite format" not in got


@for_each(
    "target",
    [
        *("{folder}/secret.txt", "/{folder}/secret.txt", "//{folder}/secret.txt"),
        *("file://{folder}/secret.txt", "http://example.com{folder}/secret.txt"),
        *("/file:{folder}/secret.txt", "/C:/secret.txt", "/%2f{folder}/secret.txt"),
        *("/.hidden", "/%2ehidden", "/.git/", "/.git/index.html", "/{job}/.VB-1.part"),
        *("/link.txt", "/folder/", "/folder/index.html", "/folder", "/to_hidden.html"),
        *("/{job}//VB-1/", "/{job}/./VB-1/", "/{job}/VB-1/../VB-1/", "/x/../{job}/VB-1/"),
        *("/to_git.html", "/to_git/", "/to_git/index.html", "/LOGIN_/", "/{job}/READINGS_/"),
        *("/loop", "/loop/", "/pipe", "/{job}/VB-2/", "/", "/{job}/VB-1/index.html/"),
        *("/{job}/VB-1/index.html%00.txt", "/{job}/VB-1/%00", "/{job}/vb-1/", "/{job}/VB-1./"),
        *("/web.sqlite", "/../web.sqlite", "/{job}/VB-1/*", "/{job}/VB-1/index.htm?"),
        *("/" + "x" * 300, "/" + "x/" * 3000, "/{job}/" + "%C3%A4" * 200 + "/"),
        *("/{job}/%E9", "/{job}/%ff", "/{job}/%", "/{job}/%zz", "/{job}/%0d%0aSet-Cookie:x=1"),
    ],
)
def test_what_is_not_of_the_record_is_not_there(web: tuple[int, Path], target: str) -> None:
    port, folder = web
    got = get(port, target.format(folder=folder, job=JOB))
    assert status(got) in (400, 404), got[:300]
    assert SECRET not in got
    assert b"Set-Cookie" not in got


@settings(max_examples=150)
@given(
    st.lists(
        st.one_of(
            st.sampled_from(
                [*UP, *SLASH, JOB, "VB-1", "index.html", "link.txt", "folder", ".hidden", ".", ""]
            ),
            st.text(max_size=4),
        ),
        max_size=8,
    )
)
def test_whatever_is_asked_for_nothing_but_the_record_is_found(
    web: tuple[int, Path], parts: list[str]
) -> None:
    root = (web[1] / "web").resolve()
    for path in ("/" + "/".join(parts), "/" + "".join(parts)):
        try:
            real = ServedFiles(root).find(path)
        except HttpError:
            continue
        assert real.is_relative_to(root)
        assert not any(part.startswith(".") for part in real.relative_to(root).parts)


def test_a_file_that_may_not_be_read_is_not_there(
    web: tuple[int, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    def denied(path: Path) -> bytes:
        raise PermissionError(path)

    monkeypatch.setattr(Path, "read_bytes", denied)
    assert status(get(web[0], f"/{JOB}/VB-1/")) == 404


def test_a_line_break_in_the_target_is_no_second_line(web: tuple[int, Path]) -> None:
    got = raw(web[0], b"GET /x\r\nHost: x\r\nX: y\x00z\r\nConnection: close\r\n\r\n")
    assert status(got) == 400


def test_no_folder_is_listed(web: tuple[int, Path]) -> None:
    for target in ("/", f"/{JOB}/VB-2/", "/folder/"):
        assert b"index" not in get(web[0], target).split(b"<main")[1]


def test_the_printed_address_leads_to_its_page(web: tuple[int, Path]) -> None:
    phone = Phone(web[0])
    first = phone.get(f"/{JOB}/VB-1?from=tag")
    assert (first.status, first.headers["location"]) == (308, f"/{JOB}/VB-1/")
    page = phone.get(first.headers["location"])
    assert (page.status, page.text) == (200, PAGE)
    assert page.headers["content-type"] == "text/html; charset=utf-8"
    assert page.headers["cache-control"] == "no-cache"
    assert phone.get(f"/{JOB}/offline_.js").headers["content-type"].startswith("text/javascript")


def test_a_redirect_never_names_another_host(web: tuple[int, Path]) -> None:
    for target in (f"//{JOB}/VB-1", f"/%2f{JOB}/VB-1", f"/\\{JOB}/VB-1", f"//example.com/{JOB}"):
        assert status(get(web[0], target)) in (400, 404)


@pytest.mark.parametrize("name", ["x//example.com", "x/y", "example.com?", "@example.com", "x#"])
def test_what_a_sender_calls_this_host_leads_nowhere(web: tuple[int, Path], name: str) -> None:
    sent = f"GET /{JOB}/VB-1 HTTP/1.1\r\nHost: {name}\r\nConnection: close\r\n\r\n"
    assert f"\r\nlocation: /{JOB}/VB-1/\r\n".encode() in raw(web[0], sent.encode())


def test_a_copy_that_still_holds_is_not_sent_again(web: tuple[int, Path]) -> None:
    phone, path = Phone(web[0]), f"/{JOB}/VB-1/"
    tag = phone.get(path).headers["etag"]
    for said in (tag, f'"other", {tag}', f"W/{tag}", "*"):
        again = phone.get(path, **{"If-None-Match": said})
        assert (again.status, again.body, again.headers["etag"]) == (304, b"", tag)
    assert phone.get(path, **{"If-None-Match": '"other"'}).status == 200


def test_a_changed_page_is_sent_at_once(web: tuple[int, Path]) -> None:
    page = web[1] / "web" / JOB / "offline_.js"
    before, stat = Phone(web[0]).get(f"/{JOB}/offline_.js"), page.stat()
    page.write_text("'use STRICT';\n", encoding="utf-8")
    os.utime(page, ns=(stat.st_atime_ns, stat.st_mtime_ns))  # of the same length and second
    after = Phone(web[0]).get(f"/{JOB}/offline_.js", **{"If-None-Match": before.headers["etag"]})
    assert (after.status, after.text) == (200, "'use STRICT';\n")


def test_a_page_comes_packed_to_those_who_take_it(web: tuple[int, Path]) -> None:
    phone, path = Phone(web[0]), f"/{JOB}/VB-1/"
    packed = phone.get(path, **{"Accept-Encoding": "gzip"})
    assert packed.headers["content-encoding"] == "gzip"
    assert gzip.decompress(packed.body).decode() == PAGE
    assert packed.headers["etag"] != phone.get(path).headers["etag"]
    assert packed.headers["vary"] == "Accept-Encoding"


def test_head_says_what_get_would(web: tuple[int, Path]) -> None:
    phone, path = Phone(web[0]), f"/{JOB}/VB-1/"
    got, head = phone.get(path), phone.ask("HEAD", path)
    assert (head.status, head.body) == (200, b"")
    drop = {"date"}
    assert {k: v for k, v in head.headers.items() if k not in drop} == {
        k: v for k, v in got.headers.items() if k not in drop
    }


def test_a_pages_own_policy_is_sent_with_it_and_frames_are_forbidden(
    web: tuple[int, Path],
) -> None:
    phone = Phone(web[0])
    policy = phone.get(f"/{JOB}/VB-1/").headers["content-security-policy"]
    assert policy == "default-src 'none'; frame-ancestors 'none'"
    worker = phone.get(f"/{JOB}/offline_.js").headers["content-security-policy"]
    assert worker == "default-src 'none'; connect-src 'self'; frame-ancestors 'none'"


def test_the_record_may_be_a_link_that_is_switched(tmp_path: Path) -> None:
    with serving(tmp_path) as (port, _):
        web, moved = tmp_path / "web", tmp_path / "first"
        web.rename(moved)
        web.symlink_to(moved)
        assert Phone(port).get(f"/{JOB}/VB-1/").status == 200
