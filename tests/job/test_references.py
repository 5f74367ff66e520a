"""Names that refer to nothing, and names that stand for two things."""

from __future__ import annotations

import pytest

from tests.for_each import for_each
from tests.jobs import edit, loaded, place_of, problems_of

# Every kind of reference once, each by a name that stands nowhere else.
JOB = """\
job: {code: T-1, site: test, revision: 1, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
palettes: {pal1: [red, white, black]}
coils: {coil1: {supply: 24 V AC, resistance: 30 ohm}}
controllers:
  A: {place: wall, supply: 24 V AC, stations: 8, coil: coil1, box: B-1, common: A-K1 white from B-1}
  D: {place: wall, supply: two-wire, stations: 8, path 1: D-K1 red from B-1, path 2: D-K1 black}
cables:
  A-K1: {gauge: 18 AWG, palette: pal1, run: [A, 85 ft, B-1]}
  A-S1: {singles: [{color: red, gauge: 14 AWG, to: B-1}], run: [B-1, 85 ft, B-2]}
  D-K1: {gauge: 14 AWG, palette: pal1, run: [D, 85 ft, B-1]}
boxes: {B-1: , B-2: }
stations:
  A1: {area: lawn, box: B-1, coil: coil1, controller: A, terminal: 1, hot: A-K1 red}
  A2: {area: lawn, valves: {A2a: {box: B-1}, A2b: {box: B-2}}}
  D1: {area: lawn, box: B-1, decoder: DC-1}
master valves:
  MV: {controllers: [A], isolators: [A], box: B-1, coil: coil1, hot: A-K1 black}
relays:
  PUMP: {controller: A, box: B-1, coil: coil1, hot: A-K1 black}
decoders:
  DC-1: {controller: D, box: B-1, address: 1}
sensors:
  RAIN: {kind: rain, controllers: A}
spares:
  SP: {conductor: A-K1 black, to: B-1}
joints:
  B-1: [[A-K1 red, A1]]
surge units: [B-1]
"""


def test_names_that_refer_to_something() -> None:
    assert problems_of(JOB) == []


@for_each(
    ("old", "new", "found"),
    [
        ("8, coil: coil1", "8, coil: COIL9", "COIL9"),
        ("coil: coil1, box: B-1,", "coil: coil1, box: B-9,", "B-9"),
        ("A-K1 white from B-1", "A-K1 white from B-9", "A-K1 white from B-9"),
        ("D-K1 red from B-1", "D-K1 red from B-9", "D-K1 red from B-9"),
        ("path 2: D-K1 black", "path 2: D-K1 black from B-9", "D-K1 black from B-9"),
        ("18 AWG, palette: pal1", "18 AWG, palette: pal9", "pal9"),
        ("run: [A, 85 ft, B-1]", "run: [A, 85 ft, B-9]", "B-9"),
        ("run: [A, 85 ft, B-1]", "run: [X, 85 ft, B-1]", "X"),
        ("to: B-1}], run", "to: B-9}], run", "B-9"),
        ("A1: {area: lawn, box: B-1", "A1: {area: lawn, box: B-9", "B-9"),
        ("box: B-1, coil: coil1, controller: A,", "box: B-1, coil: c9, controller: A,", "c9"),
        ("controller: A, terminal", "controller: Z, terminal", "Z"),
        ("A2b: {box: B-2}", "A2b: {box: B-9}", "B-9"),
        ("decoder: DC-1", "decoder: DC-9", "DC-9"),
        ("controllers: [A]", "controllers: [Z]", "Z"),
        ("isolators: [A]", "isolators: [Z]", "Z"),
        ("isolators: [A], box: B-1", "isolators: [A], box: B-9", "B-9"),
        ("[A], box: B-1, coil: coil1", "[A], box: B-1, coil: c9", "c9"),
        ("PUMP: {controller: A", "PUMP: {controller: Z", "Z"),
        ("PUMP: {controller: A, box: B-1", "PUMP: {controller: A, box: B-9", "B-9"),
        (": {controller: A, box: B-1, coil: coil1", ": {controller: A, box: B-1, coil: c9", "c9"),
        ("controller: D, box", "controller: Z, box", "Z"),
        ("D, box: B-1", "D, box: B-9", "B-9"),
        ("kind: rain, controllers: A", "kind: rain, controllers: Z", "Z"),
        ("A-K1 black, to: B-1", "A-K1 black, to: B-9", "B-9"),
        ("B-1: [[", "B-9: [[", "B-9"),
        ("surge units: [B-1]", "surge units: [B-9]", "B-9"),
    ],
)
def test_name_of_nothing(old: str, new: str, found: str) -> None:
    text = edit(JOB, old, new)
    line, column = place_of(text, new)
    assert problems_of(text) == [("unknown-name", line, column + new.index(found))]


