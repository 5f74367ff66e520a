"""Faults of stock and faces."""

from __future__ import annotations

from cardgen.faults.fault import ERROR, Fault

_TAG = """
kind: valve tag
format: ID-1
columns:
  - frame: {x: 3 mm, y: 3 mm, width: 39.5 mm, height: 12 mm}
    blocks: [{field: headline, capitals: 12 / 6 mm, rule: ours}]
  - frame: {x: 3 mm, y: 20 mm, width: 47 mm, height: 20 mm}
    blocks: [{field: area, capitals: 4 / 2.2 mm, rule: ours}]
"""
_LEAST = "NUREG-0700 minimum of 15 minutes of arc"
_FLAG = """
kind: flag
format: flag
columns:
  - frame: {x: 2 mm, y: 2 mm, width: 50 mm, height: 8 mm}
    blocks: [{field: headline, capitals: 6 / 3 mm, rule: ours}]
"""

UNIT = Fault(
    code="unit",
    verdict=ERROR,
    title="a length on a card is not in millimeters",
    sentence="'{text}' is not {what}",
    way_out="write it like {example}",
    why="Cards and columns are placed to a tenth of a millimeter.",
    fix="Write '2 mm'.",
    wrong="safe: 2",
    right="safe: 2 mm",
    base="stock",
)

CARDS_OFF_PAPER = Fault(
    code="cards-off-paper",
    verdict=ERROR,
    title="the grid of cards is larger than the sheet",
    sentence="the cards of '{stock}' reach {over:.2f} mm beyond the paper",
    way_out="fewer columns or rows, or less gap",
    why="The last cards would be cut off by the printer.",
    fix="Use fewer columns or rows, smaller cards, or less gap.",
    wrong="grid: {columns: 4, rows: 3, left: 24.03 mm, top: 12 mm}",
    right="grid: {columns: 3, rows: 3, left: 24.03 mm, top: 12 mm}",
    base="stock",
)

FOOTER_MISPLACED = Fault(
    code="footer-misplaced",
    verdict=ERROR,
    title="the footer of a sheet is on a card or off the paper",
    sentence="the footer of '{stock}' is on a card or beyond the paper",
    why="Job, revision and scale would be printed across a tag.",
    fix="Move it to where no card is.",
    wrong="footer: {x: 12 mm, y: 200 mm, width: 186 mm, height: 7 mm}",
    right="footer: {x: 12 mm, y: 280 mm, width: 186 mm, height: 7 mm}",
    base="stock",
)

TURNED_UNKNOWN = Fault(
    code="turned-unknown",
    verdict=ERROR,
    title="the stock that is the same sheet turned is not that",
    sentence="there is no stock '{turned}' to turn '{stock}' to",
    way_out="{known}",
    variants={
        "size": (
            "'{turned}' is not the sheet of '{stock}' turned: {width:g} x {height:g} mm",
            "its width is the height of '{stock}', its height the width",
        ),
    },
    why="A print takes the way round that needs fewer sheets; both lie in the same tray.",
    fix="Name the stock with the same paper the other way round, or leave 'turned' out.",
    wrong="turned: legend-a4-tall",
    right="turned: legend-a4",
    base="stock",
)

HOLE_NEAR_EDGE = Fault(
    code="hole-near-edge",
    verdict=ERROR,
    title="the hole is close to the edge of the card",
    sentence="the hole is {near:.2f} mm from the edge of the card",
    way_out="less than {least:g} mm tears out",
    variants={
        "beyond": (
            "the hole reaches {over:.2f} mm beyond the card",
            "its middle is measured from the left and the top edge of the card",
        ),
    },
    why="The tie tears it out.",
    fix="Keep 4 mm between hole and edge.",
    wrong="hole: {x: 49 mm, y: 6.5 mm, diameter: 5 mm}",
    right="hole: {x: 47.48 mm, y: 6.5 mm, diameter: 5 mm}",
    base="stock",
)

