"""What good readings leave open, in words."""

from __future__ import annotations

import pytest

from cardgen.advice.hidden_words import hidden_in_words
from cardgen.diagnosis import HiddenFault, HiddenKind
from cardgen.words import Words, load_words

MANY = (HiddenKind.SWAPPED, HiddenKind.POLARITY, HiddenKind.RUNS)
NAMED = (HiddenKind.SWAPPED, HiddenKind.POLARITY, HiddenKind.COMMONS)


def in_words(*languages: str) -> Words:
    words, problems = load_words(languages)
    assert words is not None, problems
    return words


def said(*hidden: HiddenFault) -> list[str]:
    return [text.printed for text in hidden_in_words(in_words("en"), hidden)]


def test_all_in_one_sentence_and_what_to_do() -> None:
    swapped = HiddenFault(kind=HiddenKind.SWAPPED, valves=("A1", "A2"))
    what, then = said(HiddenFault(kind=HiddenKind.SMALL, ohms=5.2), swapped)
    assert what.startswith("What was measured does not show: less than about 6 Ω too many or too")
    assert what.endswith("few; swapped hots of stations with like ohms (A1 and A2).")
    assert then == "Run each station and see its area get wet."


def test_many_are_counted() -> None:
    many = HiddenFault(kind=HiddenKind.SWAPPED, valves=tuple(f"A{n}" for n in range(20)))
    assert "like ohms (20 stations)." in said(many)[0]


def test_running_a_station_shows_no_leak() -> None:
    assert len(said(HiddenFault(kind=HiddenKind.GROUND))) == 1


def test_nothing_is_said_of_nothing() -> None:
    assert said() == []


@pytest.mark.parametrize("kind", HiddenKind)
def test_every_kind_has_words_in_both_languages(kind: HiddenKind) -> None:
    for valves in ((), ("A", "B"), tuple("ABCDEFGH")):
        if (kind in NAMED and not valves) or (kind not in MANY and len(valves) > len(("A", "B"))):
            continue  # no walk has that
        for language in ("en", "es"):
            ohms = 5.0 if kind is HiddenKind.SMALL else None
            each = HiddenFault(kind=kind, ohms=ohms, valves=valves)
            assert list(hidden_in_words(in_words(language), [each]))
