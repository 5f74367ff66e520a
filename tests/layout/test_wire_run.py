"""Wires one after another: each cable named once, titles never by themselves."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cardgen import fonts
from cardgen.cards.card import CardKind, OnFlag
from cardgen.layout.face import Show
from cardgen.layout.geometry import Mm
from cardgen.layout.items import Swatch, TextLine
from cardgen.layout.pieces import Room, Task
from cardgen.layout.setting import PrinterHead
from cardgen.layout.shown_wire import shown_wire, words_left
from tests.layout.cards import box_tag, mark, pages, shipped

NAMES = ("red", "blue", "green", "yellow", "orange", "brown", "pink", "gray", "violet", "gold")


def lines(stock: str = "a7-letter", **more: object) -> list[TextLine]:
    (page,) = pages(box_tag(stations=1, **more), stock=stock)  # type: ignore[arg-type]
    return [item for item in page.items if isinstance(item, TextLine)]


def test_a_cable_is_named_before_the_first_of_its_wires() -> None:
    spares = (mark("A-K2", "tan"), mark("A-K2", "pink"), mark("B-K1", "gold", "black band"))
    texts = [line.text for line in lines(spares=spares)]
    assert texts.count("A-K2") == 1
    assert texts.index("A-K2") < texts.index("tan") < texts.index("pink")
    assert any(text.replace("\u00a0", " ") == "B-K1 + black band" for text in texts)


def test_what_is_on_a_flag_stands_in_brackets_without_the_word() -> None:
    spare = mark("A-S1", "blue", flag=OnFlag("flag", "SP-COM"))
    said = [line.text.replace("\u00a0", " ") for line in lines(spares=(spare,))]
    assert "BU (SP-COM)" in said


def test_title_and_wires_stand_on_one_line_where_they_have_room() -> None:
    found = {line.text: line for line in lines(spares=(mark("A-K2", "tan"),))}
    assert found["SPARES"].y == found["A-K2"].y == found["tan"].y


def test_what_is_behind_a_color_goes_beneath_it_where_that_takes_two_lines() -> None:
    face = shipped().face(CardKind.BOX_TAG, "ID-1")
    assert face is not None
    blocks = (block for column in face.columns for block in column.blocks)
    block = next(block for block in blocks if block.show is Show.WIRES)
    press = PrinterHead(dot=Mm(0), colored=True)
    task = Task(block=block, value="", label="", room=Room(width=40, scale=0, press=press))
    gray = replace(mark("", "gray"), word="pale silver gray")
    words = task.capital * fonts.width("pale silver gray", block.weight)
    made = shown_wire(gray, task, words_left(task.capital) + 0.99 * words)
    assert made is not None
    assert made.name.lines == ("pale silver", "gray")
    assert not made.behind.lines
    assert made.under.lines == (gray.code,)


def test_a_title_that_leaves_no_room_for_a_wire_stands_above() -> None:
    title = "SPARES FOR THE NORTH LAWN AND ITS BEDS"
    wire = mark("A-K1", "light-blue", flag=OnFlag("flag", "SP-NORTH-LAWN-1"))
    (page,) = pages(box_tag(stations=1, spares_title=title, spares=(wire,)), stock="id-1-letter")
    texts = [item for item in page.items if isinstance(item, TextLine)]
    above = max(i.y for i in texts if i.text in title and len(i.text) > 3)
    word = next(i for i in texts if i.text.startswith("light"))
    assert above < word.y - word.capital


def test_a_wire_stands_half_a_capital_behind_its_cable() -> None:
    (page,) = pages(box_tag(stations=1, spares=(mark("A-K2", "tan"),)), stock="a7-letter")
    cable = next(i for i in page.items if isinstance(i, TextLine) and i.text == "A-K2")
    swatches = (i.frame for i in page.items if isinstance(i, Swatch))
    tan = min(at.x for at in swatches if at.x > cable.x and abs(at.y - cable.y) < 9)
    ends = cable.x + cable.capital * sum(run.width for run in cable.runs)
    assert tan - ends == pytest.approx(cable.capital / 2, abs=0.01)


def test_more_wires_than_a_card_takes_go_on_under_their_title() -> None:
    spares = tuple(mark(f"A-K{n}", word, flag=f"SP-{n}-LONG") for n, word in enumerate(NAMES * 3))
    (page, *_) = done = pages(box_tag(stations=1, spares=spares), stock="id-1-letter")
    items = [item for page in done for item in page.items]
    assert len(page.cards) > 2
    assert sum(isinstance(item, Swatch) for item in items) == len(spares) + 2  # a hot, a common
    titles = [item for item in items if isinstance(item, TextLine) and item.text == "SPARES"]
    assert len(titles) == sum(len(page.cards) for page in done)
    for page in done:
        swatches = [i.frame for i in page.items if isinstance(i, Swatch)]
        for title in (i for i in page.items if i in titles and isinstance(i, TextLine)):
            near = (at.y for at in swatches if at.y > title.y - 2 and abs(at.x - title.x) < 30)
            assert min(near) > title.y
