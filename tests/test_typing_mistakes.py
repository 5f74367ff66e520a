"""What people type wrong: each mistake gets one message, and the way out leads to what was meant.

The mistakes are those of people who have never seen YAML, and of lists pasted from elsewhere
(common practice, no source).  What is right is written by hand beside each.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import NamedTuple

from cardgen.cli.main import main
from cardgen.examine import examine
from cardgen.problems import Problem, Verdict
from cardgen.reading.files import decode
from tests.jobs import edit, examined, sample, well_said

JOB = sample("larkspur")
LEG, AREA, HOT = "85 ft, VB-1", '"front beds, drip"', "hot: A-K1 green"
RUN = "[A, 85 ft, VB-1, 60 ft, VB-2]"
EIGHT = "    stations: 8\n"
K1, BOX, A3 = "A-K1: {gauge: 18 AWG", "box: VB-2, hot: A-K1 green", "  A3: {"


class Mistake(NamedTuple):
    """`spot` of the sample becomes `wrong`, which gives `code`.

    With `part` the way out is certain: put in the place of that part, it makes `right`.  Else the
    way out says `right`.
    """

    spot: str
    wrong: str
    code: str
    part: str
    right: str


MISTAKES = (
    # Lengths: an inch is 1/12 ft, a yard 3 ft.
    Mistake(LEG, "1,050 ft, VB-1", "comma", "1,050 ft", "1050 ft, VB-1"),
    Mistake(LEG, '"1,050 ft", VB-1', "comma", '"1,050 ft"', "1050 ft, VB-1"),
    Mistake(LEG, "1.050,5 m, VB-1", "comma", "1.050,5 m", "1050.5 m, VB-1"),
    Mistake(LEG, "1 050 ft, VB-1", "value", "1 050 ft", "1050 ft, VB-1"),
    Mistake(LEG, "85,5 ft, VB-1", "comma", "85,5 ft", "85.5 ft, VB-1"),
    Mistake(LEG, "85', VB-1", "unit-unknown", "85'", "85 ft, VB-1"),
    Mistake(LEG, "85\u2019, VB-1", "unit-unknown", "85\u2019", "85 ft, VB-1"),
    Mistake(LEG, "12'6\", VB-1", "value", "12'6\"", "12.5 ft, VB-1"),
    Mistake(LEG, "12 ft 6 in, VB-1", "value", "12 ft 6 in", "12.5 ft, VB-1"),
    Mistake(LEG, "3 1/2 in, VB-1", "value", "3 1/2 in", "0.2917 ft, VB-1"),
    Mistake(LEG, "85\u00bd ft, VB-1", "value", "85\u00bd ft", "85.5 ft, VB-1"),
    Mistake(LEG, "85 1/2 ft, VB-1", "value", "85 1/2 ft", "85.5 ft, VB-1"),
    Mistake(LEG, "40 yd, VB-1", "unit-unknown", "40 yd", "120 ft, VB-1"),
    Mistake(LEG, "0.4 km, VB-1", "unit-unknown", "0.4 km", "400 m, VB-1"),
    Mistake(LEG, "85 ft., VB-1", "unit-unknown", "85 ft.", "85 ft, VB-1"),
    Mistake(LEG, "85 lf, VB-1", "unit-unknown", "85 lf", "85 ft, VB-1"),
    Mistake(LEG, "85-ft, VB-1", "value", "85-ft", "85 ft, VB-1"),
    Mistake(LEG, "about 85 ft, VB-1", "value", "about 85 ft", "85 ft, VB-1"),
    Mistake(LEG, "~85 ft, VB-1", "value", "~85 ft", "85 ft, VB-1"),
    Mistake(LEG, ".5 ft, VB-1", "value", ".5 ft", "0.5 ft, VB-1"),
    Mistake(LEG, "85, VB-1", "unit-missing", "", "'85 ft' or '85 m'"),
    Mistake(LEG, "-85 ft, VB-1", "out-of-range", "", "what was measured"),
    Mistake(LEG, "VB-1", "run", "", "[A, 85 ft, VB-1, 60 ft, VB-2]"),
    Mistake("[A, 140 ft, VB-3]", "[VB-3, 140 ft, A]", "run-toward-controller",
            "[VB-3, 140 ft, A]", "[A, 140 ft, VB-3]"),
    Mistake(RUN, "[A, 85 ft VB-1, 60 ft, VB-2]", "run", "[A, 85 ft VB-1, 60 ft, VB-2]",
            RUN),
    Mistake(RUN, "[A, 85 ft; VB-1, 60 ft, VB-2]", "run", "[A, 85 ft; VB-1, 60 ft, VB-2]",
            RUN),
    Mistake(RUN, "[A, 85 ft \u2192 VB-1, 60 ft, VB-2]", "run",
            "[A, 85 ft \u2192 VB-1, 60 ft, VB-2]", RUN),
    Mistake(RUN, "[A, 85 ft - VB-1, 60 ft, VB-2]", "run", "[A, 85 ft - VB-1, 60 ft, VB-2]",
            RUN),
    Mistake(RUN, "[A, 85 ft to VB-1, 60 ft, VB-2]", "run", "[A, 85 ft to VB-1, 60 ft, VB-2]",
            RUN),
    Mistake(LEG, "VB-1, 85 ft", "run", "", "the length first"),
    Mistake(LEG, "(85 ft), VB-1", "value", "(85 ft)", "85 ft, VB-1"),
    Mistake(LEG, "85 ft / 26 m, VB-1", "value", "85 ft / 26 m", "85 ft, VB-1"),
    Mistake(LEG, "l00 ft, VB-1", "value", "l00 ft", "100 ft, VB-1"),
    Mistake(LEG, "1O5 ft, VB-1", "value", "1O5 ft", "105 ft, VB-1"),
    Mistake(LEG, "85 pies, VB-1", "unit-unknown", "85 pies", "85 ft, VB-1"),
    Mistake(LEG, "26 metros, VB-1", "unit-unknown", "26 metros", "26 m, VB-1"),
    Mistake(LEG, "no se sabe, VB-1", "length-missing", "", "'not known'"),
    Mistake(RUN, "[A, not known VB-1, 60 ft, VB-2]", "run", "[A, not known VB-1, 60 ft, VB-2]",
            "[A, not known, VB-1, 60 ft, VB-2]"),
    # Punctuation.
    Mistake(AREA, "beds: drip", "not-yaml", "beds: drip", '"beds: drip"'),
    Mistake("place: garage wall", "place: garage: wall", "not-yaml", "garage: wall",
            'place: "garage: wall"'),
    Mistake(AREA, "beds, drip", "comma", "beds, drip", "'beds, drip'"),
    Mistake(AREA, "bed #3", "not-yaml", "bed #3", '"bed #3"'),
    Mistake("place: garage wall", "place: garage #2", "remark-in-text", "garage #2",
            'place: "garage #2"'),
    Mistake(AREA, "\u201cbeds, drip\u201d", "curly-quotes", "\u201cbeds, drip\u201d",
            '"beds, drip"'),
    Mistake(AREA, "\u2018front beds\u2019", "curly-quotes", "\u2018front beds\u2019",
            '"front beds"'),
    Mistake(AREA, '"front beds', "not-yaml", "", "close it where the text ends"),
    Mistake("garage eave}", "garage eave", "not-yaml", "", "bracket"),
    Mistake(BOX, "box: VB-2 hot: A-K1 green", "not-yaml", "", "a comma before 'hot:'"),
    Mistake(HOT, "hot:A-K1 green", "unknown-key", "hot:A-K1 green", HOT),
    Mistake(HOT, "hot= A-K1 green", "unknown-key", "hot= A-K1 green", HOT),
    Mistake(A3, "  \u2022 A3: {", "bullet", "", "delete it"),
    Mistake(A3, "  * A3: {", "bullet", "", "delete it"),
    Mistake(A3, "\tA3: {", "tab", "", "use spaces"),
    Mistake("  A1: {", "  - A1: {", "not-yaml", "", "delete the one above"),
    Mistake("box: VB-2, hot: A-K1 green", "box:\u00a0VB-2, hot: A-K1 green", "unseen-character",
            "", "plain space"),
    Mistake("stations:\n", "stations\n", "not-yaml", "", "a name has a ':' after it"),
    Mistake(A3, "  A3 {", "not-yaml", "A3 {", A3),
    Mistake(A3, "  A3:{", "not-yaml", "A3:{", A3),
    Mistake(A3, "  A3= {", "not-yaml", "A3= {", A3),
    Mistake(A3, "  A3; {", "not-yaml", "A3; {", A3),
    Mistake(A3, "  A3: (", "not-yaml", "(", A3),
    Mistake(A3, "  A3: [", "not-yaml", "[", A3),
    Mistake(A3, "  A3: {{", "not-yaml", "", "delete it"),
    Mistake(A3, "A3: {", "not-yaml", "", "begin it in column 3"),
    Mistake(A3, "   A3: {", "not-yaml", "", "begin it in column 3"),
    Mistake(A3, "  \u201cA3\u201d: {", "curly-quotes", "\u201cA3\u201d", '  "A3": {'),
    Mistake(K1, "A-K1: gauge: 18 AWG", "not-yaml", "", "write '{' here"),
    Mistake("garage eave}", "garage eave)", "not-yaml", ")", "garage eave}"),
    Mistake("garage eave}", "garage eave}}", "not-yaml", "", "delete it"),
    Mistake("garage eave}", "garage eave},", "not-yaml", "", "delete it"),
    Mistake("garage eave}", "garage eave} new", "not-yaml", "", "put '#' and a space before it"),
    Mistake("orange, brown]\n", "orange, brown\n", "not-yaml", "", "write ']' at the end"),
    Mistake("stations:\n", "stations: {\n", "not-yaml", "", "delete '{'"),
    Mistake("stations:\n", "stations: []\n", "not-yaml", "", "delete '[]'"),
    Mistake(EIGHT, "    stations:8\n", "not-yaml", "stations:8", EIGHT),
    Mistake(EIGHT, "    stations = 8\n", "not-yaml", "stations = 8", EIGHT),
    Mistake(EIGHT, "    stations 8\n", "not-yaml", "stations 8", EIGHT),
    Mistake(EIGHT, "   stations: 8\n", "not-yaml", "", "begin it in column 5"),
    Mistake(EIGHT, "     stations: 8\n", "not-yaml", "", "begin it in column 5"),
    Mistake(EIGHT, "    - stations: 8\n", "not-yaml", "", "delete the '-'"),
    Mistake(EIGHT, "    stations: 8,\n", "value", "8,", EIGHT),
    Mistake(EIGHT, "    stations: 8 zones\n", "value", "8 zones", EIGHT),
    Mistake("    coil: usual\n", "    coil: [usual]\n", "wrong-type", "[usual]",
            "    coil: usual\n"),
    Mistake("# Both cables", "// Both cables", "not-yaml", "", "a remark begins with '#'"),
    Mistake(BOX, "box: VB-2; hot: A-K1 green", "not-yaml", "", "',' in place of each ';'"),
    Mistake(HOT, "hot:", "not-yaml", "", "write the value"),
    Mistake(HOT, "hot A-K1 green", "unknown-key", "hot A-K1 green", HOT),
    Mistake(HOT, "hot\uff1aA-K1 green", "unknown-key", "hot\uff1aA-K1 green", HOT),
    Mistake(HOT, "hot: A-K1: green", "not-yaml", "A-K1: green", HOT),
    Mistake(HOT, "hot: A-K1, green", "comma", "A-K1, green", HOT),
    Mistake(HOT, "hot: A-K1 green, not known", "comma", "A-K1 green, not known",
            "hot: [A-K1 green, not known]"),
    Mistake(HOT, "hot: A-K1 green to VB-1, then not known", "comma",
            "A-K1 green to VB-1, then not known", "hot: [A-K1 green to VB-1, not known]"),
    Mistake("[6.5 ft from garage corner, 4.0 ft from walk edge]",
            "6.5 ft from garage corner, 4.0 ft from walk edge", "comma",
            "6.5 ft from garage corner, 4.0 ft from walk edge",
            "[6.5 ft from garage corner, 4.0 ft from walk edge]"),
    Mistake("[white, red, blue, green, yellow]", "white, red, blue, green, yellow", "wrong-type",
            "white, red, blue, green, yellow", "[white, red, blue, green, yellow]"),
    Mistake("[C, 1 to 8, MV, SEN, SEN]", "C, 1 to 8, MV, SEN, SEN", "wrong-type",
            "C, 1 to 8, MV, SEN, SEN", "[C, 1 to 8, MV, SEN, SEN]"),
    Mistake("[A-K1 white, A-K2 white]", "A-K1 white, A-K2 white", "no-such-conductor", "",
            "'[A-K1 white, A-K2 white]'"),
    # Names and keys.
    Mistake(HOT, "hott: A-K1 green", "unknown-key", "hott", HOT),
    Mistake(HOT, "Hot: A-K1 green", "unknown-key", "Hot", HOT),
    Mistake(A3, "  A2: {", "duplicate-key", "", "give the second its own name"),
    Mistake(A3, "  A 3: {", "name", "A 3", "  A-3: {"),
    Mistake(A3, "  3: {", "station-without-terminal", "3", "  A3: {"),
    Mistake("  VB-2: {", "  VB\u20132: {", "look-alike-character", "", "type it again"),
    Mistake(BOX, "box: VB2, hot: A-K1 green", "unknown-name", "VB2", BOX),
    Mistake(BOX, "box: vb-2, hot: A-K1 green", "unknown-name", "vb-2", BOX),
    Mistake(HOT, "hot: A-K1 gren", "no-such-conductor", "A-K1 gren", HOT),
    Mistake(HOT, "hot: A-K1 GRN", "no-such-conductor", "A-K1 GRN", HOT),
    Mistake(HOT, "hot: AK1 green", "unknown-name", "AK1", HOT),
    Mistake(HOT, "hot: green A-K1", "no-such-conductor", "green A-K1", HOT),
    Mistake(HOT, "hot: A-K1/green", "no-such-conductor", "A-K1/green", HOT),
    Mistake(HOT, "hot: green", "no-such-conductor", "", "'A-K1 green' or 'A-K2 green'"),
    Mistake("[A-K1 white, A-K2 white]", "A-K1 white A-K2 white", "no-such-conductor", "",
            "'[A-K1 white, A-K2 white]'"),
    Mistake("60 ft, VB-2", "?, VB-2", "not-yaml", "", "'not known'"),
    Mistake(HOT, "hot: ?", "not-yaml", "", "'not known'"),
    Mistake(HOT, "hot: unknown", "value", "", "'not known'"),
    Mistake("[6.5 ft from garage corner, 4.0 ft from walk edge]", "TBD", "value", "",
            "'not known'"),
    Mistake(HOT, "hot: A-K2 brown", "no-such-conductor", "", "white, red, blue, green, yellow"),
    Mistake(HOT, "hot: A-K1 yellow", "conductor-used-twice", "", "green, orange, brown"),
    Mistake("kind: rain,", "kind: rain sensor,", "unknown-word", "", "'rain'"),
    Mistake(A3, "  Zone 3: {", "name", "", "'A3' is terminal 3 of controller A"),
    Mistake(A3, "  zone3: {", "station-without-terminal", "zone3", A3),
    Mistake(A3, "  a3: {", "station-without-terminal", "a3", A3),
    Mistake(BOX, "box: VB 2, hot: A-K1 green", "unknown-name", "VB 2", BOX),
    Mistake(BOX, "box: VB_2, hot: A-K1 green", "unknown-name", "VB_2", BOX),
    Mistake(BOX, "box: 2, hot: A-K1 green", "unknown-name", "2", "box: VB-2, hot: A-K1 green"),
    Mistake(BOX, "box: Box 2, hot: A-K1 green", "unknown-name", "Box 2", BOX),
    Mistake(BOX, "box: VB-2 (new), hot: A-K1 green", "unknown-name", "VB-2 (new)", BOX),
    Mistake(BOX, "box: front bed, hot: A-K1 green", "unknown-name", "front bed", BOX),
    Mistake(BOX, "box: [VB-2], hot: A-K1 green", "wrong-type", "[VB-2]", BOX),
    Mistake(BOX, "caja: VB-2, hot: A-K1 green", "unknown-key", "caja", BOX),
    Mistake(HOT, "HOT: A-K1 green", "unknown-key", "HOT", HOT),
    Mistake(HOT, "wire: A-K1 green", "unknown-key", "wire", HOT),
    Mistake(HOT, "color: A-K1 green", "unknown-key", "color", HOT),
    Mistake(HOT, "caliente: A-K1 green", "unknown-key", "caliente", HOT),
    Mistake("common: [A-K1", "neutral: [A-K1", "unknown-key", "neutral", "common: [A-K1"),
    Mistake("stations:\n", "Stations:\n", "unknown-key", "Stations", "stations:\n"),
    Mistake("stations:\n", "zones:\n", "unknown-key", "zones", "stations:\n"),
    Mistake("boxes:\n", "cajas:\n", "unknown-key", "cajas", "boxes:\n"),
    Mistake(HOT, "hot: A-K1 verde", "no-such-conductor", "A-K1 verde", HOT),
    Mistake(HOT, "hot: A-K1-green", "no-such-conductor", "A-K1-green", HOT),
    Mistake(HOT, "hot: (A-K1 green)", "no-such-conductor", "(A-K1 green)", HOT),
    Mistake(HOT, "hot: A-K1 green wire", "no-such-conductor", "A-K1 green wire", HOT),
    Mistake(HOT, "hot: [A-K1, green]", "no-such-conductor", "A-K1, green", "hot: [A-K1 green]"),
    Mistake(HOT, "hot: A\u2013K1 green", "unknown-name", "A\u2013K1", HOT),
    Mistake(HOT, "hot: A-K1 red/white", "no-such-conductor", "", "white, red, blue, green"),
    Mistake(HOT, "hot: none", "value", "", "leave the key out"),
    Mistake("[A-K1 white, A-K2 white]", "C", "no-such-conductor", "", "'A-K1 white'"),
    Mistake("[white, red, blue, green, yellow]", "[blanco, red, blue, green, yellow]",
            "unknown-color", "blanco", "[white, red, blue, green, yellow]"),
    Mistake("[white, red, blue, green, yellow]", "[white; red; blue; green; yellow]",
            "unknown-color", "white; red; blue; green; yellow",
            "[white, red, blue, green, yellow]"),
    Mistake(AREA, "no se sabe", "value", "no se sabe", "not known"),
    Mistake("site: Larkspur Cottage", "site: not known", "value", "", "write what it is"),
    # Figures of the trade.
    Mistake("1 to 8", "1-8", "terminal", "1-8", "1 to 8"),
    Mistake(K1, "A-K1: {gauge: 18 ga", "value", "18 ga", K1),
    Mistake(K1, "A-K1: {gauge: '#18 AWG'", "value", "'#18 AWG'", K1),
    Mistake(K1, "A-K1: {gauge: 18/7", "value", "18/7", K1),
    Mistake(K1, "A-K1: {gauge: 18", "unit-missing", "18", K1),
    Mistake("1 to 8", "1 thru 8", "terminal", "1 thru 8", "1 to 8"),
    Mistake("MV, SEN, SEN", "mv, SEN, SEN", "terminal", "mv", "MV, SEN, SEN"),
    Mistake(K1, "A-K1: {gauge: 18g", "value", "18g", K1),
    Mistake(K1, "A-K1: {gauge: cal. 18", "value", "cal. 18", K1),
    Mistake(K1, "A-K1: {gauge: 18 AWG/7", "value", "18 AWG/7", K1),
    Mistake("resistance: 30 ohm", "resistance: 30", "unit-missing", "", "'30 ohm'"),
    Mistake("resistance: 30 ohm", "resistance: 30,5 ohm", "comma", "30,5 ohm",
            "resistance: 30.5 ohm"),
    Mistake("inrush: 0.40 A", "inrush: .40 A", "value", ".40 A", "inrush: 0.40 A"),
    Mistake("inrush: 0.40 A", "inrush: 0,40 A", "comma", "0,40 A", "inrush: 0.40 A"),
    Mistake("date: 2026-03-14", "date: 3/14/2026", "value", "3/14/2026", "date: 2026-03-14"),
    Mistake("date: 2026-03-14", "date: 2026-3-14", "value", "2026-3-14", "date: 2026-03-14"),
    Mistake("date: 2026-03-14", "date: 4/2/2026", "value", "", "'2026-04-02' or '2026-02-04'"),
    Mistake("date: 2026-03-14", "date: May 20, 2026", "comma", "May 20, 2026", "date: 2026-05-20"),
    Mistake("date: 2026-03-14", "date: 20 de mayo de 2026", "value", "20 de mayo de 2026",
            "date: 2026-05-20"),
    Mistake(A3, "  #3: {", "remark-in-text", "#3: {", A3),
    Mistake(LEG, "85.0.5 ft, VB-1", "value", "", "one decimal point"),
    Mistake(LEG, "85. ft, VB-1", "value", "85. ft", "85 ft, VB-1"),
    Mistake(BOX, "box=VB-2, hot=A-K1 green", "unknown-key", "",
            "write 'box: VB-2' and 'hot: A-K1 green'"),
    Mistake("revision: 1", "revision: rev 1", "value", "rev 1", "revision: 1"),
    Mistake("contact: normally closed,", "contact: NC,", "unknown-word", "", "'normally closed'"),
    Mistake("https://jobs.example.com", "jobs.example.com", "value", "jobs.example.com",
            "https://jobs.example.com"),
)  # fmt: skip

# True of a leg of a quarter mile on 18 AWG: that is no mistake in typing.
OF_LENGTH = {"leg-out-of-scale", "units-mixed", "volts-too-low"}
# How a way out names what to write instead.
INSTEAD = (
    r"outward: 'run: (\[.*\])'$",
    r"(?:in quotes|plain quotes): ([\"'].*?[\"'])(?:;|$)",
    r"(?:write|did you mean|year-month-day,) '([^']*)'",
)


def faults(text: str) -> list[Problem]:
    """What must be put right or looked at; notes are as before."""
    return [p for p in examined(text).problems if p.verdict is not Verdict.NOTE]


def instead(problem: Problem) -> str:
    found = (re.search(pattern, problem.help) for pattern in INSTEAD)
    return next((match[1] for match in found if match), f"no way out in: {problem.help}")


def test_each_mistake_gets_one_message_and_its_way_out_leads_to_what_was_meant() -> None:
    assert len(MISTAKES) >= 110
    assert faults(JOB) == []
    for mistake in MISTAKES:
        problems = faults(edit(JOB, mistake.spot, mistake.wrong))
        assert [p.code for p in problems] == [mistake.code], mistake
        (problem,) = problems
        if not mistake.part:
            assert mistake.right in problem.help, mistake
            continue
        followed = mistake.wrong.replace(mistake.part, instead(problem), 1)
        assert followed == mistake.right, mistake
        left = {p.code for p in faults(edit(JOB, mistake.spot, followed))}
        assert left <= (OF_LENGTH if mistake.spot == LEG else set()), mistake


# The beginning of each format (file signatures as `file` of Debian's libmagic has them).
OTHER_FILES = (
    (b"PK\x03\x04\x14\x00\x06\x00xl/workbook.xml", "a spreadsheet (XLSX)"),
    (b"PK\x03\x04\x14\x00\x06\x00word/document.xml", "a word processor's file (DOCX)"),
    (b"PK\x03\x04mimetypeapplication/vnd.oasis.opendocument.spreadsheet", "a spreadsheet (ODS)"),
    (b"PK\x03\x04\x14\x00photo", "a packed file (ZIP)"),
    (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "(XLS, DOC)"),
    (b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n", "a PDF document"),
    (b"{\\rtf1\\ansi job: x}", "a word processor's text (RTF)"),
    (b"\xff\xd8\xff\xe0\x00\x10JFIF", "a picture (JPEG)"),
    (b"<!DOCTYPE html><html>", "a web page or a drawing"),
    (b"Station,Area,Box\n1,front lawn,VB-1\n2,side: lawn,VB-2\n", "a table with commas (CSV)"),
    (b'Station;Area\n1;"front; lawn"\n', "a table with semicolons (CSV)"),
    (b"Station\tArea\n1\tfront\n", "a table with tabs (CSV)"),
)


def test_a_file_that_is_no_job_is_told_as_what_it_is() -> None:
    for data, kind in OTHER_FILES:
        text, problems = decode(data, "job.yaml")
        found = examined(text).problems if text is not None else problems
        (problem,) = found
        assert problem.code in ("not-text", "not-yaml")
        assert f"this is {kind}" in problem.sentence or kind in problem.sentence
        is_list = any(word in kind for word in ("XLS", "ODS", "CSV"))
        command = "'cardgen import FILE --out JOB.yaml'" if is_list else "'cardgen new FILE'"
        assert command in well_said(problem).help


def test_the_way_out_for_a_list_makes_a_job(tmp_path: Path) -> None:
    """Followed as it stands: the table that `check` refuses becomes a job that it reads."""
    table = tmp_path / "list.csv"
    table.write_bytes(b"Station,Area,Box\n1,front lawn,VB-1\n2,side: lawn,VB-2\n")
    (problem,) = examine(table).problems
    (command,) = re.findall(r"'cardgen (import FILE [^']+)'", problem.help)
    job = tmp_path / "job.yaml"
    named = {"FILE": str(table), "JOB.yaml": str(job)}
    assert main([named.get(word, word) for word in command.split()]) == 0
    found = examine(job)
    # Code, site and address of no list: the check says that they are still to be one's own.
    assert [p.code for p in found.problems].count("starter-value") == 3
    read = found.job
    assert read is not None
    areas = {name: s.area.value for name, s in read.stations.items() if s.area is not None}
    assert areas == {"A1": "front lawn", "A2": "side: lawn"}


def test_what_looks_like_a_mistake_and_is_none() -> None:
    """Texts with the same signs, meant as they stand."""
    for spot, meant in (
        (AREA, '"\u201cOld oak\u201d lawn, drip"'),
        (AREA, "\u201cOld oak\u201d lawn"),
        (AREA, "O\u2019Brien\u2019s beds"),
        (AREA, "beds - drip"),
        (AREA, '"bed #3: drip"'),
        (AREA, "bed#3"),
        ("place: garage wall", "place: garage wall  # the second one"),
        ("place: garage wall", 'place: "garage #2"  # 2 of 3'),
        ("# Both cables leave", "# 2 cables, #1 and #2: both leave"),
        ("coils:\n", "coils: #1\n"),
        ("garage eave}", "garage eave} #4 on the plan"),
        (A3, "  #3: drip\n  A3: {"),
        (A3, "  #A7: {area: later}\n  A3: {"),
        (A3, "  # 7: {area: later}\n  A3: {"),
        (A3, "  #3: {area: as it was before}\n  A3: {"),
        ("boxes:\n", "boxes:\n  #7: {place: by the gate}\n"),
    ):
        assert faults(edit(JOB, spot, meant)) == [], meant


def test_stations_that_are_all_remarks_are_told_with_the_first_controller() -> None:
    head, stations = JOB.split("stations:\n")
    rest = stations[stations.index("\nsensors:") :]
    text = f"{head}stations:\n  #1: {{box: VB-1}}\n  #2: {{box: VB-2}}\n{rest}"
    told = [p for p in examined(text).problems if p.code == "remark-in-text"]
    assert [p.help[:14] for p in told] == ["write 'A1: {',", "write 'A2: {',"]
