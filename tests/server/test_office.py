"""What the office does with what crews have entered: withdraw, close, count, take all out."""

from __future__ import annotations

import csv
import io
import uuid
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from cardgen.server import pins
from cardgen.server.audit_trail import trail
from tests.jobs import sample
from tests.record.records import LARKSPUR, QUARRY, tree, words
from tests.server.crews import REPORTS, RESULTS, TABLE, Served, enter, send, served
from tests.server.phones import CHEAP, PIN, Phone
from tests.server.test_photos import with_exif

ENDING = f"/{LARKSPUR}/ENDING_"
EXPORT = f"/{LARKSPUR}/EXPORT_"


@pytest.fixture
def record(tmp_path: Path) -> Iterator[Served]:
    with served(tmp_path) as found:
        pins.add(found.store, "Olga", PIN, office=True, cost=CHEAP)
        yield found


def end(phone: Phone, id_: str, why: str) -> int:
    return phone.post(ENDING, id=id_, why=why, token=phone.token()).status


def report(phone: Phone, text: str) -> str:
    photo = {"photo": ("a.jpg", "image/jpeg", with_exif(6))}
    enter(phone, {"kind": "difference", "box": "VB-2", "notes": text, "valve": ""}, photo)
    return text


# ---- the newest is the newest measured -----------------------------------------------------


def test_an_old_reading_that_arrives_late_does_not_pass_for_the_newest(record: Served) -> None:
    crew = record.crew()
    enter(crew, {"value": "31", "when": "2026-06-02T09:30"})
    enter(crew, {"value": "61", "when": "2026-05-01"})  # from paper, typed in later
    page = words(record.anyone().get(f"/{LARKSPUR}/VB-1/").body)
    assert "31 Ω · 2026-06-02 09:30" in page and "61 Ω" not in page
    history = words(record.anyone().get(f"{RESULTS}?valve=A1").body)
    assert history.index("31 Ω") < history.index("61 Ω")
    assert [e.value for e in record.stored()] == ["31", "61"]  # as they came in


def test_a_clock_that_is_ahead_is_told_and_does_not_win(record: Served) -> None:
    crew = record.crew()
    enter(crew, {"value": "31", "when": "2099-01-01T08:00-07:00"})
    enter(crew, {"value": "33", "when": "2026-01-01T08:00-07:00"})
    history = words(record.anyone().get(f"{RESULTS}?valve=A1").body)
    assert "The time on the phone is wrong: it said 2099-01-01 08:00" in history
    assert "2099" not in words(record.anyone().get(f"/{LARKSPUR}/VB-1/").body)


def test_a_day_on_paper_that_is_still_to_come_is_refused(record: Served) -> None:
    answer = enter(record.crew(), {"day": "2099-01-01"})
    assert answer.status == 400 and "still to come" in answer.text


# ---- withdrawing ---------------------------------------------------------------------------


def test_a_withdrawn_reading_counts_for_nothing_and_is_still_there(record: Served) -> None:
    crew = record.crew()
    enter(crew, {"value": "31.1", "when": "2026-06-01"})
    enter(crew, {"value": "3.1", "when": "2026-06-02"})
    wrong = record.stored()[-1].id
    assert "3.1 Ω · 2026-06-02" in words(crew.get(f"/{LARKSPUR}/VB-1/").body)
    assert end(crew, wrong, "a digit was missing") == 303
    box = words(crew.get(f"/{LARKSPUR}/VB-1/").body)
    assert "31.1 Ω · 2026-06-01" in box and "· 2026-06-02" not in box
    page = crew.get(f"{RESULTS}?valve=A1").body
    assert [words(node) for node in tree(page).iter("s")] == ["3.1 Ω"]
    assert "Withdrawn by Ana on " in words(page) and "a digit was missing" in words(page)
    public = words(record.anyone().get(f"{RESULTS}?valve=A1").body)
    assert "Withdrawn." in public and "Ana" not in public and "missing" not in public
    assert [e.value for e in record.stored()] == ["31.1", "3.1"]
    assert (trail(record.store)[-1].what, trail(record.store)[-1].about) == (
        "withdrawn ohms at the controller",
        wrong,
    )
    rows = list(csv.DictReader(io.StringIO(crew.get(TABLE).text)))
    assert [row["withdrawn"] for row in rows] == ["", "Ana: a digit was missing"]


def test_what_is_withdrawn_of_a_conductor_counts_for_nothing_either(record: Served) -> None:
    """A wet common, 0.05 megohms, that was no common: the history of what is no valve's has it."""
    crew = record.crew()
    table = "when,valve,kind,from,value\r\n2026-06-01,,insulation,COM-A,0.05\r\n"
    send(crew, TABLE, {}, {"table": ("r.csv", "text/csv", table.encode())})
    assert "COM-A: 0.05 MΩ" in words(crew.get(RESULTS).body)
    (entry,) = record.stored()
    answer = crew.post(ENDING, id=entry.id, why="probe on a lug", token=crew.token())
    history = answer.headers["location"]
    assert (answer.status, history) == (303, f"{RESULTS}?conductors=1")
    assert "COM-A" not in words(crew.get(RESULTS).body)
    page = crew.get(history).body
    assert [words(node) for node in tree(page).iter("s")] == ["0.05 MΩ"]
    assert "probe on a lug" in words(page)


