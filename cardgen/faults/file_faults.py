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
    sentence="the file cannot be read: {reason}",
    way_out="look at its name and folder",
    variants={
        "folder": ("this is a folder, not a file", "name the job file in it"),
    },
    why="Nothing can be checked or printed from a file that is not there.",
    fix="Look at the name and the folder, and whether you may read it.",
    wrong="cardgen check jbo.yaml",
    right="cardgen check job.yaml",
    base="command",
)

FILE_TOO_LARGE = Fault(
    code="file-too-large",
    verdict=ERROR,
    title="the file is far larger than a job file can be",
    sentence="the file has more than the {most:,} bytes a job may have",
    way_out="a job is a plain text file: is this another file, a picture or a spreadsheet?",
    why="A job of a thousand stations is far below this size, so it is likely another file.",
    fix="Give the job file, the one that ends in .yaml.",
    wrong="cardgen check photo.jpg  # 30 MB",
    right="cardgen check job.yaml",
    base="command",
)

FILE_EMPTY = Fault(
    code="file-empty",
    verdict=ERROR,
    title="there is nothing in the file",
    sentence="the file is empty",
    way_out="'cardgen new FILE' writes a job to start from",
    variants={
        "only comments": "there are only comments in the file",
        "no readings": ("", "the first line names the columns: {columns}"),
        "no list": ("", "name a file with a list of stations, or a workbook of 'cardgen export'"),
    },
    why="There is nothing to check.",
    fix="Begin with 'cardgen new', which writes a small job to change.",
    wrong="# only a comment",
    right="job: {code: DEMO-1, site: Demo Court, revision: 2, date: 2026-03-14}",
    base="text",
)

NOT_UTF_8 = Fault(
    code="not-utf-8",
    verdict=ERROR,
    title="the file is saved in an old character set",
    sentence="the file is saved as {encoding}, not UTF-8",
    way_out="in the editor, choose 'Save as' and the encoding UTF-8",
    variants={
        "letter": "a letter here (byte {byte:02X}) is not saved as UTF-8",
    },
    why="Letters with accents would come out wrong on every tag.",
    fix="Save it as UTF-8: most editors ask for it under 'Save as'.",
    wrong=_STATIONS.replace("side lawn", r"jard\xedn"),
    right=_STATIONS.replace("side lawn", "jardín"),
    base="bytes",
)

NOT_TEXT = Fault(
    code="not-text",
    verdict=ERROR,
    title="the file contains characters that are not text",
    sentence="this is not a text file",
    way_out="a job is a plain text file: is this another file, a picture or a spreadsheet?",
    variants={
        "character": "there is a character here that cannot be typed (code {code})",
        "kind": (
            "this is {kind}, not a plain text file",
            (
                "name the job file, the one that ends in .yaml; 'cardgen new FILE' writes one "
                "into which you type what is in this file"
            ),
        ),
        "spreadsheet": (
            "this is {kind}, not a plain text file",
            "'cardgen import FILE --out JOB.yaml' makes a job of the list of stations in it",
        ),
        "other spreadsheet": (
            "this is {kind}, not a plain text file",
            (
                "if it is a list, save it as .xlsx or .csv; 'cardgen import FILE --out JOB.yaml' "
                "makes a job of a list of stations"
            ),
        ),
    },
    why="It is a spreadsheet, a word processor's file or a damaged one.",
    fix="Save it as plain text.",
    wrong=r"PK\x03\x04\x14\x00\x06\x00\x08\x00\x00\x00",
    right=_STATIONS,
    base="bytes",
)

BYTE_ORDER_MARK = Fault(
    code="byte-order-mark",
    verdict=WARNING,
    title="the file begins with a hidden mark",
    sentence="the file begins with a hidden byte-order mark",
    way_out="save it as 'UTF-8' without BOM; it is read all the same",
    why=("Some editors put it there. It does no harm here, but other programs stumble over it."),
    fix="Save it as UTF-8 without a byte order mark.",
    wrong=r"\xef\xbb\xbf# Demo Court, as built",
    right="# Demo Court, as built",
    base="bytes",
)

