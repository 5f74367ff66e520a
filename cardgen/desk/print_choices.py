"""Say what can be chosen for a print on the desk, and turn what was chosen into a request."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import cache

from cardgen.cards import CardKind
from cardgen.desk.tag_pictures import words_and_layouts
from cardgen.layout import Stock
from cardgen.layout.layout_checks import MOST_OFFSET
from cardgen.output.print_request import PrintRequest
from cardgen.output.selection import KINDS, Selection
from cardgen.problems import UserError
from cardgen.words import Words, languages

USUAL_STOCK = "id-1-letter"
USUAL_LANGUAGE = "en"
OFFSET_FIELDS = ("offset x", "offset y")
_OFFSET = re.compile(r"([-+]?\d{1,2}(?:\.\d{1,2})?)(?: ?mm)?")
# What a page offers: each language there is, and each two that can stand on one card.
_BOTH = "en,es"


@cache
def tag_stocks() -> tuple[Stock, ...]:
    """All that valve tags can be printed on, the usual one first."""
    _, layouts = words_and_layouts((USUAL_LANGUAGE,))
    names = layouts.stocks_for(CardKind.VALVE_TAG)
    ordered = sorted(names, key=lambda name: name != USUAL_STOCK)
    return tuple(layouts.stocks[name] for name in ordered)


def told_of(stock: Stock, words: Words) -> str:
    """`id-1-letter: 54 x 86 mm cards, nine on a Letter sheet`, in the language of the page."""
    return f"{stock.name}: {stock.about_in.get(words.languages[0], stock.about)}"


def language_choices() -> tuple[str, ...]:
    return (*languages(), _BOTH)


def request_of(stock: str, language: str) -> PrintRequest:
    """On that stock, in that choice of languages; the usual ones where nothing is said.

    Raises:
        UserError: if there is no such stock or choice.
    """
    stock, language = stock or USUAL_STOCK, language or USUAL_LANGUAGE
    chosen = next((each for each in tag_stocks() if each.name == stock), None)
    if chosen is None:
        raise UserError(f"no stock for tags is called '{stock}'", "choose one of the list")
    if language not in language_choices():
        raise UserError(f"there are no words for '{language}'", "choose one of the list")
    return PrintRequest(
        paper=paper_of(chosen), stocks=(stock,), languages=tuple(language.split(","))
    )


def print_request(fields: Iterable[tuple[str, str]]) -> PrintRequest:
    """What the form of the print page asks for.

    Raises:
        UserError: if it asks for nothing that there is.
    """
    listed = list(fields)
    said = dict(listed)
    only = [value for name, value in listed if name == "only"]
    request = request_of(said.get("stock", ""), said.get("language", ""))
    start = said.get("start", "1").strip() or "1"
    if not only or any(word not in KINDS for word in only):
        raise UserError("nothing is chosen to be printed", "choose at least one kind of card")
    if not (start.isascii() and start.isdigit() and 1 <= int(start[:4]) <= 999):
        raise UserError(f"'{start}' is no number of a card on the sheet", "write 1 for a new sheet")
    since = said.get("since", "")
    if since and not (since.isascii() and since.isdigit()):
        raise UserError(f"'{since}' is no revision", "choose again what is printed")
    return PrintRequest(
        selection=Selection(only=() if set(only) == set(KINDS) else tuple(only)),
        since=int(since) if since else None,
        paper=request.paper,
        stocks=request.stocks,
        languages=request.languages,
        offset=offset_of(said),
        start=int(start),
        replace=said.get("replace") == "yes",
    )


def offset_of(said: Mapping[str, str]) -> tuple[float, float] | None:
    """What is typed of it, in mm; None where nothing is.

    Raises:
        UserError: if it is no length.
    """
    typed = [said.get(name, "").strip() for name in OFFSET_FIELDS]
    if not any(typed):
        return None
    for text in typed:
        if text and not _OFFSET.fullmatch(text):
            raise UserError(f"'{text}' is no number of mm", "write one like '0.5' or '-1'")
        if text and abs(float(text.removesuffix("mm"))) > MOST_OFFSET:
            raise UserError(
                f"a printer shifts a print by no more than {MOST_OFFSET:g} mm",
                "print the alignment sheet again at 100 % on the right paper",
            )
    x, y = (float(text.removesuffix("mm") or 0) for text in typed)
    return x, y


def paper_of(stock: Stock) -> str:
    """The paper of what is not on tag stock: A4 beside other A sizes, else Letter."""
    return "a4" if stock.name.endswith(("-a4", "-a5")) else "letter"