def test_withdrawn_twice_the_first_reason_stays(record: Served) -> None:
    crew = record.crew()
    enter(crew)
    (entry,) = record.stored()
    assert [end(crew, entry.id, why) for why in ("first", "second")] == [303, 303]
    (entry,) = record.stored()
    assert entry.ending is not None and entry.ending.why == "first"


def test_the_page_asks_for_the_reason_whoever_may_withdraw(record: Served) -> None:
    enter(record.crew("Ana"))
    (entry,) = record.stored()
    crews = {name: record.crew(name) for name in ("Ana", "Ben", "Olga")}
    for who, phone in {**crews, "": record.anyone()}.items():
        assert asks_why(phone) is (who in ("Ana", "Olga")), who  # a crew its own, the office all
    assert end(crews["Ana"], entry.id, "a digit was missing") == 303
    assert not asks_why(crews["Ana"])  # once only


def asks_why(phone: Phone) -> bool:
    forms = tree(phone.get(f"{RESULTS}?valve=A1").body).iter("form")
    return any((form.get("action") or "").endswith("ENDING_") for form in forms)


def test_who_may_withdraw(record: Served) -> None:
    enter(record.crew("Ana"))
    (entry,) = record.stored()
    assert end(record.crew("Ben"), entry.id, "not mine") == 403
    assert end(record.crew("Olga"), entry.id, "") == 400
    assert end(record.crew("Olga"), entry.id, "gate code 4711") == 400
    assert end(record.crew("Olga"), str(uuid.uuid4()), "nothing") == 404
    assert record.stored()[0].ending is None
    assert end(record.crew("Olga"), entry.id, "wrong valve") == 303
    assert record.stored()[0].ending is not None


def test_a_table_that_says_withdrawn_brings_it_along(record: Served) -> None:
    """Out of one server and into another: what was struck is struck there, too."""
    crew = record.crew()
    table = "when,valve,kind,value,withdrawn\r\n2026-06-01,A1,volts,99,Ana: slip\r\n"
    files = {"table": ("r.csv", "text/csv", table.encode())}
    assert send(crew, TABLE, {}, files).status == 200
    (entry,) = record.stored()
    assert entry.ending is not None and entry.ending.why == "Ana: slip"


def marked(phone: Phone, why: str) -> bytes:
    """The table as it comes out, with that reason beside the reading of A1."""
    lines = phone.get(TABLE).text.splitlines()
    return "\r\n".join(f"{line}{why if ',A1,' in line else ''}" for line in lines).encode()


def test_a_table_withdraws_what_it_brought_before(record: Served) -> None:
    """The last column of what comes out is `withdrawn`: typed into it, sent back."""
    crew = record.crew()
    enter(crew, {"when": "2026-06-01", "notes": "first"})
    enter(crew, {"when": "2026-06-01", "valve": "A2", "value": "31.2"})
    table = marked(crew, "a digit was missing")
    said = words(send(crew, TABLE, {}, {"table": ("r.csv", "text/csv", table)}).body)
    assert "0 readings stored; 2 were already here. Withdrawn: 1." in said
    first, other = record.stored()
    assert other.ending is None and first.ending is not None
    ending = (first.ending.what, first.ending.who, first.ending.why)
    assert ending == ("withdrawn", "Ana", "a digit was missing")
    assert (first.value, first.notes) == ("31.1", "first")
    assert trail(record.store)[-1].about == first.id
    # Sent once more with another reason, or as it was before, it stays as it was withdrawn.
    before = len(trail(record.store))
    for why in (b"another reason", b""):
        again = table.replace(b"a digit was missing", why)
        said = words(send(crew, TABLE, {}, {"table": ("r.csv", "text/csv", again)}).body)
        assert "2 were already here." in said and "Withdrawn" not in said
    assert record.stored() == (first, other)
    assert len(trail(record.store)) == before


def test_a_blank_withdraws_nothing(record: Served) -> None:
    crew = record.crew()
    enter(crew)
    answer = send(crew, TABLE, {}, {"table": ("r.csv", "text/csv", marked(crew, "  "))})
    assert answer.status == 200
    assert record.stored()[0].ending is None


def test_a_table_withdraws_no_more_than_its_sender_may(record: Served) -> None:
    enter(record.crew("Ana"))
    ben, olga = record.crew("Ben"), record.crew("Olga")
    new = b"\r\n,2026-06-01,,,A2,volts,,,22,,,,"
    table = {"table": ("r.csv", "text/csv", marked(ben, "not mine") + new)}
    answer = send(ben, TABLE, {}, table)
    assert answer.status == 400
    said = words(answer.body)
    assert "readings.csv:2:" in said and "a crew can withdraw its own readings only" in said
    assert [entry.ending for entry in record.stored()] == [None]
    assert "1 readings stored; 1 were already here. Withdrawn: 1." in words(
        send(olga, TABLE, {}, table).body
    )
    assert [entry.ending is not None for entry in record.stored()] == [True, False]


