"""Faults of spreadsheets and lists of stations that become a job."""

from __future__ import annotations

from cardgen.faults.fault import ERROR, NOTE, WARNING, Fault

_LIST = """
    Station,Area,Box
    A1,front lawn,VB-1
    A2,side lawn,VB-2
    """
_WAYS = """
    Station,Area,Box,Color,From,Length
    A1,front lawn,VB-1,red,A,85 ft
    A2,side lawn,VB-2,blue,VB-1,60 ft
    """


def _list(old: str, new: str) -> str:
    assert old in _LIST
    return _LIST.replace(old, new)


SHEET_HEADINGS = Fault(
    code="sheet-headings",
    verdict=ERROR,
    title="a sheet or list has no row of headings",
    sentence="the sheet '{sheet}' has no row of headings",
    way_out="the row above its first entry names the columns: {known}",
    variants={
        "list": (
            "this list has no row of headings",
            "the row above the first station names the columns: Station, Area, Box, Color, Notes",
        ),
        "column": (
            "there is no column '{column}'",
            "give the column that has it this heading, or add one",
        ),
        "no station": (
            "no column says which station a row is",
            "give that column the heading 'Station'",
        ),
        "no site": (
            "no column says which site a row is of",
            "give that column the heading 'Site', or each site a sheet of its own",
        ),
        "nothing": ("there is nothing below the headings", "give each station a row"),
    },
    why="Without headings nobody can tell an area from a note.",
    fix="Put a row above the first station that says what is in each column.",
    wrong=_list("    Station,Area,Box\n", ""),
    right=_LIST,
    base="list",
)

SHEET_COLUMN_UNKNOWN = Fault(
    code="sheet-column-unknown",
    verdict=ERROR,
    title="a column of a workbook has an unknown name",
    sentence="the sheet '{sheet}' has no column '{column}'",
    way_out="{way_out}",
    why="What is in it would be left out silently. Only stations can have columns of your own.",
    fix="Correct the heading, or move the column to the sheet 'stations'.",
    wrong="""
        [boxes]
        name,plaec
        VB-1,front walk
        """,
    right="""
        [boxes]
        name,place
        VB-1,front walk
        VB-2,side walk
        """,
    base="workbook",
)

SHEET_COLUMN_TWICE = Fault(
    code="sheet-column-twice",
    verdict=ERROR,
    title="two columns mean the same",
    sentence="the column '{column}' means the same as one before it",
    way_out="give one of them another heading, or delete it",
    variants={
        "list": (
            "the columns '{other}' and '{column}' both mean the {meant}",
            "give one of them another heading: then it is kept as a column of your own",
        ),
    },
    why="Nobody can tell which of the two counts.",
    fix="Give one of them another heading.",
    wrong=_list("Station,Area,Box", "Station,Box,Valve box"),
    right=_LIST,
    base="list",
)

SHEET_CELL_UNREAD = Fault(
    code="sheet-cell-unread",
    verdict=ERROR,
    title="a cell has an error instead of a value",
    sentence="the cell shows the error {text}",
    way_out="correct its formula, or type the value",
    variants={
        "formula": (
            "the cell has a formula whose value is not in the file",
            "open the file in the spreadsheet program and save it again, or type the value",
        ),
    },
    why="The error would be printed on a tag.",
    fix="Correct the formula, or type the value.",
    wrong=_list("front lawn", "#REF!"),
    right=_LIST,
    base="list",
)

SHEET_ROW = Fault(
    code="sheet-row",
    verdict=ERROR,
    title="a cell is in no column",
    sentence="'{text}' is in no column that has a heading",
    way_out="give its column a heading, or quotes to a text with the separator in it",
    why="It would be left out silently.",
    fix="Give the column a heading. In a CSV file put a text with a comma in quotes.",
    wrong=_list("front lawn", "front lawn, west"),
    right=_list("front lawn", '"front lawn, west"'),
    base="list",
)

SHEET_NAME = Fault(
    code="sheet-name",
    verdict=ERROR,
    title="a row does not say what it belongs to",
    sentence="there is no {owner} '{text}' in this workbook",
    way_out="{way_out}",
    variants={
        "none": (
            "this row has no name in the column '{owner}', but '{text}' in another",
            "name it, or empty the row",
        ),
        "job": ("the sheet 'job' has no row '{text}'", "{way_out}"),
        "station": (
            "'{text}' names no station",
            "write controller and terminal: 'A7', or '7' with a column 'Controller'",
        ),
        "twin": (
            "'{text}' is one of several valves of a station",
            "give '{station}' one row, and write its valves in the job file: {valves}",
        ),
        "no station": (
            "this row has no station, but '{text}'",
            "write which station it is, or empty the row",
        ),
        "no site": (
            "this row has no site, but '{text}'",
            "write which site it is of, or empty the row",
        ),
        "site twice": (
            "the site '{text}' is in the sheet '{other}' too",
            "put all its rows into one sheet",
        ),
        "no controller": (
            "'{text}' does not say on which controller",
            "write it as '{example}', as the other rows do, or fill the column 'Controller'",
        ),
        "two codes": (
            "the code of the job is '{text}' here, but '{other}' above",
            "write one code in all rows of a site",
        ),
        "code": (
            "'{text}' is no code of a job: {fault}",
            "write a short one of letters, digits and '-': 'LARK-06'",
        ),
        "code taken": (
            "the code '{text}' is that of '{other}' too",
            "give each job a code of its own",
        ),
        "elsewhere": (
            "'{text}' is not on controller '{controller}', which its row names",
            "correct one of the two",
        ),
    },
    why="A valve would get the wire of another.",
    fix="Write the name in full, controller and terminal.",
    wrong=_list("A2,", "second,"),
    right=_LIST,
    base="list",
)

