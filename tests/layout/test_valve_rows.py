"""Rows of valves: where the area stands, and what becomes of what is long."""

from __future__ import annotations

from dataclasses import replace

from cardgen.cards.card import Card, PrintedCell, Table
from cardgen.layout.items import Swatch, TextLine
from tests.layout.cards import box_tag, laid_out, mark, pages

COLUMNS = ("controller", "valve", "hot", "area")


def tag(*rows: tuple[PrintedCell, ...]) -> Card:
    table = Table(columns=COLUMNS, rows=tuple(("CONTROLLER A", *row) for row in rows))
    card = box_tag(spares=())
    return replace(card, fields={**card.fields, "stations": table})


def lines(*rows: tuple[PrintedCell, ...]) -> dict[str, TextLine]:
    (page,) = pages(tag(*rows), stock="a7-letter")
    return {item.text: item for item in page.items if isinstance(item, TextLine)}


def test_an_area_stands_beside_its_wire_where_it_has_room_else_beneath() -> None:
    long = "slope behind the park"
    found = lines(("A1", mark("", "red"), "lawn"), ("A2", mark("", "blue"), long))
    assert found["lawn"].y == found["red"].y == found["A1"].y
    assert found[long].y > found["blue"].y
    assert found[long].x == found["blue"].x


def test_areas_beside_their_wires_stand_under_each_other() -> None:
    found = lines(
        ("A1", mark("", "red"), "lawn"),
        ("A2", mark("", "blue"), "hedge"),
        ("A10", mark("", "tan"), "beds"),
    )
    assert len({found[area].x for area in ("lawn", "hedge", "beds")}) == 1
    assert len({found[word].x for word in ("red", "blue", "tan")}) == 1


def test_a_long_id_stands_over_its_row() -> None:
    name = "MV-NORTH-GATE-12"
    found = lines((name, mark("", "red"), "lawn"), ("A2", mark("", "blue"), "beds"))
    assert found[name].y < found["red"].y
    assert found["red"].x < found["blue"].x


def test_a_decoder_has_words_and_no_swatch() -> None:
    (page,) = pages(tag(("A1", "decoder 201", "lawn")), stock="a7-letter")
    assert not [item for item in page.items if isinstance(item, Swatch)]
    assert "decoder 201" in {item.text for item in page.items if isinstance(item, TextLine)}


def test_a_title_is_said_again_where_its_rows_go_on() -> None:
    (page,) = pages(box_tag(stations=12), stock="id-1-letter")
    texts = [item.text for item in page.items if isinstance(item, TextLine)]
    with_rows = len(page.cards) - (page.cards.count("VB-2") > 2)
    assert texts.count("CONTROLLER A") == with_rows
    assert [text for text in texts if text in {f"A{n}" for n in range(1, 13)}] == [
        f"A{n}" for n in range(1, 13)
    ]


def test_a_word_that_is_too_wide_is_refused() -> None:
    row = ("A1", mark("", "red"), "Rhododendronpflanzung" * 3)
    done, (problem,) = laid_out(tag(row), stock="id-1-letter")
    assert done == ()
    assert problem.code == "text-too-long"
