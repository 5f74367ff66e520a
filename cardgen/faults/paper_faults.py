"""Faults of what would be printed."""

from __future__ import annotations

from cardgen.faults.fault import ERROR, WARNING, Fault

_STATIONS = """
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K1 blue}
"""

_CODE = """
kind: valve tag
format: ID-1
columns:
  - frame: {x: 3 mm, y: 20 mm, width: 24 mm, height: 40 mm}
    blocks: [{field: code, show: symbol, side: 30 mm, capitals: 2.5 mm, rule: ours}]
"""
_FACE = """
# layouts/faces/valve-tag-id-1.yaml
kind: valve tag
format: ID-1
columns:
  - frame: {x: 3 mm, y: 3 mm, width: 39.5 mm, height: 12 mm}
    blocks: [{field: headline, capitals: 12 / 6 mm, rule: ours}]
"""

PRIVATE_TEXT = Fault(
    code="private-text",
    verdict=ERROR,
    title="a text has a code, a password, a phone number or an email address",
    sentence="'{words}' reads like {what}; it would be on paper and in the open record",
    way_out=(
        "take it out and keep it where only the crew sees it; if it is something else, "
        "say what: 'box 4471', 'valve code 12'"
    ),
    variants={
        "readings": (
            "'{words}' reads like {what}; the sheet goes from hand to hand",
            "take it out; if it is something else, say what: 'box 4471', 'valve code 12'",
        ),
    },
    why=(
        "Tags hang in the open for ten years, and the record can be read by anyone who has a tag."
    ),
    fix=(
        "Take it out; keep it where only the crew sees it. A number that is none of these passes "
        "once its word or unit is beside it: 'box 4471', 'valve code 12', '4500 sq ft'."
    ),
    wrong=_STATIONS.replace("side lawn", '"side lawn, gate code 4711"'),
    right=_STATIONS,
)

STARTER_VALUE = Fault(
    code="starter-value",
    verdict=WARNING,
    thing="value",
    title="a value is still as 'cardgen new' wrote it",
    sentence="'{value}' is only what a new file begins with, and it would be on paper",
    way_out="write the code of your own job: 'code: LARK-06'",
    variants={
        "site": ("", "write the name of your own site"),
        "address": (
            "",
            "write the web address of your own record; without one leave 'record' out",
        ),
    },
    why="A tag with the name or the address of no site leads nobody to this one.",
    fix=(
        "Write your own code, site and address. Without an address leave 'record' out: then "
        "nothing has a code."
    ),
    wrong="job: {code: LARK-06, site: Our first site, revision: 1, date: 2026-01-31}",
    right="job: {code: LARK-06, site: Larkspur Cottage, revision: 1, date: 2026-01-31}",
)

CHANGE_AHEAD = Fault(
    code="change-ahead",
    verdict=WARNING,
    title="the change log is ahead of the job's revision",
    sentence="the change log has revision {logged}, but the job is at revision {revision}",
    way_out="raise 'revision' under 'job', or correct the log",
    why="Tags would carry an older revision than the work that they describe.",
    fix="Raise 'revision' under 'job', or correct the log.",
    wrong="changes:\n  - {revision: 3, date: 2026-03-15, text: B9 moved}\n",
    right="changes:\n  - {revision: 2, date: 2026-03-15, text: B9 moved}\n",
)

TEXT_TOO_LONG = Fault(
    code="text-too-long",
    verdict=ERROR,
    title="a text does not fit on a card",
    sentence=("{what} is {over:.1f} mm too wide even in the smallest letters ({least:.3g} mm)"),
    variants={
        "table": ("", "its longest word is '{longest}'"),
        "column": "the column with {fields} on {card} is {over:.1f} mm too tall even in the "
        "smallest letters (from {least:.3g} mm)",
        "row": "one row on {card} is {over:.1f} mm too tall for a frame of {high:g} mm",
        "drawing": (
            "'{text}' is too wide for its column of {width:.0f} mm in the wiring drawing",
            "shorten it, or write it as several words",
        ),
    },
    why="Letters are not shrunk below what can be read in a box, and nothing is cut off.",
    fix="Say it in fewer words, or print on larger stock; the message says by how much.",
    wrong=_STATIONS.replace(
        "side lawn",
        "the long north slope behind the upper car park of the clubhouse and on to the pear trees",
    ),
    right=_STATIONS.replace("side lawn", "north slope behind the clubhouse"),
    base="print",
)

LETTER_NOT_IN_FONT = Fault(
    code="letter-not-in-font",
    verdict=ERROR,
    title="a letter that the printed fonts do not have",
    sentence="{what} has {letters}, which the fonts cannot print",
    way_out="write it with other letters",
    variants={
        "drawing": "'{text}' in the wiring drawing has {letters}, which the fonts cannot print",
        "text": "'{text}' has {letters}, which the fonts cannot print",
    },
    why=(
        "It would be an empty square on paper or, where letters are written from right "
        "to left, be in the wrong order and shape."
    ),
    fix="Write it with other letters.",
    wrong=_STATIONS.replace("side lawn", "前庭"),
    right=_STATIONS,
    base="print",
)

CODE_TOO_LARGE = Fault(
    code="code-too-large",
    verdict=ERROR,
    title="the printed code does not fit into its place",
    sentence=("{what} needs a QR code of at least {least:.1f} mm, but its frame has {side:.1f} mm"),
    way_out="a shorter address makes a smaller code",
    variants={
        "column": ("the code is wider than its column of {width:g} mm", ""),
    },
    why="Smaller squares could not be scanned when wet and scratched.",
    fix="Use a shorter address, larger stock, or more room for the code in the face.",
    wrong=_CODE,
    right=_CODE.replace("side: 30 mm", "side: 20 mm"),
    base="face",
)

NO_FACE = Fault(
    code="no-face",
    verdict=ERROR,
    title="no face is made for this card on this stock",
    sentence="{what} cannot be printed on '{stock}'",
    why="Nothing says where each field goes on it.",
    fix="Choose one of the stocks that the message names.",
    wrong=_FACE.replace("ID-1", "large"),
    right=_FACE,
    base="print",
)
