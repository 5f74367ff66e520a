"""What is printed and published of random yards is what the tracer finds.

Flags, legends, splice cards, spare list, conductor schedule and drawing are read from the text of
their PDFs, pages of boxes and the list of spares from their HTML.  Only the joints in the drawing,
whose conductors wrap beside each other, are read from the outline that is drawn.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

import pytest

from tests.oracle.cases import Case, first_cases
from tests.oracle.printed import cards_differ, files_differ, files_of, record_differs

pytestmark = pytest.mark.xdist_group("oracle")

YARDS = 60  # whose cards are compared
PRINTED = 7  # of which all PDFs and pages are read back


@pytest.mark.parametrize("number", range(YARDS))
def test_cards_and_drawing_say_what_the_joints_say(number: int) -> None:
    case = first_cases(YARDS)[number]
    assert cards_differ(case) == [], case.yard.seed


@pytest.mark.parametrize("number", range(PRINTED))
def test_what_is_printed_and_published_says_what_the_joints_say(number: int) -> None:
    case, files = _printed()[number]
    assert files_differ(case, files) == [], case.yard.seed
    assert record_differs(case) == [], case.yard.seed


def test_the_yards_that_are_printed_have_every_feature() -> None:
    wanted = {each for case in first_cases(YARDS) for each in case.yard.features}
    assert wanted == {each for case, _ in _printed() for each in case.yard.features}


def test_a_reader_is_not_content_with_the_print_of_another_yard() -> None:
    (case, own), (_, other), *_ = _printed()
    for name in _READ:
        assert files_differ(case, {**own, name: other[name]}), name


_READ = (
    *("wire-flags.pdf", "door-legend-A.pdf", "splice-cards.pdf", "spare-list.pdf"),
    *("wiring-drawing.pdf", "packet.pdf"),
)


@cache
def _printed() -> tuple[tuple[Case, Mapping[str, bytes]], ...]:
    """Those that add most features first; what has no room on a card is left out."""
    left, seen = list(first_cases(YARDS)), set[str]()
    found: list[tuple[Case, Mapping[str, bytes]]] = []
    while len(found) < PRINTED:
        case = max(left, key=lambda each: len(each.yard.features - seen))
        left.remove(case)
        files = files_of(case)
        if files is not None:
            found.append((case, files))
            seen |= case.yard.features
    return tuple(found)
