"""Lists: one column or several, close to each other or not."""

from __future__ import annotations

from dataclasses import replace

from cardgen.cards.card import CardKind
from cardgen.layout.face import Align, Show
from cardgen.layout.geometry import Mm
from cardgen.layout.items import TextLine
from cardgen.layout.list_blocks import set_texts
from cardgen.layout.pieces import Room, Task
from cardgen.layout.setting import PrinterHead
from tests.layout.cards import shipped

WORDS = ("one", "two", "three", "four")


def texts(*, across: int = 1, dense: bool = False) -> dict[str, TextLine]:
    """Where the words stand, each piece under the one before."""
    face = shipped().face(CardKind.BOX_TAG, "ID-1")
    assert face is not None
    block = replace(
        face.columns[0].blocks[0], show=Show.LIST, align=Align.LEFT, across=across, dense=dense
    )
    press = PrinterHead(dot=Mm(0), colored=True)
    room = Room(width=400, scale=0, press=press)
    y, found = 0.0, []
    for piece in set_texts(Task(block=block, value=WORDS, label="", room=room)):
        found += list(piece.at(0, y))
        y += piece.height
    return {item.text: item for item in found if isinstance(item, TextLine)}


def test_a_list_stands_in_as_many_columns_as_its_face_says() -> None:
    for across in (1, 2, 4):
        assert len({text.x for text in texts(across=across).values()}) == across


def test_entries_of_a_dense_list_stand_closer() -> None:
    wide, dense = texts(), texts(dense=True)
    assert dense["two"].y - dense["one"].y < wide["two"].y - wide["one"].y
