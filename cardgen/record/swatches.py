"""Turn the picture of a conductor's insulation into SVG, each look once on a page."""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.asbuilt import ConductorMark
from cardgen.layout.geometry import frame
from cardgen.layout.items import Fill, Outline, Part, Slope, Strokes
from cardgen.layout.swatch import swatch
from cardgen.record.html import Markup, element, joined

WIDE, HIGH = 15.0, 5.0  # mm, as on a tag


def symbols(marks: Iterable[ConductorMark]) -> Markup:
    """What `picture` refers to."""
    looks = sorted({(mark.base, mark.stripe): mark for mark in marks}.items())
    if not looks:
        return joined()
    inside = (element("symbol", _drawn(mark), id=_name(mark), viewBox=_BOX) for _, mark in looks)
    return element("svg", *inside, class_="defs", aria_hidden="true")


def picture(mark: ConductorMark) -> Markup:
    """The words stand beside it, so a reader skips it."""
    return element("svg", element("use", href=f"#{_name(mark)}"), viewBox=_BOX, aria_hidden="true")


_BOX = f"0 0 {WIDE:g} {HIGH:g}"


def _name(mark: ConductorMark) -> str:
    return "-".join(part for part in ("s", mark.base, mark.stripe) if part)


def _drawn(mark: ConductorMark) -> Markup:
    made = swatch(mark, frame(0, 0, WIDE, HIGH), colored=True)
    return joined(*(_part(part) for part in made.parts))


def _part(part: Part) -> Markup:
    match part:
        case Fill():
            return _rectangle(
                part.frame.x, part.frame.y, part.frame.width, part.frame.height, fill=part.ink
            )
        case Slope():
            corners = (
                (part.x1, part.y1),
                (part.x1 + part.width, part.y1),
                (part.x2 + part.width, part.y2),
                (part.x2, part.y2),
            )
            said = " ".join(f"{_number(x)},{_number(y)}" for x, y in corners)
            return element("polygon", points=said, fill=part.ink)
        case Outline():
            inner = part.frame.shrunk(part.width / 2)
            return _rectangle(
                inner.x,
                inner.y,
                inner.width,
                inner.height,
                fill="none",
                stroke=part.ink,
                stroke_width=_number(part.width),
            )
        case Strokes():
            path = "".join(
                f"M{_number(s.x1)} {_number(s.y1)}L{_number(s.x2)} {_number(s.y2)}"
                for s in part.segments
            )
            return element(
                "path", d=path, fill="none", stroke=part.ink, stroke_width=_number(part.width)
            )


def _rectangle(x: float, y: float, width: float, height: float, **look: str) -> Markup:
    sizes = {"x": x, "y": y, "width": width, "height": height}
    return element("rect", **{name: _number(value) for name, value in sizes.items()}, **look)


def _number(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")
