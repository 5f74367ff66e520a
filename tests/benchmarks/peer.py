"""Draw tags the plain way, one a page, with reportlab's own QR widget: JSON on stdin, PDF out."""

from __future__ import annotations

import json
import sys

from reportlab.graphics import renderPDF
from reportlab.graphics.barcode.qr import QrCodeWidget
from reportlab.graphics.shapes import Drawing
from reportlab.pdfgen.canvas import Canvas

MM = 72 / 25.4
WIDTH, HEIGHT, SIDE = 54 * MM, 86 * MM, 24 * MM


def draw(canvas: Canvas, lines: list[str], addresses: list[str]) -> None:
    canvas.setFont("Helvetica", 7)
    for number, line in enumerate(lines, start=1):
        canvas.drawString(3 * MM, HEIGHT - 8 * number, line)
    for address in addresses:
        code = QrCodeWidget(address, barLevel="Q")
        left, lower, right, upper = code.getBounds()
        drawing = Drawing(
            SIDE, SIDE, transform=[SIDE / (right - left), 0, 0, SIDE / (upper - lower), 0, 0]
        )
        drawing.add(code)
        renderPDF.draw(drawing, canvas, 15 * MM, 3 * MM)
    canvas.showPage()


def main() -> None:
    canvas = Canvas(sys.argv[1], pagesize=(WIDTH, HEIGHT))
    for tag in json.load(sys.stdin):
        draw(canvas, tag["lines"], tag["addresses"])
    canvas.save()


if __name__ == "__main__":
    main()
