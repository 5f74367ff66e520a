"""The job that a new file starts with is read, checked and explained."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from cardgen.job.job_loader import TOP
from cardgen.job.starter import ADDRESS, CODE, SITE, starter_job
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import make_print
from cardgen.output.recording import RecordRequest, publish
from cardgen.problems import UserError, Verdict
from cardgen.reading.shapes import BlockShape, TableOf
from tests.for_each import for_each
from tests.jobs import edit, examined, loaded, well_said
from tests.outside.pages import by_zxing, gray_by_pdfium, text_by_pdfium

KEY = "7Q2F9KX4M3T8"


def test_what_is_no_sites_own_is_told_and_nothing_else() -> None:
    """Each at its value, with a way out, until it is changed."""
    text = starter_job(KEY)
    found = [well_said(problem) for problem in examined(text).problems]
    assert [(p.code, p.verdict, p.span.line) for p in found] == [
        ("starter-value", Verdict.WARNING, 5),
        ("starter-value", Verdict.WARNING, 6),
        ("starter-value", Verdict.WARNING, 11),
    ]
    for value, own in ((CODE, "LARK-06"), (SITE, "Larkspur"), (ADDRESS, "https://a.example.com")):
        text = edit(text, value, own)
    assert examined(text).problems == ()


def test_without_a_record_nothing_has_a_code_and_nothing_speaks_of_one() -> None:
    text = re.sub(r"record:\n.*\n.*\n", "", edit(starter_job(KEY), ADDRESS, "https://a.example"))
    made, problems = make_print(examined(text), PrintRequest())
    assert made is not None and not problems
    pages = {name: pdf for name, pdf in made.files.items() if name.endswith(".pdf")}
    assert {"valve-tags.pdf", "door-legend-A.pdf", "packet.pdf"} <= pages.keys()
    for name, pdf in pages.items():
        said = "\n".join(text_by_pdfium(pdf))
        assert KEY not in said and "HTTP" not in said and "record:" not in said, name
        assert by_zxing(gray_by_pdfium(pdf)) == [], name
    assert b"job," not in made.files["test-sheet.csv"]
    with pytest.raises(UserError, match="names no address"):
        publish(examined(text), Path("web"), RecordRequest())


def test_starter_holds_its_key() -> None:
    job, _ = loaded(starter_job(KEY))
    assert job is not None and job.record is not None
    assert job.record.key.value == KEY


def test_starter_has_two_valves_on_one_cable() -> None:
    job, _ = loaded(starter_job(KEY))
    assert job is not None
    assert (len(job.stations), len(job.cables), len(job.boxes)) == (2, 1, 2)


def test_starter_fits_on_a_screen_in_width() -> None:
    assert max(map(len, starter_job(KEY).splitlines())) <= 100


def keys_of(record: BlockShape[Any]) -> Iterator[str]:
    for field in record.fields:
        yield field.key
        if isinstance(field.shape, BlockShape):
            yield from keys_of(field.shape)
        elif isinstance(field.shape, TableOf):
            yield from keys_of(field.shape.record)


@for_each("key", sorted(set(keys_of(TOP)) - {"job", "record", "boxes", "stations"}))
def test_key_of_the_starter_is_explained_where_it_first_stands(key: str) -> None:
    lines = starter_job(KEY).splitlines()
    first = next((line for line in lines if re.match(f" *{key}:", line)), None)
    if first is not None and first not in ("controllers:", "cables:"):
        assert " # " in first
