"""What `check` tells of paper: all that `print` would refuse, on the same stock."""

from __future__ import annotations

from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import make_print
from cardgen.output.room import misfits
from cardgen.problems import Verdict
from tests.jobs import edit, examined, place_of, sample

LONG = " ".join(["W" * 24] * 6)
# A text of larkspur that some card, sheet or page prints, and what takes its place.
PRINTED = {
    "an area": ('"front beds, drip"', "{}"),
    "the site": ("site: Larkspur Cottage", "site: {}"),
    "a box": ("place: front walk", "place: {}"),
    "the place of a controller": ("garage wall", "{}"),
    "the place of a sensor": ("garage eave", "{}"),
    "a tie": ("6.5 ft from garage corner", "{}"),
    "a size": ("12 x 17 in, ties", "{}, ties"),
    "a band": ("yellow tape", "{}"),
    "the owner": ("revision: 1", "revision: 1, owner: {}"),
    "a spare": (
        "sensors:\n",
        "spares:\n  S1: {{conductor: A-K1 orange, reserved for: {}}}\nsensors:\n",
    ),
}


def with_text(what: str, text: str) -> str:
    spot, written = PRINTED[what]
    return edit(sample("larkspur"), spot, written.format(f'"{text}"'))


def test_check_finds_what_print_refuses() -> None:
    """By a letter that no font has, and by words that have no room anywhere."""
    request = PrintRequest()
    refused: set[str] = set()
    for what in PRINTED:
        for text in ("the \u5ead gate", LONG):
            job = examined(with_text(what, text))
            assert not job.has_errors, what
            told = misfits(job, request)
            made, _ = make_print(job, request)
            assert (made is None) == bool(told), (what, text)
            refused |= {what} if told else set()
    assert refused == PRINTED.keys()


def test_a_letter_is_told_once_at_its_text_as_an_error() -> None:
    """It is on a legend, sheets, a drawing and a tag; the place is that of the text."""
    text = edit(sample("larkspur"), '"front beds, drip"', "the \u5ead gate")
    (problem,) = misfits(examined(text), PrintRequest())
    assert problem.verdict is Verdict.ERROR
    assert (problem.span.line, problem.span.column) == place_of(text, "the \u5ead gate")
    assert problem.sentence == (
        "'the \u5ead gate' has '\u5ead' (U+5EAD), which the fonts cannot print"
    )


def test_what_has_no_room_is_a_warning() -> None:
    text = edit(sample("larkspur"), "garage wall", LONG)
    problems = misfits(examined(text), PrintRequest())
    assert problems
    assert {problem.verdict for problem in problems} == {Verdict.WARNING}
