"""Numbers that cannot be: each is told with its code at the very value, in one run.

Each case edits one spot of a sound sample job.
"""

from __future__ import annotations

import pytest

from cardgen.cli.messages import as_short
from tests.jobs import edit, examined, place_of, sample

LEG = "run: [A, 85 ft, VB-1, 60 ft, VB-2]"
COIL = "{supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A, minimum: 20 V}"


def leg(written: str) -> tuple[str, str]:
    return LEG, LEG.replace("85 ft", written)


def coil(old: str, new: str) -> tuple[str, str]:
    return COIL, COIL.replace(old, new)


# What is written, with the code and the text at whose start it is told.
CASES: dict[str, tuple[tuple[str, str], str, str]] = {
    "a length of zero": (leg("0 ft"), "out-of-range", "0 ft, VB-1"),
    "a length below zero": (leg("-85 ft"), "out-of-range", "-85 ft"),
    "an absurd length": (leg("850000 ft"), "out-of-range", "850000 ft"),
    "a length without a unit": (leg("85"), "unit-missing", "85, VB-1"),
    "a length in a unit of its own": (leg("85 yd"), "unit-unknown", "85 yd"),
    "a length with a comma": (leg("'8,5 ft'"), "comma", "'8,5 ft'"),
    "a length that is missing": (
        (LEG, LEG.replace("85 ft, ", "")),
        "run",
        "VB-1, 60 ft",
    ),
    "a current of zero": (coil("0.40 A", "0 A"), "out-of-range", "0 A, holding"),
    "a current below zero": (coil("0.40 A", "-0.4 A"), "out-of-range", "-0.4 A"),
    "an absurd current": (coil("0.40 A", "400 A"), "out-of-range", "400 A"),
    "a current without a unit": (coil("0.40 A", "0.40"), "unit-missing", "0.40, holding"),
    "a current in volts": (coil("0.40 A", "0.40 V"), "unit-unknown", "0.40 V"),
    "ohms of zero": (coil("30 ohm", "0 ohm"), "out-of-range", "0 ohm"),
    "absurd ohms": (coil("30 ohm", "30000 ohm"), "out-of-range", "30000 ohm"),
    "ohms that are missing": (
        coil("resistance: 30 ohm, ", ""),
        "missing",
        "usual: {supply: 24 V AC, inrush",
    ),
    "an inrush that the ohms do not let through": (
        coil("0.40 A", "4 A"),
        "coil-impossible",
        "usual: {supply",
    ),
    "a holding current above the inrush": (
        coil("0.23 A", "0.5 A"),
        "coil-impossible",
        "usual: {supply",
    ),
    "a gauge that nobody makes": (
        ("A-K1: {gauge: 18 AWG", "A-K1: {gauge: 17 AWG"),
        "gauge-not-made",
        "17 AWG",
    ),
    "a gauge without a unit": (
        ("A-K1: {gauge: 18 AWG", "A-K1: {gauge: 18"),
        "unit-missing",
        "18, palette: seven",
    ),
    "line voltage": (
        ("supply: 24 V AC\n", "supply: 120 V AC\n"),
        "out-of-range",
        "120 V AC\n",
    ),
    "meters among feet": (leg("26 m"), "units-mixed", "26 m"),
    "a leg ten times as long as the others": (leg("3000 ft"), "leg-out-of-scale", "3000 ft"),
}


@pytest.mark.parametrize("case", CASES)
def test_a_number_that_cannot_be_is_told_at_its_place(case: str) -> None:
    (old, new), code, start = CASES[case]
    text = edit(sample("larkspur"), old, new)
    line, column = place_of(text, start)
    found = [p for p in examined(text).problems if p.code == code]
    assert [(p.span.line, p.span.column) for p in found] == [(line, column)]
    assert as_short(found).startswith(f"job.yaml:{line}:{column}: ")


def test_all_are_told_in_one_run() -> None:
    text = edit(sample("larkspur"), LEG, LEG.replace("85 ft", "0 ft").replace("60 ft", "60"))
    text = edit(text, COIL, COIL.replace("0.40 A", "-1 A").replace("20 V", "20"))
    text = edit(text, "A-K2: {gauge: 18 AWG", "A-K2: {gauge: 17 AWG")
    codes = [p.code for p in examined(text).problems if p.verdict == "error"]
    assert sorted(codes) == sorted(
        ["out-of-range", "unit-missing", "out-of-range", "unit-missing", "gauge-not-made"]
    )


def test_one_length_that_cannot_be_read_is_one_error() -> None:
    """What hangs on that cable is unknown then, not wrong; a length of each kind of job."""
    for name, leg_text in (
        ("larkspur", "85 ft, VB-1"),
        ("quarry", "220 ft"),
        ("heron", "410 ft"),
        ("heron", "380 ft"),
    ):
        text = sample(name)
        before = {(p.code, p.sentence) for p in examined(text).problems}
        broken = text.replace(leg_text, leg_text.replace(" ft", " yd"), 1)
        new = [p for p in examined(broken).problems if (p.code, p.sentence) not in before]
        assert [p.code for p in new if p.verdict != "note"] == ["unit-unknown"], leg_text
