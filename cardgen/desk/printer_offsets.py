"""How far a printer shifts a print on a stock: entered once, kept by the browser one prints from.

Another computer has another printer, so it is not kept with the jobs.
"""

from __future__ import annotations

from collections.abc import Iterable

from starlette.responses import Response

from cardgen.desk.desk_routing import DeskRequest
from cardgen.desk.desk_shell import labeled_input
from cardgen.desk.print_choices import OFFSET_FIELDS, USUAL_STOCK, offset_of, tag_stocks
from cardgen.problems import UserError
from cardgen.record.html import Markup, element

_LONGEST_S = 400 * 24 * 3600  # what a browser keeps at most (draft RFC 6265bis; from memory)


def offset_fields(request: DeskRequest) -> Markup:
    """Folded up: most printers print true.  What is kept for a stock is shown."""
    words = request.words
    kept = {stock.name: _kept(request, stock.name) for stock in tag_stocks()}
    shown = (
        element("p", words("desk.offset kept", stock=stock, x=x, y=y), class_="said")
        for stock, (x, y) in kept.items()
        if x or y
    )
    return element(
        "details",
        element("summary", words("desk.offset")),
        element("p", words("desk.offset hint")),
        *(labeled_input(words(f"desk.{name}"), name, inputmode="text") for name in OFFSET_FIELDS),
        *shown,
        class_="wide",
    )


def with_kept_offset(
    request: DeskRequest, fields: Iterable[tuple[str, str]]
) -> list[tuple[str, str]]:
    """The fields of a form; what is not typed of the offset is as it is kept for the stock."""
    listed = list(fields)
    said = dict(listed)
    kept = _kept(request, said.get("stock", USUAL_STOCK))
    others = [(name, value) for name, value in listed if name not in OFFSET_FIELDS]
    offset = (
        (name, said.get(name, "").strip() or before)
        for name, before in zip(OFFSET_FIELDS, kept, strict=True)
    )
    return [*others, *offset]


def keep_offset(response: Response, fields: Iterable[tuple[str, str]]) -> Response:
    """Of a print that was asked for with these fields."""
    said = dict(fields)
    offset = offset_of(said)
    if offset is not None:
        name, value = _cookie(said.get("stock", USUAL_STOCK)), "{:g}:{:g}".format(*offset)
        response.set_cookie(name, value, max_age=_LONGEST_S, httponly=True, samesite="strict")
    return response


def _kept(request: DeskRequest, stock: str) -> tuple[str, str]:
    """Both blank where nothing is kept, or nothing that could have been typed."""
    x, _, y = request.request.cookies.get(_cookie(stock), "").partition(":")
    try:
        return (x, y) if offset_of(dict(zip(OFFSET_FIELDS, (x, y), strict=True))) else ("", "")
    except UserError:
        return "", ""


def _cookie(stock: str) -> str:
    return f"offset-{stock}"
