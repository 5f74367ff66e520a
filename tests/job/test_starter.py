"""The job that a new file starts with is read, checked and explained."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest

from cardgen.job.job_loader import TOP
from cardgen.job.starter import starter_job
from cardgen.reading.shapes import BlockShape, TableOf
from tests.jobs import examined, loaded

KEY = "7Q2F9KX4M3T8"


def test_starter_checks_clean() -> None:
    assert examined(starter_job(KEY)).problems == ()


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


@pytest.mark.parametrize("key", sorted(set(keys_of(TOP)) - {"job", "record", "boxes", "stations"}))
def test_key_of_the_starter_is_explained_where_it_first_stands(key: str) -> None:
    lines = starter_job(KEY).splitlines()
    first = next((line for line in lines if re.match(f" *{key}:", line)), None)
    if first is not None and first not in ("controllers:", "cables:"):
        assert " # " in first
