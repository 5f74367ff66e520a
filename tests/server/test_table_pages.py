"""Readings out as CSV and in from it: all rows or none."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.record.records import words
from tests.server.crews import RESULTS, TABLE, Served, enter, send, served, told
from tests.server.phones import Answer, Phone

HEAD = "when,valve,kind,value"
ROW = "2026-04-30,A1,ohms at the controller,31.4"


@pytest.fixture
def record(tmp_path: Path) -> Iterator[Served]:
    with served(tmp_path) as found:
        yield found


def take_in(phone: Phone, data: bytes) -> Answer:
    return send(phone, TABLE, {}, {"table": ("readings.csv", "text/csv", data)})


def rows(data: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(data.decode(), newline="")))


def test_what_was_entered_comes_out(record: Served) -> None:
    crew = record.crew()
    id_ = told(enter(crew, {"notes": "=1+1", "when": "2026-06-01T09:30"}))["id"]
    enter(crew, {"kind": "difference", "box": "VB-1", "notes": "a note"})
    answer = crew.get(TABLE)
    assert answer.headers["content-type"] == "text/csv; charset=utf-8"
    assert answer.headers["content-disposition"] == (
        'attachment; filename="LARK-06-7Q2F9KX4M3T8-readings.csv"'
    )
    assert rows(answer.body) == [
        {
            "id": id_,
            "when": "2026-06-01T09:30",
            "job": "7Q2F9KX4M3T8",
            "box": "VB-1",
            "valve": "A1",
            "kind": "ohms at the controller",
            "from": "",
            "to": "",
            "value": "31.1",
            "conditions": "",
            "by": "Ana",
            "notes": "'=1+1",
        }
    ]


def test_what_comes_out_goes_in_again_and_makes_nothing_new(record: Served) -> None:
    crew = record.crew()
    enter(crew, {"notes": "=1+1"})
    out = crew.get(TABLE).body
    answer = take_in(record.crew("Ben"), out)
    assert "0 readings stored; 1 were already here." in words(answer.body)
    assert crew.get(TABLE).body == out


def test_an_offices_own_sheet_goes_in(record: Served) -> None:
    crew = record.crew()
    text = "when;valve;kind;value;by\r\n2026-04-30;A1;volts;22.5;Eva\r\n2026-04-30;A2;volts;21;\r\n"
    for number in (2, 0):
        said = f"{number} readings stored; {2 - number} were already here."
        assert said in words(take_in(crew, b"\xef\xbb\xbf" + text.encode()).body)
    found = rows(crew.get(TABLE).body)
    assert [(row["valve"], row["value"], row["by"], row["box"]) for row in found] == [
        ("A1", "22.5", "Eva", "VB-1"),
        ("A2", "21", "Ana", "VB-1"),
    ]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "readings.csv:1:1 : the file is empty"),
        (f"{HEAD}\n{ROW}x", "readings.csv:2:38 : '31.4x' is not a value of a meter"),
        (f"{HEAD}\n2026-04-30,A9,volts,1", "readings.csv:2:12 : the job has no valve 'A9'"),
        (f"job,{HEAD}\nOTHER,{ROW}", "readings.csv:2:1 : this row is of job 'OTHER'"),
        (
            f"{HEAD},notes\n{ROW},gate code 4711",
            "readings.csv:2:43 : 'gate code 4711' reads like a code",
        ),
        (f"{HEAD},by\n{ROW},{'x' * 601}", "readings.csv:2:43 : this text has 601 letters"),
    ],
)
def test_with_a_fault_nothing_goes_in(record: Served, text: str, said: str) -> None:
    crew = record.crew()
    good = f"{ROW},\n" if "," in text else ""
    answer = take_in(crew, text.encode())
    assert answer.status == 400
    assert "Nothing is stored" in words(answer.body)
    assert said in words(answer.body), good
    assert record.stored() == ()


def test_a_sound_row_does_not_go_in_beside_a_faulty_one(record: Served) -> None:
    assert take_in(record.crew(), f"{HEAD}\n{ROW}\n{ROW}x\n".encode()).status == 400
    assert record.stored() == ()


def test_a_row_that_was_changed_after_it_came_out_is_refused(record: Served) -> None:
    crew = record.crew()
    enter(crew)
    changed = crew.get(TABLE).body.replace(b",31.1,", b",35,")
    answer = take_in(crew, changed)
    assert answer.status == 400
    assert "this row was stored before and said something else" in words(answer.body)


def test_a_script_in_a_cell_stays_a_text(record: Served) -> None:
    crew = record.crew()
    answer = take_in(crew, f"{HEAD}\n{ROW}<script>alert(1)</script>".encode())
    assert "<script>alert" not in answer.text
    assert "'31.4<script>alert(1)</script>' is not a value" in words(answer.body)


def test_only_for_a_crew(record: Served) -> None:
    phone = record.anyone()
    assert phone.get(TABLE).status == 303
    assert take_in(phone, f"{HEAD}\n{ROW}".encode()).status == 401
    assert record.stored() == ()


def test_a_walk_comes_in_as_it_was_filled_in_and_all_of_it_is_shown(record: Served) -> None:
    """Wide, and what belongs to no valve: each once, and each pair of hots for itself."""
    crew = record.crew()
    wide = "when,2026-06-01,\nconditions,leads 0.3 ohm,\nvalve,ohms,walk\nA1,31.4,A2\nA2,OL,\n"
    assert send(crew, TABLE, {}, {"table": ("w.csv", "text/csv", wide.encode())}).status == 200
    long = (
        "when,valve,kind,from,to,value\n2026-06-01,,insulation,COM-A,,0.05\n"
        "2026-06-01,A1,ohms hot to hot,,A2,62.1\n2026-06-01,A1,ohms hot to hot,,A3,61.5\n"
    )
    for _ in range(2):  # sent twice, stored once
        answer = send(crew, TABLE, {}, {"table": ("l.csv", "text/csv", long.encode())})
        assert answer.status == 200
    out = rows(crew.get(TABLE).body)
    assert len(out) == 6
    assert {row["conditions"] for row in out if row["kind"] == "ohms at the controller"} == {
        "leads 0.3 ohm"
    }
    text = words(crew.get(RESULTS).body)
    for said in (
        "Insulation to ground: COM-A: 0.05 MΩ",
        "Ohms, hot to hot: A1 – A2: 62.1 Ω",
        "Ohms, hot to hot: A1 – A3: 61.5 Ω",
        "Walk test: A2 · 2026-06-01 ! A2 ran while A1 was on.",
    ):
        assert said in text, text
    again = send(crew, TABLE, {}, {"table": ("o.csv", "text/csv", crew.get(TABLE).body)})
    assert again.status == 200  # what came out is known
    assert len(rows(crew.get(TABLE).body)) == 6
