"""Turn shapes into PDF page operators (ISO 32000-1:2008, 8.5): y upwards, in points."""

from __future__ import annotations

from functools import cache, lru_cache
from itertools import groupby

from cardgen.layout.geometry import Frame, points
from cardgen.layout.items import Fill, Outline, Page, Ring, Slope, Strokes, Symbol

ARC = 0.5522847498  # control points of a quarter circle, 4/3 (sqrt 2 - 1)


def fill(item: Fill, page: Page) -> str:
    return f"q {filling(item.ink)} {_rectangle(item.frame, page)} f Q"


def slope(item: Slope, page: Page) -> str:
    high, low = page.height - item.y1, page.height - item.y2
    corners = (
        (item.x1, high),
        (item.x1 + item.width, high),
        (item.x2 + item.width, low),
        (item.x2, low),
    )
    path = " l ".join(f"{_number(x)} {_number(y)}" for x, y in corners).replace(" l ", " m ", 1)
    return f"q {filling(item.ink)} {path} l f Q"


def outline(item: Outline, page: Page) -> str:
    inner = item.frame.shrunk(item.width / 2)
    return f"q {_stroking(item.ink)} {_number(item.width)} w 0 j {_rectangle(inner, page)} S Q"


def strokes(item: Strokes, page: Page) -> str:
    lines = " ".join(
        f"{_number(s.x1)} {_number(page.height - s.y1)} m "
        f"{_number(s.x2)} {_number(page.height - s.y2)} l"
        for s in item.segments
    )
    return f"q {_stroking(item.ink)} {_number(item.width)} w 0 J {lines} S Q"


def ring(item: Ring, page: Page) -> str:
    r = item.diameter / 2
    x, y, k = item.x, page.height - item.y, ARC * r
    curves = (
        ((x + r, y + k), (x + k, y + r), (x, y + r)),
        ((x - k, y + r), (x - r, y + k), (x - r, y)),
        ((x - r, y - k), (x - k, y - r), (x, y - r)),
        ((x + k, y - r), (x + r, y - k), (x + r, y)),
    )
    path = " ".join(
        " ".join(f"{_number(a)} {_number(b)}" for a, b in curve) + " c" for curve in curves
    )
    start = f"{_number(x + r)} {_number(y)} m"
    return f"q {_stroking(item.ink)} {_number(item.width)} w {start} {path} s Q"


def symbol(item: Symbol, page: Page) -> str:
    """The dark modules as one path, a module being the unit: a rectangle for each run of a row."""
    module = f"{points(item.module):.6f}"
    x, y = _number(item.x), _number(page.height - item.y)
    return f"q {module} 0 0 {module} {x} {y} cm 0 g {_runs(item.rows)} f Q"


@lru_cache(maxsize=1_000)
def _runs(rows: tuple[tuple[bool, ...], ...]) -> str:
    rectangles: list[str] = []
    for number, row in enumerate(rows, 1):
        column = 0
        for dark, group in groupby(row):
            length = sum(1 for _ in group)
            if dark:
                rectangles.append(f"{column} -{number} {length} 1 re")
            column += length
    return " ".join(rectangles)


def _rectangle(at: Frame, page: Page) -> str:
    sizes = (at.x, page.height - at.bottom, at.width, at.height)
    return " ".join(_number(value) for value in sizes) + " re"


@cache
def filling(ink: str) -> str:
    """The color of what is filled; black, white and gray in DeviceGray, so in black ink alone."""
    red, green, blue = (_short(int(ink[i : i + 2], 16) / 255) for i in (1, 3, 5))
    return f"{red} g" if red == green == blue else f"{red} {green} {blue} rg"


def _stroking(ink: str) -> str:
    """The same of lines; their operators are those of fillings in capitals (8.6.8)."""
    return filling(ink).upper()


def _number(length: float) -> str:
    """Millimeters as points; a ten-thousandth of a point is far below any printer's dot."""
    return _short(points(length))


def _short(value: float) -> str:
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
