"""What `check` tells of paper: all that `print` would refuse, on the same stock."""

from __future__ import annotations

import random
import re
from collections import Counter
from collections.abc import Iterable

import pytest

from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import make_print
from cardgen.output.room import misfits
from cardgen.problems import Problem, Verdict
from tests.jobs import SAMPLES, edit, examined, place_of, sample
from tests.property.jobs import Wish, random_plan
from tests.property.plan import to_text

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


# ---- check measures what a print sets --------------------------------------------------------

TEXT = re.compile(r'"?\b(area|place)"?: (?:"[^"]*"|[A-Za-z][^,}\n]*)')
WORDS = ("meadow", "behind", "the", "W" * 14, "old", "W" * 9, "orchard", "i" * 30)


def with_long_texts(text: str, seed: int, share: float = 0.15) -> str:
    """Some areas and places of a job replaced by texts of up to twelve words."""
    chance = random.Random(seed)

    def longer(found: re.Match[str]) -> str:
        said = " ".join(chance.choices(WORDS, k=chance.randint(1, 12)))
        return f'"{found[1]}": "{said}"' if chance.random() < share else found[0]

    return TEXT.sub(longer, text)


def cards_refused(problems: Iterable[Problem]) -> Counter[tuple[str, str]]:
    """By code and kind of card how many there are, read from what is said of them."""
    refused: Counter[tuple[str, str]] = Counter()
    for problem in problems:
        kind = re.search(r"(?: on|^) ?the ([a-z ]+) '", problem.sentence)
        more = re.search(r"; ([\d,]+) more ha", problem.sentence)
        count = 1 + int(more[1].replace(",", "")) if more else 1
        refused[problem.code, kind[1] if kind else "drawing"] += count
    return refused


def said(problems: Iterable[Problem]) -> list[tuple[object, ...]]:
    return [(p.span, p.code, p.sentence, p.help) for p in problems]


def compared(text: str) -> Counter[tuple[str, str]]:
    """Both say the very same, in the same order; a check as warnings only."""
    job = examined(text)
    assert not job.has_errors
    told = misfits(job, PrintRequest())
    made, problems = make_print(job, PrintRequest())
    assert said(told) == ([] if made else said(problems))
    return cards_refused(told)


@pytest.mark.parametrize("name", SAMPLES)
def test_check_tells_the_very_cards_that_a_print_of_a_sample_refuses(name: str) -> None:
    """That a sample as it is can be printed is seen in tests/test_prints.py.

    Of what heron has many the others have some, so of it only this is seen.
    """
    assert misfits(examined(sample(name)), PrintRequest()) == ()
    assert name == "heron" or compared(with_long_texts(sample(name), 1))


def test_legends_of_two_controllers_are_told_once() -> None:
    """Each is a file of its own, and so are their test sheets; counted by hand in the job."""
    text = re.sub('"pedestal, (left|right)"', f'"{LONG}"', sample("quarry"))
    _, problems = make_print(examined(text), PrintRequest())
    for word in ("legend", "test sheet"):
        (told,) = [p.sentence for p in problems if f"on the {word} 'A'" in p.sentence]
        assert told.endswith("; 1 more has the same problem: B")


def test_check_tells_the_very_cards_that_a_print_of_a_random_yard_refuses() -> None:
    kinds: set[str] = set()
    for seed in range(6):
        wish = Wish(seed=seed, stations=9, controllers=1 + seed % 2, metric=bool(seed % 3))
        told = compared(
            with_long_texts(to_text(random_plan(wish).sections), seed, share=0.1 * (seed % 4))
        )
        kinds |= {kind for _, kind in told}
    assert {"valve tag", "box tag"} <= kinds