SHEET_UNKNOWN = Fault(
    code="sheet-unknown",
    verdict=ERROR,
    title="a sheet of a workbook has an unknown name",
    sentence="a job has no sheet '{sheet}'",
    way_out="{way_out}",
    why="What is in it would be left out silently.",
    fix="Correct the name of the sheet, or move it to another file.",
    wrong="""
        [boxs]
        name,place
        VB-1,front walk
        """,
    right="""
        [boxes]
        name,place
        VB-1,front walk
        VB-2,side walk
        """,
    base="workbook",
)

SHEET_LEG = Fault(
    code="sheet-leg",
    verdict=ERROR,
    title="a leg does not begin where the one before it ends",
    sentence="this leg begins at '{start}', but the one before it ends at '{before}'",
    way_out="put the legs of a cable in their order, or correct one of the two",
    why="A run is one line from the controller outward.",
    fix="Put the legs of each cable in their order, from the controller outward.",
    wrong="""
        [legs]
        cable,from,length,to
        K1,A,85 ft,VB-1
        K1,A,60 ft,VB-2
        """,
    right="""
        [legs]
        cable,from,length,to
        K1,A,85 ft,VB-1
        K1,VB-1,60 ft,VB-2
        """,
    base="workbook",
)

SHEET_BOX = Fault(
    code="sheet-box",
    verdict=ERROR,
    title="a list does not say clearly where a box is on its cable",
    sentence="'{text}' is no length: {fault}",
    way_out="{way_out}",
    variants={
        "no box": (
            "this row has '{text}' for the way to a box, and no box",
            "write the box of the station, or empty the cell",
        ),
        "no place": (
            "the box '{box}' has a length, '{text}', and no box before it",
            "write the box before it on the cable, or the controller",
        ),
        "place": (
            "'{text}' is no box of this list, and not the controller",
            "write the box before it on the cable, or the controller",
        ),
        "itself": (
            "the box '{text}' cannot be before itself",
            "write the box before it on the cable, or the controller",
        ),
        "twice": (
            "the way to '{box}' is '{text}' here, but '{other}' above",
            "write the same in all rows of this box",
        ),
        "none": (
            "the cable of '{station}' has no leg from '{start}' to '{box}'",
            "correct the two, or describe the run in the job file",
        ),
        "which": (
            "{count} cables have a leg from '{start}' to '{box}'",
            "give '{station}' its hot, which says the cable",
        ),
    },
    why="The ohms and volts on a tag come from these lengths.",
    fix="Write the box before it and the length from there, with its unit.",
    wrong=_WAYS.replace("85 ft", "85"),
    right=_WAYS,
    base="list",
)
SHEET_COLOR = Fault(
    code="sheet-color",
    verdict=ERROR,
    title="a color of a list does not say which conductor it is",
    sentence="'{text}' is no color that is known",
    way_out="{suggestion}",
    variants={
        "which": (
            "{count} conductors that reach '{box}' are {color}",
            "write cable and color into a column 'Hot': {examples}",
        ),
        "none": (
            "no cable that reaches '{box}' has a {color} conductor",
            "correct the color or the box, or add the conductor to its cable",
        ),
    },
    why="The color in the box is how a hand finds the wire.",
    fix="Write the color as it is known, or cable and color in a column 'Hot'.",
    wrong=_list("Area,Box", "Color,Box").replace("front lawn", "rde").replace("side lawn", "blue"),
    right=_list("Area,Box", "Color,Box").replace("front lawn", "red").replace("side lawn", "blue"),
    base="list",
)

SHEET_LEFT_OUT = Fault(
    code="sheet-left-out",
    verdict=NOTE,
    title="a row of a list is left out, or read though it is hidden",
    sentence="'{text}' counts as a sum below the list and is left out",
    way_out="nothing to do if it is one",
    variants={
        "hidden": (
            "rows are hidden in this sheet ({rows}); they are read all the same",
            "delete those that do not belong to the job",
        ),
        "sheet": (
            "the sheet '{sheet}' is not read: a list of stations is one sheet",
            "nothing to do if the stations are all in '{other}'",
        ),
        "no list": (
            "the sheet '{sheet}' is not read: it has no list of stations",
            "nothing to do if no stations are in it",
        ),
        "ways": (
            "the boxes of controller '{controller}' are not on one cable: the way is 'extra'",
            "write the runs of the cables into the job file",
        ),
        "worked out": (
            "the sheet '{sheet}' is worked out from the others and not read",
            "nothing to do, unless something was changed in it",
        ),
    },
    why="What is not read, or is read though nobody sees it, should be known.",
    fix="Nothing, if it is so. Else give the row its station, or delete it.",
    wrong=_LIST.rstrip() + "\n    Total,2 stations,\n",
    right=_LIST,
    base="list",
)

SHEET_OUTDATED = Fault(
    code="sheet-outdated",
    verdict=WARNING,
    title="a job changed where its workbook changes it, too",
    sentence="'{text}' is left out: the job was changed to '{now}' after this workbook was written",
    way_out="change the job itself, or export it again and change that workbook",
    variants={
        "gone": (
            "'{text}' is left out: the job lost '{name}' after this workbook was written",
            "add it to the job itself, or export the job again and change that workbook",
        ),
        "stays": (
            "'{name}' stays: the job changed it after this workbook was written",
            "remove it in the job itself, or export the job again and change that workbook",
        ),
    },
    why="Nobody but you can tell which of the two is right.",
    fix="Change the job itself, or export it again and change that workbook.",
    wrong="""
        [boxes]
        name,place
        VB-1,side gate
        VB-2,front bed
        """,
    right="""
        [boxes]
        name,place
        VB-1,front walk
        VB-2,side gate
        """,
    base="late workbook",
)
