"""A text keeps its languages apart until it is printed, and no string is made of it by the way."""

from __future__ import annotations

import copy
import pickle
from collections.abc import Callable

import pytest

from cardgen.words import Text, apart
from tests.words.test_words import BOTH, words

FORGETFUL: tuple[Callable[[Text], object], ...] = (
    str,
    list,
    len,
    lambda said: f"{said}",
    lambda said: f"{said:>9}",
    "{}".format,
    lambda said: "%s" % said,  # noqa: UP031
    lambda said: "%s" % (said,),  # noqa: UP031
    lambda said: "a " + said,
    lambda said: said + " a",
    lambda said: " ".join([said]),  # type: ignore[list-item]  # noqa: FLY002
    lambda said: "a" in said,
)


@pytest.mark.parametrize("way", FORGETFUL)
def test_no_string_is_made_of_a_text_by_the_way(way: Callable[[Text], object]) -> None:
    with pytest.raises(TypeError):
        way(BOTH("terms.valve"))
    with pytest.raises(TypeError):
        way(words("en")("terms.valve"))  # one language tells no less


def test_a_text_in_one_of_another_kind_is_whole_in_each_language() -> None:
    valve = BOTH("terms.valve")
    assert BOTH.joined((valve, "A7"), " ").each == ("valve A7", "válvula A7")
    assert BOTH.joined((valve, "", BOTH.same(""))).each == ("valve", "válvula")
    assert BOTH.list_of((valve, BOTH.color("red"))).each == ("valve and red", "válvula y rojo")


def test_a_label_stands_in_both_languages_before_its_figure() -> None:
    label = BOTH.labeled("drawing.valve", "A7")
    assert label.printed == "valve\u00a0/ válvula A7"
    assert label.upper().printed == "VALVE\u00a0/ VÁLVULA A7"
    assert label.lines == (label.printed,)
    assert BOTH.joined((label, "B")).each == ("valve A7, B", "válvula A7, B")
    assert words("en").labeled("drawing.valve", "A7").printed == "valve A7"


def test_a_unit_keeps_its_letters_in_capitals() -> None:
    assert words("en").labeled("valve tag.on", "230 mA").upper().printed == "ON 230 mA"


def test_what_stands_by_itself_is_in_all_languages_each() -> None:
    statements = ("Larkspur Cottage", "", BOTH("supplies.AC"), BOTH("terms.valve"))
    assert apart(statements) == "Larkspur Cottage · AC\u00a0/ CA · valve\u00a0/ válvula"


def test_a_copy_keeps_its_languages() -> None:
    said = copy.deepcopy(pickle.loads(pickle.dumps(BOTH.color("red"))))  # noqa: S301
    assert isinstance(said, Text)
    assert (said.printed, said.each) == ("red\u00a0/ rojo", ("red", "rojo"))
