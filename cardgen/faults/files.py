"""Faults of the file itself: can it be read, is it YAML."""

from __future__ import annotations

from cardgen.faults.fault import ERROR, WARNING, Fault

_STATIONS = """
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K1 blue}
"""

FILE_UNREADABLE = Fault(
    code="file-unreadable",
    verdict=ERROR,
    title="the file cannot be opened",
    why="Nothing can be checked or printed from a file that is not there.",
    fix="Look at the name and the folder, and whether you may read it.",
    wrong="",
    right="",
)

FILE_TOO_LARGE = Fault(
    code="file-too-large",
    verdict=ERROR,
    title="the file is far larger than a job file can be",
    why="A job of a thousand stations is well below this size, so it is likely another file.",
    fix="Give the job file, the one that ends in .yaml.",
    wrong="",
    right="",
)

FILE_EMPTY = Fault(
    code="file-empty",
    verdict=ERROR,
    title="the file says nothing",
    why="There is nothing to check.",
    fix="Begin with 'cardgen new', which writes a small job to change.",
    wrong="# only a comment",
    right="",
    base="text",
)

NOT_UTF_8 = Fault(
    code="not-utf-8",
    verdict=ERROR,
    title="the file is saved in an old character set",
    why="Letters with accents would come out wrong on every tag.",
    fix="Save it as UTF-8: most editors ask for it under 'Save as'.",
    wrong="",
    right="",
)

NOT_TEXT = Fault(
    code="not-text",
    verdict=ERROR,
    title="the file holds characters that no text has",
    why="It is a spreadsheet, a word processor's file or a damaged one.",
    fix="Save it as plain text.",
    wrong="",
    right="",
)

BYTE_ORDER_MARK = Fault(
    code="byte-order-mark",
    verdict=WARNING,
    title="the file begins with an unseen mark",
    why="Some editors put it there. It does no harm here, but other programs stumble over it.",
    fix="Save it as UTF-8 without a byte order mark.",
    wrong="",
    right="",
)

UNSEEN_CHARACTER = Fault(
    code="unseen-character",
    verdict=ERROR,
    title="a character that cannot be seen stands in the text",
    why=(
        "It came in by copying from a message or a web page. Two names that look the same are "
        "then two different names."
    ),
    fix="Delete it and type the blank or the letter again.",
    wrong="stations:\n"
    "  A1: {area: front\u200b lawn, box: VB-1, hot: K1 red}\n"
    "  A2: {area: side lawn, box: VB-2, hot: K1 blue}\n",
    right=_STATIONS,
)

TAB = Fault(
    code="tab",
    verdict=ERROR,
    title="a line is set in with a tab",
    why=(
        "What belongs to what is said by blanks at the start of a line; a tab has no fixed width."
    ),
    fix="Use two blanks for each step.",
    wrong="""
        stations:
        \tA1: {area: front lawn, box: VB-1, hot: K1 red}
        """,
    right=_STATIONS,
)

NOT_YAML = Fault(
    code="not-yaml",
    verdict=ERROR,
    title="the signs in this line do not fit together",
    why="A bracket, a quote or a colon is missing, so the rest cannot be told apart.",
    fix="Close what is open; put a text that holds a colon in quotes.",
    wrong="""
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
    right=_STATIONS,
)

DUPLICATE_KEY = Fault(
    code="duplicate-key",
    verdict=ERROR,
    title="one name stands twice in one block",
    why="Only one of the two could be printed, and nobody would know which.",
    fix="Keep one, or give the second its right name.",
    wrong="""
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A1: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
    right=_STATIONS,
)

KEY_NOT_TEXT = Fault(
    code="key-not-text",
    verdict=ERROR,
    title="no name stands before the colon",
    why="Each line of a block has the form 'name: value'.",
    fix="Write the name.",
    wrong="""
        stations:
          [A1]: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
    right=_STATIONS,
)

YAML_TAG = Fault(
    code="yaml-tag",
    verdict=ERROR,
    title="a '!' begins a value",
    why="In YAML that asks a program to make something special of the value.",
    fix="Put the value in quotes, or delete the '!'.",
    wrong="""
        stations:
          A1: {area: !front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
    right="""
        stations:
          A1: {area: "!front lawn", box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
)

ALIAS_UNKNOWN = Fault(
    code="alias-unknown",
    verdict=ERROR,
    title="a '*' names something that is nowhere marked",
    why="In YAML '*name' repeats what was marked with '&name' before.",
    fix="If the '*' is meant as it stands, put the value in quotes.",
    wrong="""
        stations:
          A1: {area: *front, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
    right="""
        stations:
          A1: {area: "*front", box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
)

SECOND_DOCUMENT = Fault(
    code="second-document",
    verdict=ERROR,
    title="a line '---' begins a second job in the file",
    why="One file holds one job; what comes after would be left out silently.",
    fix="Delete the line, or put the second job into a file of its own.",
    wrong="""
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
        ---
        """,
    right=_STATIONS,
)

NESTED_TOO_DEEP = Fault(
    code="nested-too-deep",
    verdict=ERROR,
    title="brackets stand in brackets without end",
    why="No job needs so many; a bracket was likely never closed.",
    fix="Close the bracket.",
    wrong="notes: " + "[" * 34 + "]" * 34,
    right="",
)

TOO_MANY_VALUES = Fault(
    code="too-many-values",
    verdict=ERROR,
    title="the file holds more values than any job",
    why="Repeats with '*' can grow a small file without end, so there is a limit.",
    fix="Write out what is repeated, or split the job.",
    wrong="",
    right="",
)
