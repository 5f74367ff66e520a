"""Codes of stock and faces."""

from __future__ import annotations

from cardgen.checks.explanations.model import error

_TAG = """
kind: valve tag
format: ID-1
columns:
  - frame: {x: 3 mm, y: 3 mm, width: 39.5 mm, height: 12 mm}
    blocks: [{field: headline, capitals: 12 mm, least: 6 mm, rule: ours}]
  - frame: {x: 3 mm, y: 20 mm, width: 47 mm, height: 20 mm}
    blocks: [{field: area, capitals: 4 mm, least: 2.2 mm, rule: ours}]
"""
_LEAST = "NUREG-0700 minimum of 15 minutes of arc"
_FLAG = """
kind: flag
format: flag
columns:
  - frame: {x: 2 mm, y: 2 mm, width: 50 mm, height: 8 mm}
    blocks: [{field: headline, capitals: 6 mm, least: 3 mm, rule: ours}]
"""

ENTRIES = (
    error(
        "unit",
        "a length on a card is not in millimetres",
        "Cards and columns are placed to a tenth of a millimetre.",
        "Write '3 mm'.",
        "safe: 3",
        "safe: 3 mm",
        base="stock",
    ),
    error(
        "cards-off-paper",
        "the grid of cards is larger than the sheet",
        "The last cards would be cut off by the printer.",
        "Fewer columns or rows, smaller cards, or less gap.",
        "grid: {columns: 4, rows: 3, left: 24.03 mm, top: 12 mm}",
        "grid: {columns: 3, rows: 3, left: 24.03 mm, top: 12 mm}",
        base="stock",
    ),
    error(
        "footer-misplaced",
        "the footer of a sheet lies on a card or off the paper",
        "Job, revision and scale would be printed across a tag.",
        "Move it to where no card is.",
        "footer: {x: 12 mm, y: 200 mm, width: 186 mm, height: 7 mm}",
        "footer: {x: 12 mm, y: 280 mm, width: 186 mm, height: 7 mm}",
        base="stock",
    ),
    error(
        "hole-near-edge",
        "the hole is close to the edge of the card",
        "The tie tears it out.",
        "Keep 4 mm between hole and edge.",
        "hole: {x: 49 mm, y: 6.5 mm, diameter: 5 mm}",
        "hole: {x: 47.48 mm, y: 6.5 mm, diameter: 5 mm}",
        base="stock",
    ),
    error(
        "fold-off-card",
        "a fold lies beside the card",
        "Marks would be printed where nothing is folded, and words across the real fold.",
        "Measure from the left edge of the card, not of the sheet.",
        "folds: [60 mm]",
        "folds: [27 mm]",
        base="stock",
    ),
    error(
        "no-safe-area",
        "the safe distance leaves nothing of the card",
        "There is no room left to print in.",
        "Keep 2 to 4 mm from the edge.",
        "safe: 30 mm",
        "safe: 3 mm",
        base="stock",
    ),
    error(
        "offset-too-large",
        "an offset moves the print off the paper",
        "A printer that is further out than 5 mm has other paper in its tray or scales.",
        "Print the proof again at 100 % and enter what it shows.",
        "cut: yes\noffset: {x: 12 mm, y: 0 mm}",
        "cut: yes\noffset: {x: 0.5 mm, y: -1 mm}",
        base="stock",
    ),
    error(
        "format-unknown",
        "no stock has the format of a face",
        "The face could never be printed.",
        "Write one of the formats that the message lists.",
        _TAG.replace("ID-1", "ID-9"),
        _TAG,
        base="face",
    ),
    error(
        "frames-overlap",
        "two columns of a face lie on each other",
        "Texts would be printed over each other.",
        "Move or narrow one of them.",
        _TAG.replace("y: 20 mm", "y: 10 mm"),
        _TAG,
        base="face",
    ),
    error(
        "frame-outside-safe-area",
        "a column leaves the area that the printer keeps",
        "Its text would be cut off on some sheets.",
        "Keep it within the numbers that the message gives.",
        _TAG.replace("width: 47 mm", "width: 60 mm"),
        _TAG,
        base="face",
    ),
    error(
        "frame-on-hole",
        "a column lies on the hole",
        "The punch goes through the text.",
        "Keep columns 1 mm away from the hole.",
        _TAG.replace("39.5 mm", "47 mm"),
        _TAG,
        base="face",
    ),
    error(
        "frame-on-fold",
        "a column lies on a fold",
        "The text breaks and rubs off there.",
        "Keep columns off the folds of the stock.",
        _FLAG.replace("width: 50 mm", "width: 62 mm"),
        _FLAG,
        base="face",
    ),
    error(
        "least-above-wanted",
        "the least letters of a block are larger than the wanted ones",
        "Text is set in the wanted height and shrunk to the least, never the other way.",
        "Exchange the two numbers.",
        _TAG.replace("least: 6 mm", "least: 14 mm"),
        _TAG,
        base="face",
    ),
    error(
        "letters-below-rule",
        "the least letters of a block are smaller than their rule allows",
        "A rule with a distance promises that the card can be read from there: NUREG-0700 takes "
        "15 minutes of arc, 4 mm of letter for each metre, as the least.",
        "Larger least letters, or the distance from where it is really read.",
        _TAG.replace("least: 2.2 mm, rule: ours", f"least: 2.2 mm, rule: {_LEAST} at 0.8 m"),
        _TAG.replace("least: 2.2 mm, rule: ours", f"least: 2.2 mm, rule: {_LEAST} at 0.55 m"),
        base="face",
    ),
)
