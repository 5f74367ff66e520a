"""Loading and examining never raise, whatever is in the file."""

from __future__ import annotations

import string

import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.examine import examine_text
from cardgen.job import load_text
from cardgen.job.job_loader import TOP
from cardgen.job.starter import starter_job
from cardgen.problems import Problem
from cardgen.reading.files import decode
from cardgen.reading.shapes import BlockShape, Shape, TableOf
from tests.jobs import SAMPLES, sample, well_said

SOME = settings(max_examples=100)
TEXTS = {name: sample(name) for name in SAMPLES if name != "heron"}  # it is the same, but longer
TEXTS["starter"] = starter_job("7Q2F9KX4M3T8")


def judge(text: str, problems: tuple[Problem, ...]) -> None:
    """Each problem is well said and lies within the file."""
    for problem in problems:
        well_said(problem)
    placed(text, problems)


def placed(text: str, problems: tuple[Problem, ...]) -> None:
    """Each problem lies within the file."""
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    for problem in problems:
        place = problem.span
        assert place.line <= len(lines) + 1  # the end of the file may be what is wrong
        if place.line <= len(lines):
            assert place.column <= len(lines[place.line - 1]) + 1


def load_bytes(data: bytes) -> None:
    text, problems = decode(data, "job.yaml")
    assert (text is None) <= bool(problems)
    if text is not None:
        judge(text, (*problems, *load_text(text, "job.yaml")[1]))


@SOME
@given(st.binary(max_size=300))
def test_any_bytes(data: bytes) -> None:
    load_bytes(data)


@SOME
@given(st.text(max_size=200))
def test_any_text(text: str) -> None:
    job, problems = load_text(text, "job.yaml")
    assert job is None or problems
    judge(text, problems)


@SOME
@given(st.text(alphabet="ab-:{}[],'\"&*!?|>#%@ \n\t\\", max_size=60))
def test_any_text_that_looks_like_yaml(text: str) -> None:
    judge(text, load_text(text, "job.yaml")[1])


def keys_of(shape: Shape[object]) -> set[str]:
    if isinstance(shape, TableOf):
        return keys_of(shape.record)
    if not isinstance(shape, BlockShape):
        return set()
    return {f.key for f in shape.fields}.union(*(keys_of(f.shape) for f in shape.fields))


KEYS = sorted(keys_of(TOP))
VALUES = (
    *("A", "A1", "VB-1", "A-K1 red", "24 V AC", "two-wire", "DC latching", "30 ohm", "0.4 A"),
    *("85 ft", "18 AWG", "red", "yes", "no", "8", "0", "1 to 8", "", "~", "C", "SEN", "2026-03-14"),
    *("normally open", "rain", "7Q2F9KX4M3T8", "https://jobs.example.com", "\u0410"),
)  # fmt: skip
SCALARS = st.sampled_from(VALUES) | st.text(max_size=8) | st.none() | st.integers() | st.booleans()
NAMES = st.sampled_from((*KEYS, "A", "B", "A1", "VB-1", "A-K1")) | st.text(max_size=5)
TREES = st.recursive(
    SCALARS,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(NAMES, inner, max_size=5),
    max_leaves=30,
)


@SOME
@given(st.dictionaries(st.sampled_from([f.key for f in TOP.fields]), TREES, max_size=6))
def test_any_yaml(tree: object) -> None:
    text = yaml.safe_dump(tree, allow_unicode=True, sort_keys=False)
    judge(text, load_text(text, "job.yaml")[1])
    placed(text, examine_text(text).problems)


PIECES = (
    *VALUES,
    *(
        ":",
        ": ",
        "- ",
        "[",
        "]",
        "{",
        "}",
        ",",
        "'",
        '"',
        "#",
        "\n",
        "  ",
        "\t",
        "&a ",
        "*a",
        "!x ",
    ),
    *("\r\n", "\u00a0", "\u2013", "\0", "in", "out", " from VB-1", "B", "VB-3"),
)


@st.composite
def edited_samples(draw: st.DrawFn) -> str:
    """A sample with a few pieces put in, taken out, or put in the place of words."""
    text = draw(st.sampled_from(list(TEXTS.values())))
    for _ in range(draw(st.integers(1, 4))):
        start = draw(st.integers(0, len(text)))
        end = start
        if draw(st.booleans()):  # a whole word
            while start and text[start - 1] in string.ascii_letters + string.digits + "-.":
                start -= 1
            while end < len(text) and text[end] in string.ascii_letters + string.digits + "-.":
                end += 1
        else:
            end += draw(st.integers(0, 12))
        piece = draw(st.sampled_from(("", *PIECES)) | st.text(max_size=3))
        text = text[:start] + piece + text[end:]
    return text


@settings(max_examples=150)
@given(edited_samples())
def test_sample_with_random_edits(text: str) -> None:
    judge(text, load_text(text, "job.yaml")[1])
    placed(text, examine_text(text).problems)


@st.composite
def lines_out_of_place(draw: st.DrawFn) -> str:
    """A sample with a line deleted, doubled, moved or indented otherwise."""
    lines = draw(st.sampled_from(list(TEXTS.values()))).splitlines(keepends=True)
    index = draw(st.integers(0, len(lines) - 1))
    line = lines.pop(index)
    to = draw(st.integers(0, len(lines)))
    change = draw(st.sampled_from(["delete", "double", "move", "indent", "outdent"]))
    if change == "double":
        lines[index:index] = [line, line]
    elif change == "move":
        lines.insert(to, line)
    elif change != "delete":
        lines.insert(index, "  " + line if change == "indent" else line.removeprefix("  "))
    return "".join(lines)


@SOME
@given(lines_out_of_place())
def test_sample_with_a_line_out_of_place(text: str) -> None:
    judge(text, load_text(text, "job.yaml")[1])
    placed(text, examine_text(text).problems)


@SOME
@given(st.sampled_from(list(TEXTS.values())), st.data())
def test_sample_cut_short(text: str, data: st.DataObject) -> None:
    load_bytes(text.encode()[: data.draw(st.integers(0, len(text)))])
