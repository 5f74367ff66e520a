"""Codes of what would be printed."""

from __future__ import annotations

from cardgen.checks.explanations.model import error, warning

_STATIONS = """
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K1 blue}
"""

ENTRIES = (
    error(
        "private-text",
        "a text holds a code, a password, a phone number or a mail address",
        "Tags hang in the open for ten years, and the record can be read by anyone who has a tag.",
        "Take it out; keep it where only the crew sees it. A number that is none of these passes "
        "once its word or unit stands beside it: 'box 4471', 'valve code 12', '4500 sq ft'.",
        _STATIONS.replace("side lawn", '"side lawn, gate code 4711"'),
        _STATIONS,
    ),
    warning(
        "change-ahead",
        "the change log is ahead of the job's revision",
        "Tags would carry an older revision than the work that they describe.",
        "Raise 'revision' under 'job', or mend the log.",
        "changes:\n  - {revision: 3, date: 2026-03-15, text: B9 moved}\n",
        "changes:\n  - {revision: 2, date: 2026-03-15, text: B9 moved}\n",
    ),
    error(
        "text-too-long",
        "a text does not fit on a card",
        "Letters are not shrunk below what can be read in a box, and nothing is cut off.",
        "Say it in fewer words, or print on larger stock; the message says by how much.",
        base="print",
    ),
    error(
        "letter-not-in-font",
        "a letter that the printed fonts do not have",
        "It would be an empty square on paper or, where letters are written from right to left, "
        "stand in the wrong order and shape.",
        "Write it with other letters.",
        base="print",
    ),
    error(
        "code-letter",
        "the address holds a letter that the printed code cannot keep",
        "The code keeps capitals, digits and a few signs, so that it stays large enough to scan.",
        "Change the address under 'record', or the name of the box.",
        base="print",
    ),
    error(
        "code-too-large",
        "the printed code does not fit into its place",
        "Smaller squares could not be scanned when wet and scratched.",
        "Use a shorter address, larger stock, or more room for the code in the face.",
        base="print",
    ),
    error(
        "no-face",
        "no face is made for this card on this stock",
        "Nothing says what goes where on it.",
        "Choose one of the stocks that the message names.",
        base="print",
    ),
)
