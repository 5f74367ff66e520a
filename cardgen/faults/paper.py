"""Faults of what would be printed."""

from __future__ import annotations

from cardgen.faults.fault import ERROR, WARNING, Fault

_STATIONS = """
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K1 blue}
"""

PRIVATE_TEXT = Fault(
    code="private-text",
    verdict=ERROR,
    title="a text has a code in it, a password, a phone number or a mail address",
    sentence="'{words}' reads like {what}; it would be on paper and in the open record",
    way_out=(
        "take it out and keep it where only the crew sees it; if it is something else, "
        "say what: 'box 4471', 'valve code 12'"
    ),
    why=(
        "Tags hang in the open for ten years, and the record can be read by anyone who has a tag."
    ),
    fix=(
        "Take it out; keep it where only the crew sees it. A number that is none of these passes "
        "once its word or unit stands beside it: 'box 4471', 'valve code 12', '4500 sq ft'."
    ),
    wrong=_STATIONS.replace("side lawn", '"side lawn, gate code 4711"'),
    right=_STATIONS,
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
    why="Letters are not shrunk below what can be read in a box, and nothing is cut off.",
    fix="Say it in fewer words, or print on larger stock; the message says by how much.",
    wrong="",
    right="",
    base="print",
)

LETTER_NOT_IN_FONT = Fault(
    code="letter-not-in-font",
    verdict=ERROR,
    title="a letter that the printed fonts do not have",
    why=(
        "It would be an empty square on paper or, where letters are written from right to left, "
        "stand in the wrong order and shape."
    ),
    fix="Write it with other letters.",
    wrong="",
    right="",
    base="print",
)

CODE_LETTER = Fault(
    code="code-letter",
    verdict=ERROR,
    title="the address holds a letter that the printed code cannot keep",
    why="The code keeps capitals, digits and a few signs, so that it stays large enough to scan.",
    fix="Change the address under 'record', or the name of the box.",
    wrong="",
    right="",
    base="print",
)

CODE_TOO_LARGE = Fault(
    code="code-too-large",
    verdict=ERROR,
    title="the printed code does not fit into its place",
    why="Smaller squares could not be scanned when wet and scratched.",
    fix="Use a shorter address, larger stock, or more room for the code in the face.",
    wrong="",
    right="",
    base="print",
)

NO_FACE = Fault(
    code="no-face",
    verdict=ERROR,
    title="no face is made for this card on this stock",
    why="Nothing says what goes where on it.",
    fix="Choose one of the stocks that the message names.",
    wrong="",
    right="",
    base="print",
)
