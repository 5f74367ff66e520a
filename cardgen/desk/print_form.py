"""The fields that every print on the desk asks for: what, on which stock, in which language."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cardgen.desk.desk_routing import DeskRequest
from cardgen.desk.desk_shell import labeled_choice
from cardgen.desk.job_page import language_name
from cardgen.desk.print_choices import (
    USUAL_LANGUAGE,
    USUAL_STOCK,
    language_choices,
    tag_stocks,
    told_of,
)
from cardgen.desk.printer_offsets import offset_fields
from cardgen.layout import Stock
from cardgen.output.selection import KINDS
from cardgen.record.html import Markup, element
from cardgen.words import Words


def print_fields(request: DeskRequest) -> Iterator[Markup]:
    """Tags of valves and boxes are chosen: what one hangs first."""
    words = request.words
    boxes = (
        check_box("only", word, kind_name(words, word), is_chosen=number < 2)
        for number, word in enumerate(KINDS)
    )
    yield element("fieldset", element("legend", words("desk.what")), *boxes, class_="checks")
    yield from stock_fields(request)


def stock_fields(request: DeskRequest, offered: Iterable[Stock] | None = None) -> Iterator[Markup]:
    """The stock of the tags with its alignment sheet, and the language."""
    words = request.words
    offered = tag_stocks() if offered is None else offered
    stocks = [(stock.name, told_of(stock, words)) for stock in offered]
    languages = [(each, language_name(words, each)) for each in language_choices()]
    yield element(
        "div", labeled_choice(words("desk.stock"), "stock", stocks, USUAL_STOCK), class_="wide"
    )
    yield element("p", words("desk.proof why"), class_="wide")
    yield element(
        "button",
        words("desk.proof"),
        type="submit",
        formmethod="get",
        formaction="/proof.pdf",
        formnovalidate=True,
        class_="quiet",
    )
    yield offset_fields(request)
    yield labeled_choice(words("desk.language"), "language", languages, USUAL_LANGUAGE)


def kind_name(words: Words, word: str) -> str:
    """As its file is called: `Valve tags`."""
    return words(f"files.{word}", controller="").printed.strip()


def check_box(name: str, value: str, label: str, *, is_chosen: bool) -> Markup:
    """One of several that can be chosen together."""
    return element(
        "label",
        element("input", type="checkbox", name=name, value=value, checked=is_chosen),
        element("span", label),
        class_="check",
    )
