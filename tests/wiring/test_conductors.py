"""Cables as single conductors, and the names by which a person asks for one."""

from __future__ import annotations

import pytest

from cardgen.job import load_text
from cardgen.problems import Problem
from cardgen.wiring.conductor_catalog import Catalog
from tests.wiring.trench import job, said, wired

CABLES = """
palettes: {four: [white, red, blue, green]}
cables:
  K1: {gauge: 18 AWG, palette: four, run: [A, 10 ft, VB-1, 10 ft, VB-2]}
  S1:
    singles:
      - {color: red, gauge: 14 AWG, flags: [A1 to A3]}
      - {color: white/blue, gauge: 12 AWG}
      - {color: orange, gauge: 14 AWG, count: 2}
    run: [A, 10 ft, VB-1, 10 ft, VB-2]
boxes: {VB-1: {}, VB-2: {}}
"""


def test_every_conductor_has_its_name() -> None:
    read, _ = load_text(job(CABLES), "job.yaml")
    assert read
    assert list(Catalog(read).by_name) == [
        *("K1 white", "K1 red", "K1 blue", "K1 green"),
        *("S1 red A1", "S1 red A2", "S1 red A3", "S1 white/blue", "S1 orange #1", "S1 orange #2"),
    ]


def asked(words: str) -> list[str]:
    """What is found when a hot names these words."""
    return said(job(CABLES + f"stations: {{A1: {{area: a, box: VB-1, hot: {words}}}}}"))


@pytest.mark.parametrize(
    "words", ["K1 red", "K1  RED", "S1 red A2", "S1 white/blue", "S1 White / Blue"]
)
def test_names_that_are_found(words: str) -> None:
    assert asked(words) == []


@pytest.mark.parametrize(
    ("words", "finding"),
    [
        ("K9 red", "unknown-name: there is no cable 'K9'"),
        ("K1", "no-such-conductor: 'K1' names no conductor"),
        ("K1 rad", "no-such-conductor: 'K1 rad' names no conductor"),
        ("K1 tan", "no-such-conductor: K1 has no tan conductor"),
        ("S1 red", "no-such-conductor: in S1 no flag is named"),
        ("S1 red A9", "no-such-conductor: in S1 no red conductor is flagged 'A9'"),
        (
            "S1 orange",
            "singles-without-flags: S1 has 2 orange conductors and nothing tells them apart",
        ),
    ],
)
def test_names_that_are_not(words: str, finding: str) -> None:
    assert asked(words) == [finding]


@pytest.mark.parametrize(
    ("words", "way_out"),
    [
        ("K1 bleu", "did you mean 'K1 blue'?"),
        ("K1 gren", "did you mean 'K1 green'?"),
        ("K1", "write cable and color: 'K1 white'"),
        ("K1 zzz", "write cable and color: 'K1 white'"),
    ],
)
def test_a_color_that_is_nearly_right_is_told(words: str, way_out: str) -> None:
    text = job(CABLES + f"stations: {{A1: {{area: a, box: VB-1, hot: {words}}}}}")
    read, _ = load_text(text, "job.yaml")
    assert read
    found = Catalog(read).find(words, read.boxes["VB-1"].span)
    assert isinstance(found, Problem)
    assert found.help == way_out


def cable(text: str) -> list[str]:
    """What is found about a cable that nothing uses."""
    body = (
        f"cables:\n  K1: {{gauge: 18 AWG, colors: [white], run: [A, 1 ft, VB-1]}}\n  K2: {text}\n"
    )
    return said(job(body + "boxes: {VB-1: {}, VB-2: {}}\n"))


RUN = "run: [A, 10 ft, VB-1]"


@pytest.mark.parametrize(
    ("text", "finding"),
    [
        (
            f"{{gauge: 18 AWG, colors: [blue], singles: [{{color: red, gauge: 14 AWG}}], {RUN}}}",
            "cable-makeup: K2 has singles and a palette",
        ),
        (f"{{gauge: 18 AWG, {RUN}}}", "cable-makeup: the colors in K2 are not given"),
        (f"{{colors: [red], {RUN}}}", "missing: K2 has no 'gauge'"),
        (
            f"{{gauge: 18 AWG, colors: [red, red], {RUN}}}",
            "cable-makeup: K2 has more than one conductor 'K2 red'",
        ),
        (
            "{gauge: 18 AWG, colors: [red], run: [A, 1 ft, VB-1, 1 ft, VB-2, 1 ft, VB-1]}",
            "run-returns: the run of K2 goes through 'VB-1' twice",
        ),
        (
            f"{{singles: [{{color: red, gauge: 14 AWG, to: VB-2}}], {RUN}}}",
            "run-misses-box: the run of K2 does not reach 'VB-2'",
        ),
        (
            f"{{singles: [{{color: red, gauge: 14 AWG, to: A}}], {RUN}}}",
            "run-misses-box: a single of K2 is given from 'A' to 'A', which is not a stretch of it",
        ),
    ],
)
def test_cables_that_are_no_list_of_conductors(text: str, finding: str) -> None:
    assert cable(text) == [finding]


def test_what_uses_a_broken_cable_is_not_spoken_of_again() -> None:
    body = """
cables: {K1: {gauge: 18 AWG, colors: [white, red, red], run: [A, 1 ft, VB-1]}}
boxes: {VB-1: {}}
stations: {A1: {area: a, box: VB-1, hot: K1 red}}
joints: {VB-1: [[K1 red, A1]]}
"""
    assert said(job(body)) == ["cable-makeup: K1 has more than one conductor 'K1 red'"]


def test_a_single_ends_where_its_use_ends() -> None:
    body = CABLES + "stations: {A1: {area: a, box: VB-1, hot: S1 red A1}}"
    conductors = wired(job(body))[0].conductors
    assert conductors["S1 red A1"].places == ("A", "VB-1")
    assert conductors["S1 red A2"].places == ("A", "VB-1", "VB-2")  # nothing says where it ends


def test_a_single_goes_as_far_as_is_said() -> None:
    body = CABLES.replace("flags: [A1 to A3]", "flags: [A1 to A3], to: VB-2")
    conductors = wired(job(body + "stations: {A1: {area: a, box: VB-1, hot: S1 red A1}}"))[0]
    assert conductors.conductors["S1 red A1"].places == ("A", "VB-1", "VB-2")


def test_of_a_color_alone_four_conductors_are_offered_at_most() -> None:
    sixth = "  K2: {gauge: 18 AWG, palette: four, run: [A, 10 ft, VB-1]}\nboxes:"
    text = job(CABLES.replace("boxes:", sixth) + "stations: {A1: {area: a, box: VB-1, hot: red}}")
    (problem,) = (p for p in wired(text)[1] if p.code == "no-such-conductor")
    offered = [
        name
        for name in ("K1 red", "S1 red A1", "S1 red A2", "S1 red A3", "K2 red")
        if name in problem.help
    ]
    assert offered == ["K1 red", "S1 red A1", "S1 red A2", "S1 red A3"]
