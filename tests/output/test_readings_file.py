"""What crews measured stands on the test sheets, beside what was expected."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardgen.cards import CardKind, cards_of
from cardgen.examine import examine_text
from cardgen.output.as_printable import as_printable
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import make_print
from cardgen.output.readings_file import newest_of, readings_in
from cardgen.problems import UserError
from cardgen.results import KnownNames, read_results
from cardgen.words import load_words
from tests.cards.printables import rows
from tests.jobs import sample
from tests.outside.pages import text_by_poppler

CSV = b"""when,valve,kind,value
2026-04-02,A10a,ohms at the controller,17.1
2026-04-01,A1,ohms at the controller,33.0
2026-05-03T09:10,A1,ohms at the controller,OL
2026-04-01,A1,volts,23.4
2026-04-01,A1,insulation,2000
"""


def test_the_newest_value_of_each_kind_stands_beside_the_expected() -> None:
    found, _ = read_results(CSV, "r.csv")
    measured = newest_of(row.measured for row in found)
    assert measured["A1"] == {
        "ohms at the controller": "OL",
        "volts": "23.4",
        "insulation": "2000",
        "when": "2026-05-03",
    }
    job = as_printable(examine_text(sample("quarry")), measured=measured)
    assert job is not None
    sheet = next(c for c in cards_of(job)[CardKind.TEST_SHEET] if c.id == "A")
    table = {row["station"]: row for row in rows(sheet.fields["valves"])}
    a1 = table["A1"]
    assert [a1[c] for c in ("measured Ω", "measured V", "measured mA", "insulation, MΩ")] == [
        *("OL", "23.4", "", "2000")
    ]
    assert a1["notes"] == "measured 2026-05-03"
    assert table["A10a"]["measured Ω"] == "17.1"
    assert table["A2"]["measured Ω"] == "" and table["A2"]["notes"] == ""


def test_a_withdrawn_value_stands_on_no_sheet() -> None:
    table = CSV.replace(b"value\n", b"value,withdrawn\n").replace(b",OL\n", b",OL,Ana: slip\n")
    lines = [line if line.count(b",") == 4 else line + b"," for line in table.splitlines()]
    found, problems = read_results(b"\n".join(lines), "r.csv")
    assert problems == ()
    measured = newest_of(row.measured for row in found)
    assert measured["A1"]["ohms at the controller"] == "33"


@pytest.mark.parametrize(("name", "valve"), [("heron", "D3"), ("sandpiper", "P1")])
def test_decoders_and_latching_valves_have_their_column_too(name: str, valve: str) -> None:
    kind = "ohms at the coil" if name == "heron" else "ohms at the controller"
    measured = {valve: {kind: "5.4", "when": "2026-05-03"}}
    job = as_printable(examine_text(sample(name)), measured=measured)
    assert job is not None
    sheet = next(c for c in cards_of(job)[CardKind.TEST_SHEET] if c.id == valve[0])
    row = next(r for r in rows(sheet.fields["valves"]) if r["station"] == valve)
    assert row["measured Ω"] == "5.4"


def test_readings_are_in_the_packet_and_change_no_fact(tmp_path: Path) -> None:
    file = tmp_path / "readings.csv"
    file.write_bytes(CSV)
    examined = examine_text(sample("quarry"))
    bare, _ = make_print(examined)
    made, problems = make_print(examined, PrintRequest(results=file))
    assert bare and made and not problems
    assert made.manifest == bare.manifest
    for name in ("test-sheet.pdf", "packet.pdf"):
        assert "2026-05-03" in " ".join(text_by_poppler(made.files[name]))
        assert "2026-05-03" not in " ".join(text_by_poppler(bare.files[name]))
    other = [n for n in bare.files if n not in ("test-sheet.pdf", "packet.pdf")]
    assert all(made.files[n] == bare.files[n] for n in other)


def test_in_spanish() -> None:
    words, _ = load_words(("es",))
    measured = {"A1": {"volts": "23.4", "when": "2026-05-03"}}
    job = as_printable(examine_text(sample("larkspur")), words, measured)
    assert job is not None
    (sheet,) = cards_of(job)[CardKind.TEST_SHEET]
    assert "medido el 2026-05-03" in str(sheet.fields["valves"])


def test_a_valve_that_the_job_lacks_and_a_missing_file(tmp_path: Path) -> None:
    file = tmp_path / "readings.csv"
    file.write_text("when,valve,kind,value\n2026-04-02,A99,volts,23\n", "utf-8")
    _, (problem,) = readings_in(file, KnownNames(valves=frozenset({"A1"})), "K")
    assert (problem.code, problem.span.line, problem.span.column) == (
        "reading-of-no-valve",
        2,
        12,
    )
    made, problems = make_print(examine_text(sample("larkspur")), PrintRequest(results=file))
    assert made is None and [p.code for p in problems] == ["reading-of-no-valve"]
    with pytest.raises(UserError, match="cannot be read: no such file"):
        readings_in(tmp_path / "gone.csv", KnownNames(valves=frozenset({"A1"})), "K")
