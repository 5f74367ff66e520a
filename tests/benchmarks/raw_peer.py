"""Draw tags as a plain program does that means to be quick: reportlab's operators, codes of segno.

Nine a Letter sheet, JSON on stdin, PDF out; a code is made once for each address, as a path of
rectangles.  It sets lines as they are given: no letter is fitted, no color drawn.
"""

from __future__ import annotations

import json
import sys

import segno
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

MM = 72 / 25.4
SHEET = (215.9 * MM, 279.4 * MM)
WIDTH, HEIGHT, SIDE = 53.98 * MM, 85.6 * MM, 24 * MM
PER_ROW, PER_SHEET = 3, 9


def modules(address: str, known: dict[str, tuple[int, str]]) -> tuple[int, str]:
    """How many modules a code has to a side, and its dark ones as a path."""
    if address not in known:
        rows = segno.make_qr(address, error="q").matrix
        dark = (
            f"{x} {-y - 1} 1 1 re" for y, row in enumerate(rows) for x, bit in enumerate(row) if bit
        )
        known[address] = len(rows), " ".join(dark)
    return known[address]


def draw(canvas: Canvas, number: int, lines: list[str], paths: list[tuple[int, str]]) -> None:
    row, column = divmod(number % PER_SHEET, PER_ROW)
    left, top = 27 * MM + column * WIDTH, SHEET[1] - 10 * MM - row * HEIGHT
    text = canvas.beginText(left + 3 * MM, top - 10)
    text.setFont("letter", 7, 8)
    for each in lines:
        text.textLine(each)
    canvas.drawText(text)
    for side, path in paths:
        unit = SIDE / side
        place = f"{left + 15 * MM:.2f} {top - HEIGHT + 27 * MM:.2f}"
        canvas._code.append(f"q {unit:.4f} 0 0 {unit:.4f} {place} cm {path} f Q")


def main() -> None:
    pdfmetrics.registerFont(TTFont("letter", sys.argv[2]))
    canvas = Canvas(sys.argv[1], pagesize=SHEET, pageCompression=1)
    known: dict[str, tuple[int, str]] = {}
    for number, tag in enumerate(json.load(sys.stdin)):
        if number and number % PER_SHEET == 0:
            canvas.showPage()
        paths = [modules(address, known) for address in tag["addresses"]]
        draw(canvas, number, tag["lines"], paths)
    canvas.save()


if __name__ == "__main__":
    main()