FOLD_OFF_CARD = Fault(
    code="fold-off-card",
    verdict=ERROR,
    title="a fold is not on the card",
    sentence="a fold at {fold:g} mm is not on a card {width:g} mm wide",
    way_out="folds are measured from the left edge of the card",
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
    sentence="the safe distance of {safe:g} mm leaves nothing of the card",
    way_out="2 to 4 mm are usual",
    why="There is no room left to print in.",
    fix="Keep 2 to 4 mm from the edge.",
    wrong="safe: 30 mm",
    right="safe: 2 mm",
    base="stock",
)

OFFSET_TOO_LARGE = Fault(
    code="offset-too-large",
    verdict=ERROR,
    title="an offset moves the print off the paper",
    sentence="an offset of {x:g} and {y:g} mm is more than {most:g} mm",
    way_out="print the proof again at 100 % on the right paper",
    variants={
        "off the paper": (
            "with its offset the print of '{stock}' leaves the paper",
            "move 'left' and 'top' of the grid, or give the cards a larger 'safe'",
        ),
    },
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
    sentence="no stock has the format '{format}' of this face",
    way_out="known: {known}",
    why="The face could never be printed.",
    fix="Write one of the formats that the message lists.",
    wrong=_TAG.replace("ID-1", "ID-9"),
    right=_TAG,
    base="face",
)

FRAMES_OVERLAP = Fault(
    code="frames-overlap",
    verdict=ERROR,
    title="two columns of a face overlap",
    sentence="this column overlaps one above it",
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
    sentence="this column leaves the safe area of '{stock}'",
    way_out="x from {left:g} to {right:g} mm, y from {top:g} to {bottom:g} mm",
    why="Its text would be cut off on some sheets.",
    fix="Keep it within the numbers that the message gives.",
    wrong=_TAG.replace("width: 47 mm", "width: 60 mm"),
    right=_TAG,
    base="face",
)

FRAME_ON_HOLE = Fault(
    code="frame-on-hole",
    verdict=ERROR,
    title="a column is on the hole",
    sentence="this column is on the hole of '{stock}'",
    why="The punch goes through the text.",
    fix="Keep columns 1 mm away from the hole.",
    wrong=_TAG.replace("39.5 mm", "47 mm"),
    right=_TAG,
    base="face",
)

FRAME_ON_FOLD = Fault(
    code="frame-on-fold",
    verdict=ERROR,
    title="a column is on a fold",
    sentence="this column is on the fold of '{stock}' at {fold:g} mm",
    why="The text breaks and rubs off there.",
    fix="Keep columns off the folds of the stock.",
    wrong=_FLAG.replace("width: 50 mm", "width: 62 mm"),
    right=_FLAG,
    base="face",
)

HEIGHTS_NOT_FALLING = Fault(
    code="heights-not-falling",
    verdict=ERROR,
    title="heights on a face do not go from large to small",
    sentence="the heights of '{field}' do not go from large to small",
    way_out="the largest first: '5 / 4 / 3 mm'",
    why="The heights are those of the scales of a print, which begin with the largest.",
    fix="Put the largest height first.",
    wrong=_TAG.replace("4 / 2.2 mm", "2 / 4.2 mm"),
    right=_TAG,
    base="face",
)

LETTERS_BELOW_RULE = Fault(
    code="letters-below-rule",
    verdict=ERROR,
    title="the least letters of a block are smaller than their rule allows",
    sentence=(
        "the least letters of '{field}' are {least:g} mm, {lacks:.2g} mm less than "
        "their rule asks for"
    ),
    way_out="{asked:g} mm or more as the last of its heights, or a shorter distance in 'rule'",
    why=(
        "A rule with a distance promises that the card can be read from there: "
        "NUREG-0700 takes 15 minutes of arc, 4 mm of letter for each meter, as the "
        "least."
    ),
    fix="Use larger least letters, or write the distance from where it is really read.",
    wrong=_TAG.replace("2.2 mm, rule: ours", f"2.2 mm, rule: {_LEAST} at 0.8 m"),
    right=_TAG.replace("2.2 mm, rule: ours", f"2.2 mm, rule: {_LEAST} at 0.55 m"),
    base="face",
)
