"""What ordinary jobs put on their smallest cards at once has room there."""

from __future__ import annotations

from dataclasses import replace

from cardgen import fonts
from cardgen.layout.items import TextLine
from tests.layout.cards import flag, mark, pages, splice, splice_card, valve_tag

# Of a random yard (tests/oracle): the hot changes color, a twin hangs on the terminal, a master
# valve runs with it, and cables of two-colored conductors are told apart by tape.
CROWDED = valve_tag(
    "B2a",
    hot=mark("B-K1", "blue/white", "tape 5"),
    common=mark("B-K1", "green", "tape 5"),
    first=mark("A-K1", "black/white", "tape 1"),
    first_label="at controller:",
    twin="1 of 2 valves; other: B2b in VB-11",
    runs_with="on: with MV-B",
)


def base_lines(*words: str) -> list[float]:
    (page,) = pages(CROWDED, stock="id-1-letter")
    texts = [item for item in page.items if isinstance(item, TextLine)]
    return [next(item.y for item in texts if text in item.text) for text in words]


def test_a_tag_with_a_change_a_twin_and_a_master_valve_has_room_on_a_card() -> None:
    base_lines("HOT", "1 of 2", "on: with MV-B")


def test_the_band_stands_behind_the_cable_where_it_has_room() -> None:
    hot, band, below = base_lines("HOT", "tape", "COMMON A")
    assert hot == band < below


def test_no_tail_of_a_color_word_touches_what_stands_under_it() -> None:
    """By the ink of its letters; an eye at arm's length parts half a millimeter (assumed)."""
    for word in ("gray", "green", "yellow", "purple"):
        (page,) = pages(valve_tag(hot=mark("A-K1", word)), stock="id-1-letter")
        at = {item.text: item for item in page.items if isinstance(item, TextLine)}
        color = next(item for text, item in at.items() if text == mark("A-K1", word).word)
        under = next(item for text, item in at.items() if text.startswith("HOT"))
        low, _ = fonts.ink(color.text, color.weight)
        assert under.y - under.capital - (color.y - low * color.capital) > 0.5


def test_two_conductors_of_two_colors_have_room_on_a_flag() -> None:
    card = flag(
        conductor=mark("A-K3", "brown/white", "tape 3"),
        conductor_2=mark("A-K3", "orange/white", "tape 3"),
        way="contr. A → VB-6",
        from_to="",
    )
    (page,) = pages(card, stock="flag-letter")
    assert page.cards == (card.id,)


def test_a_box_of_many_joints_has_their_numbers() -> None:
    joints = [replace(splice(), title=f"{number}  HOT A{number}") for number in (9, 20, 88, 99)]
    done = pages(splice_card(*joints), stock="half-letter")
    texts = [item.text for page in done for item in page.items if isinstance(item, TextLine)]
    assert {"9", "20", "88", "99"} <= set(texts)