@pytest.mark.parametrize(
    ("old", "new", "way_out"),
    [
        ("palette: pal1, run: [A", "palette: pall, run: [A", "did you mean 'pal1'?"),
        ("surge units: [B-1]", "surge units: [B-9]", "did you mean 'B-1' or 'B-2'?"),
        ("surge units: [B-1]", "surge units: [zzz]", "there are 'B-1', 'B-2'"),
        ("decoder: DC-1", "decoder: 201", "there are 'DC-1'"),
    ],
)
def test_what_is_meant(old: str, new: str, way_out: str) -> None:
    (problem,) = loaded(edit(JOB, old, new))[1]
    assert problem.help == way_out


def test_name_where_there_is_none_of_its_kind() -> None:
    text = edit(JOB, "decoders:\n  DC-1: {controller: D, box: B-1, address: 1}\n", "")
    (problem,) = loaded(text)[1]
    assert problem.sentence == "there is no decoder 'DC-1'"
    assert problem.help == "no decoder is described in this job"


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("B-1: , B-2: }", "B-1: , B-2: {size: []}}"),
        ("B-1: , B-2: }", "B-1: , B-2: {sise: small}}"),
        ("B-1: , B-2: }", "B-1: , B 2: }"),
        ("B-1: , B-2: }", "B-1: , B\u20132: }"),
        ("B-1: , B-2: }", "B-1: , \u0412-2: }"),
    ],
    ids=ascii,
)
def test_name_of_something_that_could_not_be_read_is_not_reported_again(old: str, new: str) -> None:
    codes = [code for code, *_ in problems_of(edit(JOB, old, new))]
    assert codes in (["wrong-type"], ["unknown-key"], ["name"], ["look-alike-character"])


@pytest.mark.parametrize(
    ("old", "new", "found", "kinds"),
    [
        ("boxes: {B-1: , B-2: }", "boxes: {B-1: , B-2: , A: }", "A: }", "box and of a controller"),
        ("  A-S1:", "  B-2:", "B-2: {singles", "cable and of a box"),
        ("  A2: {", "  A-K1: {", "A-K1: {area", "station and of a cable"),
        ("  MV: {", "  A1: {", "A1: {controllers", "master valve and of a station"),
        ("  PUMP: {", "  MV: {", "MV: {controller:", "relay and of a master valve"),
        ("  RAIN: {", "  DC-1: {", "DC-1: {kind", "sensor and of a decoder"),
        ("  SP: {", "  RAIN: {", "RAIN: {conductor", "spare and of a sensor"),
        ("A2b: {", "A1: {", "A1: {box", "valve and of a station"),
    ],
)
def test_name_of_two_things(old: str, new: str, found: str, kinds: str) -> None:
    text = edit(JOB, old, new)
    (problem,) = [p for p in loaded(text)[1] if p.code != "unknown-name"]
    assert (problem.code, problem.span.line, problem.span.column) == (
        "name-used-twice",
        *place_of(text, found),
    )
    assert kinds in problem.sentence
    assert len(problem.also) == 1


def test_palettes_and_coils_may_be_named_like_anything() -> None:
    assert problems_of(JOB.replace("pal1", "A").replace("coil1", "B-1")) == []


@pytest.mark.parametrize(
    ("old", "new", "found"),
    [
        ("controllers: [A]", "controllers: [A, A]", "A]"),
        ("isolators: [A]", "isolators: [A, D, A]", "A]"),
        ("controllers: A}", "controllers: [A, D, A]}", "A]"),
        ("surge units: [B-1]", "surge units: [B-1, B-1]", "B-1]"),
    ],
)
def test_listed_twice(old: str, new: str, found: str) -> None:
    text = edit(JOB, old, new)
    line, column = place_of(text, new)
    assert problems_of(text) == [("listed-twice", line, column + new.rindex(found))]
