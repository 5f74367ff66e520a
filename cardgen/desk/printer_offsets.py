"""How far a printer shifts a print on a stock: entered once, kept by the browser one prints from.

Another computer has another printer, so it is not kept with the jobs.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from starlette.responses import Response

from cardgen.desk.desk_routing import DeskRequest
from cardgen.desk.desk_shell import labeled_input
from cardgen.desk.print_choices import OFFSET_FIELDS, USUAL_STOCK, tag_stocks
from cardgen.record.html import Markup, element

_KEPT = re.compile(r"([-+]?[\d.]+):([-+]?[\d.]+)")
_LONGEST_S = 400 * 24 * 3600  # what a browser keeps at most (draft RFC 6265bis, 5.5)


def offset_fields(request: DeskRequest) -> Markup:
    """Folded up: most printers print true.  What is kept for a stock is shown."""
    words = request.words
    kept = (
        element("p", words("desk.offset kept", stock=stock.name, x=x, y=y), class_="said")
        for stock in tag_stocks()
        for x, y in _kept(request, stock.name)
    )
    return element(
        "details",
        element("summary", words("desk.offset")),
        element("p", words("desk.offset hint")),
        *(labeled_input(words(f"desk.{name}"), name, inputmode="text") for name in OFFSET_FIELDS),
        *kept,
        class_="wide",
    )


def with_kept_offset(
    request: DeskRequest, fields: Iterable[tuple[str, str]]
) -> list[tuple[str, str]]:
    """The fields of a form, and where no offset is typed, the one that is kept for the stock."""
    listed = list(fields)
    said = dict(listed)
    if any(said.get(name, "").strip() for name in OFFSET_FIELDS):
        return listed
    others = [(name, value) for name, value in listed if name not in OFFSET_FIELDS]
    for kept in _kept(request, said.get("stock", USUAL_STOCK)):
        others += zip(OFFSET_FIELDS, kept, strict=True)
    return others


def keep_offset(response: Response, fields: Iterable[tuple[str, str]]) -> Response:
    """Of a print that was asked for with these fields."""
    said = dict(fields)
    values = [said.get(name, "").removesuffix("mm").strip() or "0" for name in OFFSET_FIELDS]
    if any(said.get(name, "").strip() for name in OFFSET_FIELDS):
        response.set_cookie(
            _cookie(said.get("stock", USUAL_STOCK)),
            ":".join(values),
            max_age=_LONGEST_S,
            httponly=True,
            samesite="strict",
        )
    return response


def _kept(request: DeskRequest, stock: str) -> Iterator[tuple[str, str]]:
    """One, or none."""
    found = _KEPT.fullmatch(request.request.cookies.get(_cookie(stock), ""))
    if found:
        yield found[1], found[2]


def _cookie(stock: str) -> str:
    return f"offset-{stock}"
