"""Rows of valves: where the area stands, and what becomes of what is long."""

from __future__ import annotations

from cardgen.cards.card import PrintedCell, Table
from cardgen.layout.items import Swatch, TextLine
from tests.layout.cards import box_tag, laid_out, mark, pages

COLUMNS = ("controller", "valve", "hot", "area")


def lines(*rows: tuple[PrintedCell, ...], stock: str = "a7-letter") -> dict[str, TextLine]:
    table = Table(columns=COLUMNS, rows=tuple(("CONTROLLER A", *row) for row in rows))
    (page,) = pages(box_tag(stations=1, **{"stations": table}), stock=stock)
    return {item.text: item for item in page.items if isinstance(item, TextLine)}


def test_an_area_stands_beside_its_wire_where_it_has_room_else_beneath() -> None:
    long = "the long north slope behind the car park"
    found = lines(("A1", mark("", "red"), "lawn"), ("A2", mark("", "blue"), long))
    assert found["lawn"].y == found["red"].y == found["A1"].y
    assert found[long].y > found["blue"].y
    assert found[long].x == found["blue"].x


def test_areas_beside_their_wires_stand_under_each_other() -> None:
    found = lines(
        ("A1", mark("", "red"), "lawn"),
        ("A2", mark("", "light-blue"), "hedge"),
        ("A10", mark("", "tan"), "beds"),
    )
    assert len({found[area].x for area in ("lawn", "hedge", "beds")}) == 1
    assert len({found[word].x for word in ("red", "light-blue", "tan")}) == 1


def test_a_long_id_stands_over_its_row() -> None:
    name = "MV-NORTH-GATE-12"
    found = lines((name, mark("", "red"), "lawn"), ("A2", mark("", "blue"), "beds"))
    assert found[name].y < found["red"].y
    assert found["red"].x < found["blue"].x


def test_a_decoder_has_words_and_no_swatch() -> None:
    table = Table(columns=COLUMNS, rows=(("CONTROLLER A", "A1", "decoder 201", "lawn"),))
    (page,) = pages(box_tag(stations=1, stations_=(), spares=(), **{"stations": table}))
    assert not [item for item in page.items if isinstance(item, Swatch)]
    assert "decoder 201" in {item.text for item in page.items if isinstance(item, TextLine)}


def test_a_title_is_said_again_where_its_rows_go_on() -> None:
    (page,) = pages(box_tag(stations=12), stock="id-1-letter")
    texts = [item.text for item in page.items if isinstance(item, TextLine)]
    assert texts.count("CONTROLLER A") == len(page.cards) - texts.count("SPARES") * 0
    assert [text for text in texts if text in {f"A{n}" for n in range(1, 13)}] == [
        f"A{n}" for n in range(1, 13)
    ]


def test_a_word_that_is_too_wide_is_refused() -> None:
    table = Table(
        columns=COLUMNS,
        rows=(("CONTROLLER A", "A1", mark("", "red"), "Rhododendronpflanzung" * 3),),
    )
    done, (problem,) = laid_out(box_tag(stations=1, **{"stations": table}), stock="id-1-letter")
    assert done == ()
    assert problem.code == "text-too-long"
