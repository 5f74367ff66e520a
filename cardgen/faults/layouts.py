"""Faults of stock and faces."""

from __future__ import annotations

from cardgen.faults.fault import ERROR, Fault

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

UNIT = Fault(
    code="unit",
    verdict=ERROR,
    title="a length on a card is not in millimetres",
    why="Cards and columns are placed to a tenth of a millimetre.",
    fix="Write '3 mm'.",
    wrong="safe: 3",
    right="safe: 3 mm",
    base="stock",
)

CARDS_OFF_PAPER = Fault(
    code="cards-off-paper",
    verdict=ERROR,
    title="the grid of cards is larger than the sheet",
    why="The last cards would be cut off by the printer.",
    fix="Fewer columns or rows, smaller cards, or less gap.",
    wrong="grid: {columns: 4, rows: 3, left: 24.03 mm, top: 12 mm}",
    right="grid: {columns: 3, rows: 3, left: 24.03 mm, top: 12 mm}",
    base="stock",
)

FOOTER_MISPLACED = Fault(
    code="footer-misplaced",
    verdict=ERROR,
    title="the footer of a sheet lies on a card or off the paper",
    why="Job, revision and scale would be printed across a tag.",
    fix="Move it to where no card is.",
    wrong="footer: {x: 12 mm, y: 200 mm, width: 186 mm, height: 7 mm}",
    right="footer: {x: 12 mm, y: 280 mm, width: 186 mm, height: 7 mm}",
    base="stock",
)

HOLE_NEAR_EDGE = Fault(
    code="hole-near-edge",
    verdict=ERROR,
    title="the hole is close to the edge of the card",
    why="The tie tears it out.",
    fix="Keep 4 mm between hole and edge.",
    wrong="hole: {x: 49 mm, y: 6.5 mm, diameter: 5 mm}",
    right="hole: {x: 47.48 mm, y: 6.5 mm, diameter: 5 mm}",
    base="stock",
)

FOLD_OFF_CARD = Fault(
    code="fold-off-card",
    verdict=ERROR,
    title="a fold lies beside the card",
    why="Marks would be printed where nothing is folded, and words across the real fold.",
    fix="Measure from the left edge of the card, not of the sheet.",
    wrong="folds: [60 mm]",
    right="folds: [27 mm]",
    base="stock",
)

NO_SAFE_AREA = Fault(
    code="no-safe-area",
    verdict=ERROR,
    title="the safe distance leaves nothing of the card",
    why="There is no room left to print in.",
    fix="Keep 2 to 4 mm from the edge.",
    wrong="safe: 30 mm",
    right="safe: 3 mm",
    base="stock",
)

OFFSET_TOO_LARGE = Fault(
    code="offset-too-large",
    verdict=ERROR,
    title="an offset moves the print off the paper",
    why="A printer that is further out than 5 mm has other paper in its tray or scales.",
    fix="Print the proof again at 100 % and enter what it shows.",
    wrong="cut: yes\noffset: {x: 12 mm, y: 0 mm}",
    right="cut: yes\noffset: {x: 0.5 mm, y: -1 mm}",
    base="stock",
)

FORMAT_UNKNOWN = Fault(
    code="format-unknown",
    verdict=ERROR,
    title="no stock has the format of a face",
    why="The face could never be printed.",
    fix="Write one of the formats that the message lists.",
    wrong=_TAG.replace("ID-1", "ID-9"),
    right=_TAG,
    base="face",
)

FRAMES_OVERLAP = Fault(
    code="frames-overlap",
    verdict=ERROR,
    title="two columns of a face lie on each other",
    why="Texts would be printed over each other.",
    fix="Move or narrow one of them.",
    wrong=_TAG.replace("y: 20 mm", "y: 10 mm"),
    right=_TAG,
    base="face",
)

FRAME_OUTSIDE_SAFE_AREA = Fault(
    code="frame-outside-safe-area",
    verdict=ERROR,
    title="a column leaves the area that the printer keeps",
    why="Its text would be cut off on some sheets.",
    fix="Keep it within the numbers that the message gives.",
    wrong=_TAG.replace("width: 47 mm", "width: 60 mm"),
    right=_TAG,
    base="face",
)

FRAME_ON_HOLE = Fault(
    code="frame-on-hole",
    verdict=ERROR,
    title="a column lies on the hole",
    why="The punch goes through the text.",
    fix="Keep columns 1 mm away from the hole.",
    wrong=_TAG.replace("39.5 mm", "47 mm"),
    right=_TAG,
    base="face",
)

FRAME_ON_FOLD = Fault(
    code="frame-on-fold",
    verdict=ERROR,
    title="a column lies on a fold",
    why="The text breaks and rubs off there.",
    fix="Keep columns off the folds of the stock.",
    wrong=_FLAG.replace("width: 50 mm", "width: 62 mm"),
    right=_FLAG,
    base="face",
)

LEAST_ABOVE_WANTED = Fault(
    code="least-above-wanted",
    verdict=ERROR,
    title="the least letters of a block are larger than the wanted ones",
    why="Text is set in the wanted height and shrunk to the least, never the other way.",
    fix="Exchange the two numbers.",
    wrong=_TAG.replace("least: 6 mm", "least: 14 mm"),
    right=_TAG,
    base="face",
)

LETTERS_BELOW_RULE = Fault(
    code="letters-below-rule",
    verdict=ERROR,
    title="the least letters of a block are smaller than their rule allows",
    why=(
        "A rule with a distance promises that the card can be read from there: NUREG-0700 takes "
        "15 minutes of arc, 4 mm of letter for each metre, as the least."
    ),
    fix="Larger least letters, or the distance from where it is really read.",
    wrong=_TAG.replace("least: 2.2 mm, rule: ours", f"least: 2.2 mm, rule: {_LEAST} at 0.8 m"),
    right=_TAG.replace("least: 2.2 mm, rule: ours", f"least: 2.2 mm, rule: {_LEAST} at 0.55 m"),
    base="face",
)
