"""Lists beside the joints of a splice card: what is said of a conductor, and their title."""

from __future__ import annotations

from cardgen.cards.card import PrintedCell, Table
from cardgen.layout.items import Page, TextLine
from tests.layout.cards import mark, pages, splice_card

TITLE = "PASS THROUGH - DO NOT CUT"
RED = mark("A-K1", "red")


def page_of(*rows: tuple[PrintedCell, ...]) -> Page:
    table = Table(columns=("conductor", "use"), rows=rows)
    (page,) = pages(splice_card(passing=table), stock="half-letter")
    return page


def text_of(page: Page) -> dict[str, TextLine]:
    texts = [item for item in page.items if isinstance(item, TextLine)]
    return {item.text.replace("\u00a0", " "): item for item in texts}


def test_what_is_said_stands_behind_the_name_or_beneath_it() -> None:
    texts = text_of(page_of((RED, "hot A3"), (mark("A-K9", "blue"), "reserved for the fountain")))
    name, about = texts["A-K1 red RD"], texts["hot A3"]
    assert about.y == name.y and about.x > name.x
    name, about = texts["A-K9 blue BU"], texts["reserved for the fountain"]
    assert about.y > name.y and about.x == name.x


def test_the_title_stands_above_the_rows_on_every_card() -> None:
    rows = tuple((mark(f"A-K{n}", "red"), f"hot A{n}") for n in range(40))
    table = Table(columns=("conductor", "use"), rows=rows)
    done = pages(splice_card(passing=table), stock="half-letter")
    titles = [i for page in done for i in page.items if isinstance(i, TextLine) and i.text == TITLE]
    assert len(titles) == sum(len(page.cards) for page in done) >= 3
    shown = [i.text for page in done for i in page.items if isinstance(i, TextLine)]
    assert sum(text.startswith("hot A") for text in shown) == len(rows)