# ---- reports, the overview, all of it ------------------------------------------------------


def test_a_report_is_closed_with_a_word_by_the_office(record: Served) -> None:
    report(record.crew(), "blue is spliced to green")
    (entry,) = record.stored()
    assert end(record.crew("Ana"), entry.id, "done") == 403
    assert end(record.crew("Olga"), entry.id, "in revision 2") == 303
    page = words(record.crew("Ana").get(REPORTS).body)
    assert page.index("Closed") < page.index("blue is spliced")
    assert "Closed by Olga on " in page and "in revision 2" in page


def test_the_overview_counts_the_valves(record: Served) -> None:
    """Larkspur has six valves; counted by hand."""
    crew = record.crew()
    assert "0 of 6 measured, 0 outside, 6 not yet." in words(crew.get(RESULTS).body)
    enter(crew, {"valve": "A1", "value": "31"})
    enter(crew, {"valve": "A1", "kind": "volts", "value": "23.8"})
    enter(crew, {"valve": "A2", "value": "OL"})
    assert "2 of 6 measured, 1 outside, 4 not yet." in words(crew.get(RESULTS).body)


def test_one_reading_of_a_terminal_is_one_of_both_its_coils(tmp_path: Path) -> None:
    """The quarry's A10 has two coils."""
    with served(tmp_path, sample("quarry")) as record:
        crew = record.crew()
        fields = {"id": str(uuid.uuid4()), "kind": "ohms at the controller", "value": "17"}
        readings = f"/{QUARRY}/READINGS_"
        assert send(crew, readings, {**fields, "valve": "A10"}).status == 303
        coil = {**fields, "id": str(uuid.uuid4()), "kind": "ohms at the coil", "valve": "A10"}
        refused = send(crew, readings, coil)
        assert refused.status == 400 and "A10a, A10b" in words(refused.body)
        assert [entry.valve for entry in record.stored(QUARRY)] == ["A10a"]
        assert (
            " 2 of " in f" {words(crew.get(f'/{QUARRY}/RESULTS_').body).partition('measured')[0]}"
        )
        assert words(crew.get(f"/{QUARRY}/VB-4/").body).count("17 Ω ·") == 2


def test_a_valve_that_nobody_reached_is_not_measured(record: Served) -> None:
    crew = record.crew()
    enter(crew, {"valve": "A1", "kind": "not reached", "value": ""})
    assert "0 of 6 measured, 0 outside, 6 not yet." in words(crew.get(RESULTS).body)
    assert "Not reached: –" in words(crew.get(f"/{LARKSPUR}/VB-1/").body)


def test_what_flows_in_the_hot_of_a_terminal_is_of_both_its_coils(tmp_path: Path) -> None:
    """The quarry's A10 has two coils; what is between two hots is one value for each pair."""
    table = (
        "when,valve,kind,to,value\r\n2026-06-01,A10a,milliamperes on its hot,,471\r\n"
        "2026-06-02,A10b,milliamperes on its hot,,450\r\n"
        "2026-06-02,A10b,ohms hot to hot,A2,48\r\n2026-06-02,A10b,ohms hot to hot,A3,47\r\n"
    )
    with served(tmp_path, sample("quarry")) as record:
        crew = record.crew()
        files = {"table": ("r.csv", "text/csv", table.encode())}
        assert send(crew, f"/{QUARRY}/READINGS_CSV_", {}, files).status == 200
        box = words(crew.get(f"/{QUARRY}/VB-4/").body)
        assert box.count("450 mA ·") == 2 and "471 mA" not in box
        assert (box.count("48 Ω ·"), box.count("47 Ω ·")) == (2, 2)
        history = words(crew.get(f"/{QUARRY}/RESULTS_?valve=A10a").body)
        assert history.index("450 mA") < history.index("471 mA")
        assert history.count("Current in its hot") == 1


def test_all_that_was_entered_is_one_file_with_the_same_bytes_each_time(record: Served) -> None:
    crew = record.crew()
    enter(crew, {"value": "31"})
    report(crew, "lid cracked; =1+1")
    assert crew.get(EXPORT).status == 403
    office = record.crew("Olga")
    first, second = office.get(EXPORT), office.get(EXPORT)
    assert first.body == second.body
    with zipfile.ZipFile(io.BytesIO(first.body)) as archive:
        assert archive.testzip() is None
        photo = f"photos/{record.stored()[1].id}.jpg"
        assert archive.namelist() == ["readings.csv", "reports.csv", photo]
        assert archive.read(photo).startswith(b"\xff\xd8")  # JPEG, ISO 10918-1: start of image
        readings = list(csv.DictReader(io.StringIO(archive.read("readings.csv").decode())))
        reports = list(csv.DictReader(io.StringIO(archive.read("reports.csv").decode())))
    assert [row["value"] for row in readings] == ["31"]
    assert (reports[0]["box"], reports[0]["photo"]) == ("VB-2", photo)
    assert reports[0]["what"].startswith("lid cracked")
