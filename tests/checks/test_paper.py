"""What would be printed: nothing private, revisions in order."""

from __future__ import annotations

from typing import Any

import pytest

from cardgen.job.job_loader import TOP
from cardgen.reading.shapes import TEXT, BlockShape, PrintedText
from cardgen.trade.private_text import private
from tests.checks.trench import assert_problems
from tests.jobs import SAMPLES, edit, examined, loaded, place_of, sample


def area(text: str, mark: str = "") -> str:
    return f"""
stations:
  A1: {{area: front lawn, box: VB-1, hot: K1 red}}
  A2:
    area: "{text}"{mark}
    box: VB-2
    hot: K1 blue
"""


def test_a_text_that_must_not_hang_in_a_box() -> None:
    text = "lawn, gate code 1234"
    (found,) = assert_problems(area(text, f' # <- error private-text @ "{text}"'))
    assert found.sentence == (
        "'gate code 1234' reads like a code; it would be on paper and in the open record"
    )
    assert found.help == (
        "take it out and keep it where only the crew sees it; "
        "if it is something else, say what: 'box 4471', 'valve code 12'"
    )


# Of each field of a text that is printed or published, where it stands in a job.
CODE = "portón 4471"
FIELDS = {
    "site": ("site: Test Yard", f"site: {CODE}"),
    "code of the job": ("code: TEST-01", "code: PIN-0042"),
    "place of a controller": ("place: garage wall", f"place: {CODE}"),
    "place of a box": ("place: front walk", f"place: {CODE}"),
    "size": ("size: 10 in round", f"size: {CODE}"),
    "tie": ("6.5 ft from wall", CODE),
    "name of a box": ("  VB-9:", "  GATE-4471:"),
    "area": ("area: front lawn", f"area: {CODE}"),
    "device": ("device: doubling device", f"device: {CODE}"),
    "note": ("notes: keep clear of the oak", f"notes: {CODE}"),
    "band": ("band: yellow tape", f"band: {CODE}"),
    "flag": ("flags: S1", "flags: GATE-4471"),
    "place of a sensor": ("place: eave", f"place: {CODE}"),
    "serial": ("serial: 300-555-1204", f"serial: 300-555-1204 {CODE}"),
    "what a spare is kept for": ("reserved for: a pond", f"reserved for: {CODE}"),
    "change": ("text: first issue", f"text: {CODE}"),
    "lead": ("hot: red", f"hot: {CODE}"),
}
EVERY_FIELD = """
job: {code: TEST-01, site: Test Yard, revision: 1, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
controllers:
  A:
    place: garage wall
    supply: 24 V AC
    stations: 4
    polarity: {hot: red, common: black}
cables:
  K1:
    band: yellow tape
    singles: [{color: red, gauge: 14 AWG, flags: S1}]
    run: [A, 10 ft, VB-1]
boxes:
  VB-1:
    place: front walk
    size: 10 in round
    ties: [6.5 ft from wall]
    coordinates: 32.51490, -117.03820
  VB-9: {kind: pull box}
stations:
  A1: {area: front lawn, box: VB-1, device: doubling device, notes: keep clear of the oak}
decoders:
  D1: {box: VB-1, address: 201, serial: 300-555-1204}
sensors:
  RAIN: {kind: rain, controllers: A, place: eave}
spares:
  SP-1: {conductor: K1 red S1, reserved for: a pond}
changes:
  - {revision: 1, date: 2026-03-14, text: first issue}
"""


def told(text: str) -> list[tuple[int, int]]:
    found = (p for p in examined(text).problems if p.code == "private-text")
    return [(p.span.line, p.span.column) for p in found]


def test_no_field_of_a_usual_job_is_told() -> None:
    assert told(EVERY_FIELD) == []


@pytest.mark.parametrize("field", FIELDS)
def test_every_field_that_is_printed_is_looked_at(field: str) -> None:
    old, new = FIELDS[field]
    text = edit(EVERY_FIELD, old, new)
    value = new.strip().removesuffix(":").split(": ", 1)[-1]
    assert told(text) == [place_of(text, value)]


# What refers to a thing of the job is looked at where that thing gets its name.
REFERENCES = {"hot", "common", "conductor", "conductors", "return", "in common", "terminal"}
REFERENCES |= {"jumpers", "joints", "path 1", "path 2", "known"}


def test_no_other_field_is_a_text() -> None:
    """From the schema: an open text is a scalar of any kind without a pattern."""
    unread = set()

    def walk(record: BlockShape[Any]) -> None:
        for field in record.fields:
            shape: Any = field.shape
            while not isinstance(shape, PrintedText) and hasattr(shape, "inner"):
                shape = shape.inner
            shape = getattr(shape, "record", shape)
            if isinstance(shape, BlockShape):
                walk(shape)
            elif shape is TEXT:
                unread.add(field.key)

    walk(TOP)
    assert unread <= REFERENCES


@pytest.mark.parametrize("name", SAMPLES)
def test_the_samples_hold_nothing_private(name: str) -> None:
    job, _ = loaded(sample(name))
    assert job is not None
    assert len(job.texts) > 20
    assert [text.value for text in job.texts if private(text.value)] == []


def test_a_code_in_a_note_and_one_in_a_box() -> None:
    assert_problems(
        """
        boxes:
          VB-1: {place: "walk, gate code 12"} # <- error private-text @ "walk, gate code 12"
          VB-2:
            place: front bed
            ties: [6 ft from wall, code 4711] # <- error private-text @ code 4711
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2:
            area: side lawn
            box: VB-2
            hot: K1 blue
            notes:
              - keep clear of the oak
              - gate code 4711 # <- error private-text @ gate code 4711
    """
    )


def test_a_change_log_that_is_ahead_of_the_job() -> None:
    assert_problems("""
        changes:
          - {revision: 2, date: 2026-03-14, text: first issue}
          - {revision: 3, date: 2026-03-15, text: second} # <- warning change-ahead @ second
    """)
