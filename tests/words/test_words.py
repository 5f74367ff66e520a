"""One text in one language or two."""

from __future__ import annotations

from cardgen.words import Words, load_words


def words(*languages: str) -> Words:
    found, problems = load_words(languages)
    assert found is not None, problems
    return found


BOTH = words("en", "es")


def test_two_languages_stand_beside_each_other_and_what_is_equal_once() -> None:
    assert BOTH("terms.valve").printed == "valve\u00a0/ válvula"
    stamp = BOTH("tag.stamp", job="J-1", revision=3, date="2026-03-14")
    assert stamp.printed == "J-1 · rev 3 · 2026-03-14"


def test_a_text_in_a_text_stands_in_each_language_in_its_own() -> None:
    said = BOTH("splice card.must not touch", commons=BOTH.list_of(["COM-A", "COM-B"]))
    assert said.each == ("COM-A and COM-B must not touch.", "COM-A y COM-B no se deben tocar.")


def test_one_and_many() -> None:
    assert BOTH.count("materials.tags", 1).each[1] == "1 etiqueta de válvula"
    assert BOTH.count("materials.tags", 2).each[1] == "2 etiquetas de válvula"


def test_lists() -> None:
    assert BOTH.list_of(["A1"]).printed == "A1"
    assert BOTH.list_of(["A1", "A2", "A4"]).each == ("A1, A2 and A4", "A1, A2 y A4")
    assert BOTH.list_of(["A1", "A2", "A3", "A7"]).each == ("A1 to A3 and A7", "A1 a A3 y A7")
    assert BOTH.list_of([]).printed == ""


def test_a_color_and_its_stripe() -> None:
    assert BOTH.color("white/black").each == ("white/black", "blanco/negro")


def test_where_two_share_the_room_the_short_form_stands() -> None:
    assert words("en")("valve tag.controller").printed == "controller"
    assert BOTH("valve tag.controller").printed == "contr."
