"""The schema for editors and the reader take the same files and refuse the same."""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen import job as job_package
from cardgen.job import schema
from cardgen.job.job_loader import TOP
from cardgen.job.starter import starter_job
from cardgen.reading.shapes import BlockShape, ListOf, Parsed, SaidShape, Shape, TableOf
from tests.for_each import for_each
from tests.jobs import SAMPLES, problems_of, sample

Data = Any  # what a YAML file holds
Way = tuple[str | int, ...]  # keys and indexes from the top of the file down to a value

SHIPPED = Path(job_package.__file__).with_name("job.schema.json")


class _EditorLoader(yaml.SafeLoader):
    """Reads a date as text, as editors do: YAML 1.2 and JSON have no dates."""


_EditorLoader.yaml_implicit_resolvers = {
    first: [(tag, pattern) for tag, pattern in resolvers if not tag.endswith(":timestamp")]
    for first, resolvers in yaml.SafeLoader.yaml_implicit_resolvers.items()
}


def as_editor(text: str) -> Data:
    return yaml.load(text, Loader=_EditorLoader)  # noqa: S506 - it is a safe one


@cache
def validator() -> jsonschema.Draft202012Validator:
    return jsonschema.Draft202012Validator(schema())


def test_shipped_schema_is_the_generated_one() -> None:
    generated = json.dumps(schema(), indent=2, sort_keys=True) + "\n"
    assert SHIPPED.read_text(encoding="utf-8") == generated, (
        "write json.dumps(cardgen.job.schema(), indent=2, sort_keys=True) to " + SHIPPED.name
    )


def test_schema_is_one() -> None:
    jsonschema.Draft202012Validator.check_schema(schema())


GOOD = {**{name: sample(name) for name in SAMPLES}, "starter": starter_job("7Q2F9KX4M3T8")}


@pytest.mark.parametrize("name", GOOD)
def test_good_job_is_good_for_both(name: str) -> None:
    assert problems_of(GOOD[name]) == []
    assert [error.message for error in validator().iter_errors(as_editor(GOOD[name]))] == []


def shapes_within(shape: Shape[Any]) -> Iterator[Shape[Any]]:
    if isinstance(shape, (SaidShape, ListOf)):
        yield shape.inner
    elif isinstance(shape, TableOf):
        yield from (shape.id_shape, shape.record)
    elif isinstance(shape, BlockShape):
        yield from (field.shape for field in shape.fields)


def all_shapes(shape: Shape[Any]) -> Iterator[Shape[Any]]:
    yield shape
    for inner in shapes_within(shape):
        yield from all_shapes(inner)


RECORDS = [shape for shape in all_shapes(TOP) if isinstance(shape, BlockShape)]


def test_the_walk_comes_to_every_section() -> None:
    assert len(RECORDS) > len(TOP.fields)


@for_each("record", RECORDS)
def test_every_key_of_the_reader_is_in_the_schema(record: BlockShape[Any]) -> None:
    said = record.schema()
    if "properties" not in said:  # an entry that is one value, not a block of keys
        assert said == record.fields[0].shape.schema()
        return
    names = [name for field in record.fields for name in (field.key, field.also) if name]
    assert list(said["properties"]) == names
    required = [f for f in record.fields if f.required]
    assert said.get("required", []) == [f.key for f in required if not f.also]
    # of two spellings of a key that must be there one is given, and not both
    assert said.get("allOf", []) == [
        {"oneOf": [{"required": [f.key]}, {"required": [f.also]}]} for f in required if f.also
    ]
    assert said["additionalProperties"] is False


def test_every_key_is_explained() -> None:
    silent = [
        f"{record.what}: {field.key}"
        for record in RECORDS
        if "properties" in record.schema()
        for field in record.fields
        if not record.schema()["properties"][field.key].get("description")
    ]
    assert silent == []


@for_each("shape", [s for s in all_shapes(TOP) if isinstance(s, Parsed)])
def test_pattern_of_a_value_is_anchored(shape: Parsed[Any]) -> None:
    pattern = shape.schema().get("pattern", "^$")
    assert pattern.startswith("^")
    assert pattern.endswith("$")


def ways_in(data: Data, way: Way = ()) -> Iterator[Way]:
    """The way to each value of a file."""
    pairs: list[tuple[str | int, Data]] = []
    if isinstance(data, dict):
        pairs = list(data.items())
    elif isinstance(data, list):
        pairs = list(enumerate(data))
    for key, value in pairs:
        yield (*way, key)
        yield from ways_in(value, (*way, key))


def at(data: Data, way: Way) -> Data:
    for step in way:
        data = data[step]
    return data


def refused_by_both(data: Data) -> None:
    assert not validator().is_valid(data)
    assert problems_of(yaml.safe_dump(data, sort_keys=False, allow_unicode=True))


SMALL = {name: as_editor(GOOD[name]) for name in ("quarry", "sandpiper", "starter")}
WAYS = [(name, way) for name, data in SMALL.items() for way in ways_in(data)]
BLOCKS = [(name, way) for name, way in WAYS if isinstance(at(SMALL[name], way), dict)]
OF_THE_PACKET = ("owner", "contractor", "license")  # else lines to fill in
NEEDED = [
    (name, way)
    for name, way in WAYS
    if way == ("job",)  # without a record nothing has a code
    or (len(way) == 2 and way[0] in {"job", "record"} and way[1] not in OF_THE_PACKET)
    or (len(way) == 3 and (way[0], way[2]) in {
        *(("coils", key) for key in ("supply", "resistance")),
        *(("controllers", key) for key in ("place", "supply", "stations")),
        *(("master valves", key) for key in ("controllers", "box", "hot")),
        *(("sensors", key) for key in ("kind", "controllers")),
        ("cables", "run"), ("stations", "area"), ("spares", "conductor"), ("connectors", "takes"),
    })
]  # fmt: skip


@settings(max_examples=60)
@given(st.sampled_from(BLOCKS))
def test_unknown_key_is_refused_by_both(place: tuple[str, Way]) -> None:
    name, way = place
    data = copy.deepcopy(SMALL[name])
    at(data, way)["no such key"] = "x"
    refused_by_both(data)


@settings(max_examples=60)
@given(st.sampled_from(NEEDED))
def test_missing_key_is_refused_by_both(place: tuple[str, Way]) -> None:
    name, way = place
    data = copy.deepcopy(SMALL[name])
    del at(data, way[:-1])[way[-1]]
    refused_by_both(data)


@settings(max_examples=60)
@given(st.sampled_from(WAYS), st.sampled_from([{"no such key": "x"}, [[["x"]]]]))
def test_wrong_type_is_refused_by_both(place: tuple[str, Way], wrong: Data) -> None:
    name, way = place
    data = copy.deepcopy(SMALL[name])
    at(data, way[:-1])[way[-1]] = wrong
    refused_by_both(data)
