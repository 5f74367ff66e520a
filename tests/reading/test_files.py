"""Bytes that are no job: each gets one clear message, at the very character."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardgen.problems import Verdict
from cardgen.reading import files
from cardgen.reading.files import decode, read_text, untyped_characters
from tests.for_each import for_each
from tests.jobs import Found, found_in, sample, well_said


def decoded(data: bytes) -> tuple[str | None, list[Found]]:
    text, problems = decode(data, "job.yaml")
    for problem in problems:
        well_said(problem)
    return text, found_in(problems)


@pytest.mark.parametrize(
    ("data", "found"),
    [
        pytest.param(b"", ("file-empty", 1, 1), id="empty"),
        pytest.param(b" \n\r\n\t", ("file-empty", 1, 1), id="blank"),
        pytest.param("job: x".encode("utf-16"), ("not-utf-8", 1, 1), id="UTF-16 with its mark"),
        pytest.param("job: x".encode("utf-16-le"), ("not-utf-8", 1, 1), id="UTF-16 without"),
        pytest.param("job: x".encode("utf-16-be"), ("not-utf-8", 1, 1), id="UTF-16 big end first"),
        pytest.param("job: x".encode("utf-32"), ("not-utf-8", 1, 1), id="UTF-32"),
        pytest.param("a: b\nc: é".encode("latin-1"), ("not-utf-8", 2, 4), id="Latin-1"),
        pytest.param("é: ".encode() + b"\xe9", ("not-utf-8", 1, 4), id="Latin-1 after an é"),
        pytest.param(b"a: \xed\xa0\x80", ("not-utf-8", 1, 4), id="half of a pair"),
        pytest.param(b"\x89PNG\r\n\x1a\n\x00", ("not-text", 1, 1), id="picture"),
        pytest.param(bytes(range(256)), ("not-text", 1, 1), id="every byte"),
    ],
)
def test_no_text(data: bytes, found: Found) -> None:
    assert decoded(data) == (None, [found])


UNTYPED: list[tuple[str, list[Found]]] = [
    *((f"a: b\nc: d{c}e", [("not-text", 2, 5)]) for c in "\0\x1b\x7f\x80\x0b\ud800\ufffe"),
    *(
        (f"a: b\nc: d{c}e", [("unseen-character", 2, 5)])
        for c in "\u00a0\u00ad\u0085\u2007\u200b\u200e\u2028\u2029\u202e\u202f\u2060\u2066\ufeff"
    ),
    ("a:\u00a0b\nc:\u00a0d", [("unseen-character", 1, 3), ("unseen-character", 2, 3)]),
    ("a:\u00a0b\nc:\0d", [("not-text", 2, 3)]),
    *((f"a: b{ending}{ending}c: \0", [("not-text", 3, 4)]) for ending in ("\n", "\r\n", "\r")),
    ("job: a\r\nb:\tc", []),
    ("a: \u03a9\u00f1\u00e9\u6f22\U0001f600", []),
    (sample("larkspur"), []),
]


@for_each(("text", "found"), UNTYPED)
def test_characters_that_no_one_typed(text: str, found: list[Found]) -> None:
    problems = tuple(untyped_characters(text, "job.yaml"))
    assert found_in(tuple(well_said(problem) for problem in problems)) == found


def test_hundreds_of_unseen_characters_fill_no_screen() -> None:
    assert len(list(untyped_characters("\u00a0" * 500, "job.yaml"))) == files.MOST_UNSEEN


def test_byte_order_mark_is_read_all_the_same() -> None:
    text, problems = decode(b"\xef\xbb\xbfjob: x", "job.yaml")
    assert text == "job: x"
    assert found_in(problems) == [("byte-order-mark", 1, 1)]
    assert [p.verdict for p in problems] == [Verdict.WARNING]


def test_byte_order_mark_alone() -> None:
    assert decoded(b"\xef\xbb\xbf") == (None, [("byte-order-mark", 1, 1), ("file-empty", 1, 1)])


@pytest.mark.parametrize(
    "text", ["job: a\r\nb: c\r\n", "a: Ωñé漢字😀", "a:\tb", sample("larkspur")]
)
def test_text(text: str) -> None:
    assert decoded(text.encode()) == (text, [])


def test_file_that_is_there(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    path.write_bytes(b"job: x")
    assert read_text(path) == ("job: x", ())


def read(path: Path) -> list[Found]:
    text, problems = read_text(path)
    assert text is None
    assert all(problem.span.file == str(path) for problem in problems)
    return found_in(tuple(well_said(problem) for problem in problems))


def test_file_that_is_not_there(tmp_path: Path) -> None:
    assert read(tmp_path / "gone.yaml") == [("file-unreadable", 1, 1)]


def test_folder(tmp_path: Path) -> None:
    assert read(tmp_path) == [("file-unreadable", 1, 1)]


def test_name_that_no_file_can_have() -> None:
    assert read(Path("a\0b")) == [("file-unreadable", 1, 1)]
    assert read(Path("a" * 5000)) == [("file-unreadable", 1, 1)]


def test_file_in_a_file(tmp_path: Path) -> None:
    (tmp_path / "job.yaml").touch()
    assert read(tmp_path / "job.yaml" / "job.yaml") == [("file-unreadable", 1, 1)]


def test_huge_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(files, "LARGEST_FILE", 100)
    (tmp_path / "job.yaml").write_bytes(b"#" * 101)
    assert read(tmp_path / "job.yaml") == [("file-too-large", 1, 1)]


def test_file_without_an_end(monkeypatch: pytest.MonkeyPatch) -> None:
    """A device says that it has no bytes, and never stops giving them."""
    monkeypatch.setattr(files, "LARGEST_FILE", 100)
    assert read(Path("/dev/zero")) == [("file-too-large", 1, 1)]
