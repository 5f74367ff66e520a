"""Codes of the file itself: can it be read, is it YAML."""

from __future__ import annotations

from cardgen.checks.explanations.model import error, warning

_STATIONS = """
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K1 blue}
"""

ENTRIES = (
    error(
        "file-unreadable",
        "the file cannot be opened",
        "Nothing can be checked or printed from a file that is not there.",
        "Look at the name and the folder, and whether you may read it.",
    ),
    error(
        "file-too-large",
        "the file is far larger than a job file can be",
        "A job of a thousand stations is well below this size, so it is likely another file.",
        "Give the job file, the one that ends in .yaml.",
    ),
    error(
        "file-empty",
        "the file says nothing",
        "There is nothing to check.",
        "Begin with 'cardgen new', which writes a small job to change.",
        "# only a comment",
        "",
        base="text",
    ),
    error(
        "not-utf-8",
        "the file is saved in an old character set",
        "Letters with accents would come out wrong on every tag.",
        "Save it as UTF-8: most editors ask for it under 'Save as'.",
    ),
    error(
        "not-text",
        "the file holds characters that no text has",
        "It is a spreadsheet, a word processor's file or a damaged one.",
        "Save it as plain text.",
    ),
    warning(
        "byte-order-mark",
        "the file begins with an unseen mark",
        "Some editors put it there. It does no harm here, but other programs stumble over it.",
        "Save it as UTF-8 without a byte order mark.",
    ),
    error(
        "unseen-character",
        "a character that cannot be seen stands in the text",
        """It came in by copying from a message or a web page. Two names that look the same are then
        two different names.""",
        "Delete it and type the blank or the letter again.",
        "stations:\n"
        "  A1: {area: front\u200b lawn, box: VB-1, hot: K1 red}\n"
        "  A2: {area: side lawn, box: VB-2, hot: K1 blue}\n",
        _STATIONS,
    ),
    error(
        "tab",
        "a line is set in with a tab",
        "What belongs to what is said by blanks at the start of a line; a tab has no fixed width.",
        "Use two blanks for each step.",
        """
        stations:
        \tA1: {area: front lawn, box: VB-1, hot: K1 red}
        """,
        _STATIONS,
    ),
    error(
        "not-yaml",
        "the signs in this line do not fit together",
        "A bracket, a quote or a colon is missing, so the rest cannot be told apart.",
        "Close what is open; put a text that holds a colon in quotes.",
        """
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
        _STATIONS,
    ),
    error(
        "duplicate-key",
        "one name stands twice in one block",
        "Only one of the two could be printed, and nobody would know which.",
        "Keep one, or give the second its right name.",
        """
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A1: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
        _STATIONS,
    ),
    error(
        "key-not-text",
        "no name stands before the colon",
        "Each line of a block has the form 'name: value'.",
        "Write the name.",
        """
        stations:
          [A1]: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
        _STATIONS,
    ),
    error(
        "yaml-tag",
        "a '!' begins a value",
        "In YAML that asks a program to make something special of the value.",
        "Put the value in quotes, or delete the '!'.",
        """
        stations:
          A1: {area: !front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
        """
        stations:
          A1: {area: "!front lawn", box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
    ),
    error(
        "alias-unknown",
        "a '*' names something that is nowhere marked",
        "In YAML '*name' repeats what was marked with '&name' before.",
        "If the '*' is meant as it stands, put the value in quotes.",
        """
        stations:
          A1: {area: *front, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
        """
        stations:
          A1: {area: "*front", box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
    ),
    error(
        "second-document",
        "a line '---' begins a second job in the file",
        "One file holds one job; what comes after would be left out silently.",
        "Delete the line, or put the second job into a file of its own.",
        """
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
        ---
        """,
        _STATIONS,
    ),
    error(
        "nested-too-deep",
        "brackets stand in brackets without end",
        "No job needs so many; a bracket was likely never closed.",
        "Close the bracket.",
        "notes: " + "[" * 34 + "]" * 34,
        "",
    ),
    error(
        "too-many-values",
        "the file holds more values than any job",
        "Repeats with '*' can grow a small file without end, so there is a limit.",
        "Write out what is repeated, or split the job.",
    ),
)
