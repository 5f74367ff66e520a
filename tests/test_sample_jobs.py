"""The sample jobs: what is found in each, what each station reads, and what one mistake brings."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from cardgen.job.quantities import FLAGS
from cardgen.problems import Problem, Verdict
from tests.jobs import SAMPLES, Found, edit, examined, place_of, sample

Expected = tuple[tuple[str, str], ...]  # code, and the text that starts at its place

FINDINGS: dict[str, Expected] = {
    "larkspur": (
        ("several-commons", "A-K2 white]"),
        ("sensor-on-terminals", "RAIN: {"),
    ),
    "quarry": (
        ("several-commons", "A-K2 white]"),
        ("told-apart-by-flags", "A-S1:\n"),
        ("shared-box", "VB-3: {"),
        ("shared-box", "VB-5: {"),
        ("twin", "A10: {"),
        ("master-valve", "MV-1:\n"),
        ("master-valve-shared", "MV-1:\n"),
        ("color-change", "SB-1:\n"),
    ),
    "heron": (
        ("several-commons", "A-S white COM-A]"),
        ("several-commons", "B-W white/blue COM-B]\n  C:"),
        ("several-commons", "C-2 white/black COM-C]"),
        *(("told-apart-by-flags", f"{run}:\n") for run in ("A-N", "A-S", "B-E", "B-W", "C-2")),
        ("no-spare", "C-1:\n"),
        ("normally-open", "MV-A: {"),
        ("pump-relay", "PUMP-A:\n"),
        ("sensor-in-common", "B-E white/blue COM-B, B-W white/blue COM-B]\n    place"),
        ("sensor-on-terminals", "RAIN-C: {"),
    ),
    "sandpiper": (
        ("several-commons", "P-K1 white P2, P-K1"),
        ("told-apart-by-flags", "P-K1:\n"),
        ("master-valve", "MV-P: {"),
        ("sensor-on-terminals", "RAIN: {"),
    ),
}


def places(text: str, expected: Expected) -> list[Found]:
    found = [(code, *place_of(text, start)) for code, start in expected]
    return sorted(found, key=lambda f: (f[1:], f[0]))


def findings(text: str, *, notes: bool = True) -> list[Found]:
    wanted = [p for p in examined(text).problems if notes or p.verdict is not Verdict.NOTE]
    return [(p.code, p.span.line, p.span.column) for p in wanted]


@pytest.mark.parametrize("name", SAMPLES)
def test_findings(name: str) -> None:
    text = sample(name)
    assert findings(text) == places(text, FINDINGS[name])


@pytest.mark.parametrize("name", SAMPLES)
def test_no_errors(name: str) -> None:
    verdicts = {p.code: p.verdict for p in examined(sample(name)).problems}
    assert Verdict.ERROR not in verdicts.values()
    warnings = [code for code, verdict in verdicts.items() if verdict is Verdict.WARNING]
    assert warnings == (["no-spare"] if name == "heron" else [])


# Ohms at the controller, volts at the coil at inrush.  Worked out apart from this program, on
# paper: length x ohms per 1000 ft of copper at 20 C (published: 18 AWG 6.385, 14 AWG 2.525,
# 12 AWG 1.588), out and back, plus the coil; 24 V less 0.40 A through the same wire.
READINGS: dict[str, tuple[tuple[str, float, float], ...]] = {
    "larkspur": (
        ("A1 to A2", 31.1, 23.6),
        ("A3", 31.9, 23.3),
        ("A4 to A5", 31.8, 23.3),
        ("A6", 31.9, 23.3),
    ),
    "quarry": (
        ("A1 to A3", 33.2, 22.7),
        ("A4 to A6", 33.7, 22.5),
        ("A7 to A8", 34.3, 22.3),
        ("A9", 32.3, 23.1),
        ("A10", 17.3, 22.2),
        ("A11 to A12", 35.2, 21.9),
        ("A13 to A14", 37.2, 21.1),
        ("B1 to B2", 31.8, 23.3),
        ("B3 to B5", 34.2, 22.3),
        ("B6 to B8", 36.0, 21.6),
        ("B9 to B10", 38.8, 20.5),
        ("MV-1", 33.1, 22.8),
    ),
    "heron": (
        ("A1 to A3", 30.7, 23.7),
        ("A4 to A6", 31.6, 23.3),
        ("A7 to A9", 32.6, 22.9),
        ("A10 to A12", 33.9, 22.4),
        ("A13 to A15", 34.7, 22.1),
        ("A16 to A18", 35.8, 21.7),
        ("A19 to A21", 37.1, 21.2),
        ("A22 to A24", 38.3, 20.7),
        ("A25 to A27", 30.6, 23.8),
        ("A28 to A30", 31.4, 23.4),
        ("A31 to A33", 32.5, 23.0),
        ("A34 to A36", 33.5, 22.6),
        ("A37 to A39", 34.7, 22.1),
        ("A40 to A42", 36.2, 21.5),
        ("A43 to A45", 37.3, 21.1),
        ("A46 to A48", 38.6, 20.5),
        ("B1 to B3", 30.5, 23.8),
        ("B4 to B6", 31.3, 23.5),
        ("B7 to B9", 32.4, 23.1),
        ("B10 to B12", 33.7, 22.5),
        ("B13 to B15", 34.9, 22.0),
        ("B16 to B18", 36.4, 21.4),
        ("B19 to B21", 30.6, 23.8),
        ("B22 to B24", 31.8, 23.3),
        ("B25 to B27", 32.7, 22.9),
        ("B28 to B30", 34.3, 22.3),
        ("B31 to B33", 35.8, 21.7),
        ("B34 to B36", 37.6, 21.0),
        ("C1 to C3", 30.8, 23.7),
        ("C4 to C6", 32.2, 23.1),
        ("C7 to C9", 34.0, 22.4),
        ("C10 to C12", 35.9, 21.7),
        ("C13 to C15", 31.7, 23.3),
        ("C16 to C18", 33.3, 22.7),
        ("C19 to C21", 35.2, 21.9),
        ("C22 to C24", 37.3, 21.1),
    ),
}
# 260 ft of 14 AWG out and back before 30 ohms; 25 ft of 12 AWG before the relay's 45 ohms, 0.60 A.
HERON_BESIDE = (("MV-A", 31.3, 23.5), ("PUMP-A", 45.1, 24.0))
ROUNDED = 0.06  # both are rounded to a tenth, from copper tables that differ in the fourth digit


def expected_readings(name: str) -> Iterator[tuple[str, float, float]]:
    for stations, ohms, volts in (*READINGS[name], *(HERON_BESIDE if name == "heron" else ())):
        names = FLAGS.parse(stations) if " to " in stations else (stations,)
        yield from ((each, ohms, volts) for each in names)


@pytest.mark.parametrize("name", READINGS)
def test_readings(name: str) -> None:
    readings = examined(sample(name)).readings
    wrong = []
    for station, ohms, volts in expected_readings(name):
        reading = readings[station]
        assert reading.ohms is not None
        lowest = min(reading.volts.values())
        if abs(reading.ohms - ohms) > ROUNDED or abs(lowest - volts) > ROUNDED:
            wrong.append((station, reading.ohms, lowest))
    assert wrong == []


@pytest.mark.parametrize("name", READINGS)
def test_every_station_is_in_the_tables(name: str) -> None:
    job = examined(sample(name)).job
    assert job is not None
    wired = {s.id for s in job.stations.values() if s.decoder is None}
    listed = {station for station, *_ in expected_readings(name)}
    assert listed == wired | set(job.master_valves) | set(job.relays)


# A latching coil of 5 ohms behind 2 ft, 45 ft and 60 ft of 14 AWG out and back.
@pytest.mark.parametrize(
    ("station", "ohms"), [("P1", 5.0), ("P2", 5.0), ("P3", 5.2), ("P4", 5.2), ("MV-P", 5.3)]
)
def test_latching_coils_have_ohms_but_no_volts(station: str, ohms: float) -> None:
    reading = examined(sample("sandpiper")).readings[station]
    assert reading.ohms == pytest.approx(ohms, abs=ROUNDED)
    assert reading.volts == {}


def test_decoder_stations_have_no_ohms_at_the_controller() -> None:
    readings = examined(sample("heron")).readings
    assert [r for station, r in readings.items() if station.startswith("D") and r.ohms] == []


def test_heron_counts() -> None:
    job = examined(sample("heron")).job
    assert job is not None
    wired = [s for s in job.stations.values() if s.decoder is None]
    assert (len(wired), len(job.decoders), len(job.stations)) == (108, 8, 116)
    assert len({s.box.value for s in wired if s.box}) == 36
    assert sum(len(c.common) for c in job.controllers.values()) == 6
    assert len(job.spares) == 5 * 3
    assert len([b for b in job.boxes.values() if b.kind]) == 4


def test_boxes_of_heron_lie_as_far_out_as_they_should() -> None:
    job = examined(sample("heron")).job
    assert job is not None
    ends = {
        cable.id: (
            cable.run[-1].at,
            sum(s.leg.value.amount for s in cable.run if s.leg and s.leg.value),
        )
        for cable in job.cables.values()
    }
    assert {run: ends[run] for run in ("A-N", "A-S", "B-E", "B-W", "C-1", "C-2")} == {
        "A-N": ("A-08", 2010),
        "A-S": ("A-16", 2100),
        "B-E": ("B-06", 1270),
        "B-W": ("B-12", 1500),
        "C-1": ("C-04", 460),
        "C-2": ("C-08", 1780),
    }


def break_of(name: str, *edits: tuple[str, str]) -> str:
    text = sample(name)
    for old, new in edits:
        text = edit(text, old, new)
    return text


# Each mistake: the sample, what is written instead, and what is found besides the notes.
MISTAKES: dict[str, tuple[str, tuple[tuple[str, str], ...], Expected, str]] = {
    "common left out of a leg": (
        "quarry",
        (("A-K2 white in, A-K2 white out,", "A-K2 white in,"),),
        (("common-stops", "[A-K2 white in, A9"),),
        "A11 to A14",
    ),
    "commons of two controllers joined": (
        "quarry",
        (
            ("    - [A-S1 white, A7, A8]\n", ""),
            ("B-K1 white out, B1, B2]", "B-K1 white out, B1, B2, A-S1 white, A7, A8]"),
            ("1-2 x 14 AWG + 1-4 x 18 AWG", "1-2 x 14 AWG + 1-6 x 18 AWG"),
        ),
        (("commons-joined", "[B-K1 white in"),),
        "'VB-3'",
    ),
    "commons joined in a connector that is too small": (
        "quarry",
        (
            ("    - [A-S1 white, A7, A8]\n", ""),
            ("B-K1 white out, B1, B2]", "B-K1 white out, B1, B2, A-S1 white, A7, A8]"),
        ),
        (("commons-joined", "[B-K1 white in"), ("connector-overfilled", "[B-K1 white in")),
        "'VB-3'",
    ),
    "conductor given as spare and to a station": (
        "quarry",
        (
            ("hot: [A-K1 pink,", "hot: [A-K1 tan,"),
            ("- [A-K1 pink, A-S1 red A8]", "- [A-K1 tan, A-S1 red A8]"),
        ),
        (("spare-in-use", "A-K1 tan, to"),),
        "A8",
    ),
    "hots crossed at a splice box": (
        "quarry",
        (
            ("- [A-K1 blue, A-S1 red A2]", "- [A-K1 green, A-S1 red A2]"),
            ("- [A-K1 green, A-S1 red A3]", "- [A-K1 blue, A-S1 red A3]"),
        ),
        (("hot-crossed", "[A-K1 green, A-S1 red A2]\n"),),
        "A2",
    ),
    "twin on the longest leg": (
        "heron",
        (
            (
                "A48: {area: far hedge beds drip, box: A-16, hot",
                "A48: {area: far hedge, valves: {A48a: {box: A-16}, A48b: {box: A-16}}, hot",
            ),
        ),
        (("volts-too-low", "A48: {"),),
        "17.1 V",
    ),
    "decoder address twice": (
        "heron",
        (("address: 202", "address: 201"),),
        (("address-twice", "201, to valve: 3 ft"),),
        "DC-201 and DC-202",
    ),
    "decoder far from its valve": (
        "heron",
        (("address: 205, to valve: 4 ft", "address: 205, to valve: 25 ft"),),
        (("decoder-too-far", "25 ft}"),),
        "DC-205",
    ),
    "rain sensor in one of two commons": (
        "heron",
        (("COM-B, B-W white/blue COM-B]\n    place", "COM-B]\n    place"),),
        (("sensor-in-one-common", "B-E white/blue COM-B]\n    place"),),
        "B19 to B36",
    ),
    "latching leads exchanged": (
        "sandpiper",
        (
            ("[P-K1 red P3, P3 red]", "[P-K1 red P3, P3 black]"),
            ("[P-K1 white P3, P3 black]", "[P-K1 white P3, P3 red]"),
        ),
        (("polarity-reversed", "[P-K1 white P3, P3 red]"),),
        "P3",
    ),
    "AC coil on a battery controller": (
        "sandpiper",
        (
            ("coils:\n", "coils:\n  ac: {supply: 24 V AC, resistance: 30 ohm}\n"),
            ("P1: {area: entrance planter,", "P1: {area: entrance planter, coil: ac,"),
        ),
        (("coil-on-wrong-supply", "ac, box"),),
        "P1",
    ),
    "conductor in two stations": (
        "larkspur",
        (("hot: A-K2 blue", "hot: A-K2 red"),),
        (("conductor-used-twice", "A-K2 red}\n  A6"),),
        "A4 and to A5",
    ),
    "sensor jumper left in": (
        "larkspur",
        (("sensor jumper: removed", "sensor jumper: fitted"),),
        (("sensor-jumper", "fitted"),),
        "RAIN",
    ),
}


def worse_than_notes(text: str) -> list[Problem]:
    problems = examined(text).problems
    expected = {"no-spare"}  # the sample heron has it, with or without a mistake
    return [p for p in problems if p.verdict is not Verdict.NOTE and p.code not in expected]


@pytest.mark.parametrize("mistake", MISTAKES)
def test_one_mistake_brings_its_finding_and_no_other(mistake: str) -> None:
    name, edits, expected, named = MISTAKES[mistake]
    text = break_of(name, *edits)
    problems = worse_than_notes(text)
    found = [(p.code, p.span.line, p.span.column) for p in problems]
    assert found == places(text, expected)
    assert any(named in p.sentence for p in problems)