UNSEEN_CHARACTER = Fault(
    code="unseen-character",
    verdict=ERROR,
    title="a character in the text cannot be seen",
    sentence="there is a hidden character ({name}) here",
    way_out=("delete it, or type a plain space; it often comes with text copied from a web page"),
    why=(
        "It came in by copying from a message or a web page. Two names that look the same are "
        "then two different names."
    ),
    fix="Delete it and type the space or the letter again.",
    wrong=_STATIONS.replace("front lawn", r"front\xe2\x80\x8b lawn"),
    right=_STATIONS,
    base="bytes",
)

TAB = Fault(
    code="tab",
    verdict=ERROR,
    title="a line is indented with a tab",
    sentence="a tab indents this line",
    way_out="use spaces: YAML does not allow tabs there",
    why=("Spaces at the start of a line say what belongs to what; a tab has no fixed width."),
    fix="Use two spaces for each step.",
    wrong="""
        stations:
        \tA1: {area: front lawn, box: VB-1, hot: K1 red}
        """,
    right=_STATIONS,
)

NOT_YAML = Fault(
    code="not-yaml",
    verdict=ERROR,
    title="the punctuation in this line does not match up",
    sentence="cannot read the file past this point",
    way_out="{way_out}",
    variants={
        "table": (
            "this is {kind}, not a job of 'key: value' lines",
            "'cardgen import FILE --out JOB.yaml' makes a job of a list of stations",
        ),
        "quote": ("a quote is opened here and never closed", "close it where the text ends"),
        "question": (
            "a '?' by itself is not a value",
            "write what is there; where nobody knows it, write 'not known'",
        ),
        "colon": ("a second ':' is in this value", "put the value in quotes: {quoted}"),
        "colon or comma": (
            "a second ':' is in this value",
            "put a comma before '{last}:', or the whole value in quotes: {quoted}",
        ),
        "colon in conductor": ("a second ':' is in this value", "write '{meant}'"),
        "no colon": ("there is no ': ' before the bracket in '{before}'", "write '{meant}'"),
        "round": ("a round bracket cannot have keys in it", "write '{{' here, and '}}' at the end"),
        "two kinds": ("a value begins with '{first}' and ends with '{last}'", "write '{meant}'"),
        "not opened": ("this line closes a bracket that nothing opens", "write '{{' here"),
        "indent": (
            "this line begins in column {here}, and others of its block in column {there}",
            "begin it in column {there}",
        ),
        "emptied": ("'{sign}' says that nothing is there, and lines follow", "delete '{sign}'"),
        "no colon in line": ("there is no ': ' after '{key}'", "write '{meant}'"),
        "never closed": (
            "this bracket is not closed where its value ends",
            "close the bracket: write '{closing}' at the end of the value",
        ),
        "block bracket": (
            "this bracket is not closed",
            "the lines below need no bracket: delete '{sign}'",
        ),
        "dash": ("a '-' is before this key, and not before its neighbors", "delete the '-'"),
        "line without colon": (
            "this line has no ':'",
            "a name has a ':' after it, and a space: 'place: front walk'; a remark begins with '#'",
        ),
        "too many": ("there is a bracket too many", "delete it"),
        "behind bracket": (
            "'{rest}' is behind the bracket that ends the value",
            "delete it, or put '#' and a space before it",
        ),
        "sign behind bracket": ("'{rest}' is behind the bracket that ends the value", "delete it"),
        "semicolon": ("a ';' does not part two keys", "write ',' in place of each ';'"),
        "no value": ("nothing is after this ':'", "write the value, or delete the key"),
        "remark": (
            "what follows '#' is a remark, so the bracket before it is never closed",
            "put the value in quotes: {quoted}",
        ),
    },
    why="A bracket, a quote or a colon is missing, so nothing after it can be read.",
    fix="Close what is open; put a text with a colon in it in quotes.",
    wrong="""
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
    right=_STATIONS,
)

CURLY_QUOTES = Fault(
    code="curly-quotes",
    verdict=ERROR,
    title="curly quotes where plain ones belong",
    sentence="'{text}' begins with a curly quote, which keeps no text together",
    way_out="type plain quotes: {quoted}",
    why=(
        "A word processor or a phone puts them there. They would be printed on the tag, and a "
        "comma or a colon between them still splits the text."
    ),
    fix="Type the plain quotes of the keyboard, and turn 'smart quotes' off in the editor.",
    wrong=_STATIONS.replace("front lawn", "\u201cfront lawn, spray\u201d"),
    right=_STATIONS.replace("front lawn", '"front lawn, spray"'),
)

BULLET = Fault(
    code="bullet",
    verdict=ERROR,
    title="a pasted bullet before a line",
    sentence="there is a bullet ({sign}) before this",
    way_out="delete it; where a list is meant, a plain '-' and a space begin its lines",
    why="It came with text copied from a list, and is no part of a name or a value.",
    fix="Delete it, or type '-' and a space where a list is meant.",
    wrong=_STATIONS.replace("  A2", "  \u2022 A2"),
    right=_STATIONS,
)

REMARK_IN_TEXT = Fault(
    code="remark-in-text",
    verdict=WARNING,
    title="a number sign makes a remark of what follows it",
    sentence="'{lost}' is a remark here, so it is not printed",
    way_out="put the whole value in quotes: {quoted}; before a remark write '# ' with a space",
    variants={
        "station": (
            "'{lost}' is a remark here, so station {number} is not in the job",
            "write '{meant}', without the '#'; before a remark write '# ' with a space",
        ),
    },
    why="What follows ' #' is a remark, so 'gate #2' is printed as 'gate'.",
    fix='Put the text in quotes: "gate #2".',
    wrong="boxes:\n  VB-1:\n    place: gate #2\n  VB-2: {place: front bed}\n",
    right='boxes:\n  VB-1:\n    place: "gate #2"\n  VB-2: {place: front bed}\n',
)

DUPLICATE_KEY = Fault(
    code="duplicate-key",
    verdict=ERROR,
    title="one name is there twice in one block",
    sentence="'{key}' is written twice",
    way_out="keep one of them, or give the second its own name",
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
    title="there is no name before the colon",
    sentence="a name is expected before ':', but {found} is here",
    way_out="write 'name: value'",
    variants={
        "nothing": ("there is no name before ':'", "write one"),
    },
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
    sentence="a value here starts with '!', which means something else in YAML",
    way_out="put the value in quotes, or delete the '!'",
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
    title="a '*' names something that is not defined anywhere",
    sentence="'*{alias}' refers to nothing above",
    way_out="if the '*' is meant, use quotes",
    why="In YAML '*name' repeats what '&name' marked before.",
    fix="If the '*' is part of the text, put the value in quotes.",
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
    sentence="a second document starts here ('---')",
    way_out="a file is one job: delete this line, or put what follows in its own file",
    why="One file is one job; what comes after would be left out silently.",
    fix="Delete the line, or put the second job into another file.",
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
    title="there are brackets in brackets without end",
    sentence="things are nested more than {most} deep here",
    way_out="look for a bracket that is never closed",
    why="No job needs so many; a bracket was likely never closed.",
    fix="Close the bracket.",
    wrong="boxes: " + "[" * 34 + "]" * 34,
    right="boxes: {VB-1: {place: front walk}, VB-2: {place: front bed}}",
)

TOO_MANY_VALUES = Fault(
    code="too-many-values",
    verdict=ERROR,
    title="the file has more values than any job",
    sentence="there are more than {most:,} values here",
    way_out="no job is that large: look for '*' where something is repeated many times",
    why="Repeats with '*' can grow a small file without end, so there is a limit.",
    fix="Write out what is repeated, or split the job.",
    wrong="""
        a: &a [x, x, x, x, x, x, x, x, x, x]
        b: &b [*a, *a, *a, *a, *a, *a, *a, *a, *a, *a]
        c: &c [*b, *b, *b, *b, *b, *b, *b, *b, *b, *b]
        d: &d [*c, *c, *c, *c, *c, *c, *c, *c, *c, *c]
        e: &e [*d, *d, *d, *d, *d, *d, *d, *d, *d, *d]
        f: &f [*e, *e, *e, *e, *e, *e, *e, *e, *e, *e]
        """,
    right="""
        stations:
          A1: &lawn {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
)
