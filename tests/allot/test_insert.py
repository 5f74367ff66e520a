"""Where a hot is written into a file, and that nothing else in it changes."""

from __future__ import annotations

import re

import pytest

from cardgen.allot import allot
from cardgen.allot.insert import with_hots
from cardgen.job.starter import starter_job
from tests.allot.yards import refused
from tests.for_each import for_each
from tests.jobs import SAMPLES, edit, sample

ONE = {"A1": ["K1 red"]}
TWO = {"A1": ["K1 red", "K2 tan"]}


def written(text: str, hots: dict[str, list[str]] = ONE) -> str:
    return with_hots(text, hots)[0]


@for_each(
    ("old", "new"),
    [
        ("{area: x, box: VB-1}", "{area: x, box: VB-1, hot: K1 red}"),
        ("{box: VB-1, area: x}", "{box: VB-1, hot: K1 red, area: x}"),
        ("{area: x, box: VB-1,}", "{area: x, box: VB-1, hot: K1 red,}"),
        ("{ area: x , box: VB-1 }  # y", "{ area: x , box: VB-1, hot: K1 red }  # y"),
        ("{area: \"x, y\", box: 'VB-1'}", "{area: \"x, y\", box: 'VB-1', hot: K1 red}"),
        ("{area: x, box: B}", "{area: x, box: B, hot: K1 red}"),
        ("{area: x, box: &b VB-1}", "{area: x, box: &b VB-1, hot: K1 red}"),
        ("&e {area: x, box: VB-1}", "&e {area: x, box: VB-1, hot: K1 red}"),
        (
            "{area: x, valves: {A1a: {box: VB-1}, A1b: {box: VB-1}}}",
            "{area: x, hot: K1 red, valves: {A1a: {box: VB-1}, A1b: {box: VB-1}}}",
        ),
        ('{"area":"x","box":"VB-1"}', '{"area":"x","box":"VB-1", "hot": "K1 red"}'),
        (
            "{area: Gärten \U0001f333, box: VB-1}",
            "{area: Gärten \U0001f333, box: VB-1, hot: K1 red}",
        ),
        (
            "{area: x,  # lawn\n    # and more\n    box: VB-1  # walk\n  }",
            "{area: x,  # lawn\n    # and more\n    box: VB-1, hot: K1 red  # walk\n  }",
        ),
        (
            "{area: x, box:\n    VB-1}",
            "{area: x, box:\n    VB-1, hot: K1 red}",
        ),
        (
            '{area: "x\n    y", box:\n    VB-1}',
            '{area: "x\n    y", box:\n    VB-1, hot: K1 red}',
        ),
        (
            "\n    area: x   # a\n    box: VB-1 # b\n    # after\n    notes: z",
            "\n    area: x   # a\n    box: VB-1 # b\n    hot: K1 red\n    # after\n    notes: z",
        ),
        (
            "\n      area: x\n\n      valves: {A1a: {box: B}, A1b: {box: B}}",
            "\n      area: x\n      hot: K1 red\n\n      valves: {A1a: {box: B}, A1b: {box: B}}",
        ),
        (
            "\n    box:\n      VB-1\n    area: >\n      x\n      y",
            "\n    box:\n      VB-1\n    hot: K1 red\n    area: >\n      x\n      y",
        ),
        (
            "\n    'area': x\n    'box': VB-1",
            "\n    'area': x\n    'box': VB-1\n    'hot': 'K1 red'",
        ),
    ],
)
@for_each("ending", ["\n", "\r\n", "\r"])
@for_each("tail", ["\nboxes:\n  VB-1: {}\n", "\n", ""])
def test_a_hot_goes_in_at_its_place(old: str, new: str, ending: str, tail: str) -> None:
    before = f"# stations\nstations:\n  A1: {old}{tail}".replace("\n", ending)
    after = f"# stations\nstations:\n  A1: {new}{tail}".replace("\n", ending)
    assert written(before) == after


def test_several_conductors_are_a_list() -> None:
    assert written("stations: {A1: {box: VB-1}}", TWO) == (
        "stations: {A1: {box: VB-1, hot: [K1 red, K2 tan]}}"
    )
    assert written('{"stations": {"A1": {"box": "VB-1"}}}', TWO) == (
        '{"stations": {"A1": {"box": "VB-1", "hot": ["K1 red", "K2 tan"]}}}'
    )


def test_an_entry_that_is_repeated_from_elsewhere_is_left() -> None:
    text = "stations:\n  A0: &e {box: VB-1}\n  A1: *e\n"
    assert with_hots(text, ONE) == (text, ("A1",))


def test_no_hot_can_be_written_into_a_repeated_entry() -> None:
    text = edit(
        sample("larkspur"),
        '  A1: {area: "front lawn west, spray", box: VB-1, hot: A-K1 red}\n'
        '  A2: {area: "front lawn east, spray", box: VB-1, hot: A-K1 blue}\n',
        "  A1: &e {area: front lawn, box: VB-1}\n  A2: *e\n",
    )
    (problem,) = refused(text).problems
    assert problem.code == "hot-not-written"
    assert problem.sentence.startswith("the entry of A2 is laid out so that")


def without_hots(text: str) -> str:
    """A sample whose stations name no conductor."""
    start = text.index("\nstations:")
    end = next((m.start() for m in re.finditer(r"\n\n?(?=[a-z])", text) if m.start() > start), None)
    part = re.sub(r", hot: (\[[^\]]*\]|[^,}\]\n]+)", "", text[start:end])
    return text[:start] + part + (text[end:] if end else "")


@pytest.mark.parametrize("name", SAMPLES)
def test_a_sample_without_hots_comes_back_to_the_letter(name: str) -> None:
    text = sample(name)
    assert "hot:" not in without_hots(text).partition("\nstations:")[2].partition("\n\n")[0]
    assert allot(without_hots(text)).text == text


def test_the_starter_comes_back_with_its_remarks() -> None:
    text = starter_job("7Q2F9KX4M3T8")
    bare = re.sub(r"^ +hot:.*\n", "", text, flags=re.MULTILINE)
    found = allot(bare)
    assert found.text is not None
    assert re.sub(r"^ +hot:.*\n", "", found.text, flags=re.MULTILINE) == bare
    assert (
        "    box: VB-1                  # the box its valve is in\n    hot: A-K1 red\n"
        in found.text
    )


def test_an_error_that_comes_with_the_hots_is_told_at_its_place_in_the_old_file() -> None:
    text = edit(
        without_hots(sample("larkspur")), "common: [A-K1 white, A-K2 white]", "common: A-K1 white"
    )
    (problem,) = refused(text).problems
    assert "A4 and A5 have no return" in problem.sentence
    line = text.splitlines()[problem.span.line - 1]
    assert line[problem.span.column - 1 :][: problem.span.length] == "A-K1 white"


def test_an_error_in_a_hot_is_told_at_its_station() -> None:
    text = edit(without_hots(sample("larkspur")), "60 ft, VB-2]", "6000 ft, VB-2]")
    problems = [p for p in refused(text).problems if p.code == "volts-too-low"]
    for problem in problems:
        line = text.splitlines()[problem.span.line - 1]
        assert line[problem.span.column - 1 :].startswith(("A3:", "A6:"))
    assert problems
