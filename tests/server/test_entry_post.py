"""What a crew enters: looked at, stored once, and answered with its verdict."""

from __future__ import annotations

import uuid
from pathlib import Path

import pytest

from cardgen.results import Kind
from cardgen.server.entry_fields import measured_of
from tests.jobs import edit
from tests.record.records import revision, tree, words
from tests.server.crews import (
    GOOD,
    JSON,
    READINGS,
    REPORTS,
    RESULTS,
    Served,
    enter,
    send,
    served,
    told,
)

MARKUP = "<script>alert(1)</script><img src=x onerror=alert(1)>\"'>&amp;"


def test_a_reading_is_stored_and_judged_at_once(record: Served) -> None:
    answer = enter(record.crew(), {"notes": "after the repair", "when": "2026-06-01T09:30"})
    assert answer.status == 200
    found = told(answer)
    assert found["title"] == "A1: Ohms at the controller: 31.1 Ω"
    assert found["lines"] == [
        "The reading is within 25 to 37 Ω.",
        "This value shows nothing to fix.",
    ]
    stored = record.stored()[-1]
    assert (stored.id, stored.crew, stored.box) == (found["id"], "Ana", "VB-1")
    assert (stored.valve, stored.kind, stored.value) == tuple(GOOD.values())
    assert (stored.notes, stored.said_at) == ("after the repair", "2026-06-01T09:30")


@pytest.mark.parametrize(
    ("said", "verdict"),
    [
        ({"value": "OL"}, "The meter shows OL: the hot"),
        ({"value": "", "ol": "OL"}, "The meter shows OL: the hot"),
        ({"value": "1.1"}, "The meter reads only the wire's 1.1 Ω"),
        (
            {"value": "16,2"},
            "The reading is about half of the expected value: 2 coils are in parallel",
        ),
        ({"value": "61"}, "The reading is about double"),
        ({"value": "31.4 ohm"}, "The reading is within 25 to 37 Ω"),
        ({"value": "1.2 k"}, "The meter shows more than 1000 Ω"),
        ({"kind": "ohms at the coil", "value": "30"}, "The coil reads as expected"),
        ({"kind": "milliamperes", "value": "0.23 A"}, "The current is about the expected 230 mA"),
        ({"kind": "walk test", "value": "no"}, "Nothing ran while A1 was on"),
        ({"kind": "volts", "value": "0"}, "There are no volts at the valve"),
        ({"kind": "milliamperes", "value": "230"}, "The current is about the expected 230 mA"),
        ({"kind": "insulation", "value": "OL"}, "The insulation to ground is one megohm or more"),
    ],
)
def test_each_kind_has_its_verdict(record: Served, said: dict[str, str], verdict: str) -> None:
    lines = told(enter(record.crew(), said))["lines"]
    assert isinstance(lines, list)
    assert lines[0].startswith(verdict)


def test_sent_twice_it_is_stored_once(record: Served) -> None:
    phone, id_ = record.crew(), str(uuid.uuid4())
    before = len(record.stored())
    first, again = enter(phone, {"id": id_}), enter(phone, {"id": id_})
    assert told(first) == told(again)
    assert len(record.stored()) == before + 1


def test_the_same_mark_with_something_else_is_refused(record: Served) -> None:
    phone, id_ = record.crew(), str(uuid.uuid4())
    enter(phone, {"id": id_})
    answer = enter(phone, {"id": id_, "value": "40"})
    assert (answer.status, told(answer)["error"]) == (409, "conflict")


def test_what_another_crew_sends_once_more_stays_its_first_senders(record: Served) -> None:
    id_ = str(uuid.uuid4())
    first = enter(record.crew("Ana"), {"id": id_, "when": "2026-06-01T09:30"})
    said = {"id": id_, "when": "2026-06-01T09:30", "by": "Ana"}
    again = enter(record.crew("Ben"), said)
    assert (again.status, told(again)) == (200, told(first))
    assert [(e.crew, e.more) for e in record.stored() if e.id == id_] == [("Ana", "{}")]


def test_without_script_the_way_leads_back_to_the_form_with_the_verdict(record: Served) -> None:
    phone = record.crew()
    fields = {"id": str(uuid.uuid4()), "place": "VB-1", **GOOD, "value": "OL"}
    answer = send(phone, READINGS, fields)
    assert answer.status == 303
    back = phone.get(answer.headers["location"])
    assert "The meter shows OL: the hot" in words(back.body)
    assert "Measure at the coil's leads in VB-1 first." in words(back.body)


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"value": ""}, "Type the value"),
        ({"value": "about 31"}, "This is no value"),
        ({"value": "1,234"}, "'1,234' may be 1234 or 1.234"),
        ({"value": "230 mA"}, "'230 mA' is not a value in Ω"),
        ({"kind": "walk test", "value": "2"}, "'2' does not say whether the valve ran"),
        ({"kind": "ohms hot to hot", "value": "60"}, "Choose the two ends"),
        ({"kind": "ohms hot to hot", "value": "60", "to": "A1"}, "Choose the two ends"),
        ({"kind": "ohms hot to hot", "value": "60", "to": "A99"}, "This job has no 'A99' for such"),
        ({"kind": "ohms in a box", "in_box": "VB-9"}, "This job has no 'VB-9' for such"),
        ({"kind": "ohms of a spare loop", "from": "SP-1", "to": "COM-A"}, "Choose the two ends"),
        ({"bypassed RS-9": "1"}, "This job has no 'RS-9' for such"),
        ({"lead_ohms": "little"}, "'leads little ohm' cannot be read"),
        ({"degrees": "72"}, "The form did not arrive"),
        ({"value": "1.2.3"}, "This is no value"),
        ({"value": "-1"}, "This is no value"),
        ({"value": "1e3"}, "This is no value"),
        ({"value": "nan"}, "This is no value"),
        ({"kind": "volts", "value": "OL"}, "A meter never shows OL"),
        ({"kind": "milliamperes", "value": "9999999"}, "More than 10000 mA is not accepted"),
        ({"kind": "volts", "value": "24100"}, "More than 1000 V is not accepted"),
        ({"kind": "insulation", "value": "100001"}, "More than 100000 MΩ is not accepted"),
        ({"value": "61100000"}, "More than 60000000 Ω is not accepted"),
        ({"kind": "ohms"}, "Choose what was measured"),
        ({"valve": "A99"}, "Choose the valve"),
        ({"valve": ""}, "Choose the valve"),
        ({"notes": "x" * 601}, "The notes have more than 600 letters"),
        ({"notes": "gate code 4711"}, "'gate code 4711' looks like a code"),
        ({"notes": "llame al 555-123-4567"}, "'555-123-4567' looks like a code"),
        ({"notes": "a\x07b"}, "The form did not arrive"),
        ({"notes": "a\x80b"}, "The form did not arrive"),
        ({"id": "7"}, "The form did not arrive"),
        ({"when": "yesterday"}, "The form did not arrive"),
        ({"by": "x" * 41}, "The form did not arrive"),
        ({"kind": "difference", "box": "VB-99", "notes": "x"}, "This job has no such box"),
        ({"kind": "difference", "box": "VB-1"}, "Describe the difference"),
    ],
)
def test_what_cannot_be_taken_is_said_and_nothing_is_stored(
    record: Served, said: dict[str, str], sentence: str
) -> None:
    phone, before = record.crew(), len(record.stored())
    answer = enter(phone, said)
    assert answer.status == 400
    assert str(told(answer)["sentence"]).startswith(sentence)
    page = send(phone, READINGS, {"id": str(uuid.uuid4()), "place": "VB-1", **GOOD, **said})
    assert page.status == 400
    assert sentence in words(page.body)
    assert len(record.stored()) == before


def test_what_was_typed_is_still_there(record: Served) -> None:
    fields = {"id": str(uuid.uuid4()), **GOOD, "valve": "A2", "value": "3l.4", "notes": "wet"}
    page = tree(send(record.crew(), READINGS, fields).body)
    assert [e.get("value") for e in page.iter("input") if e.get("name") == "value"] == ["3l.4"]
    assert page.find(".//textarea[@id='f-notes']").text == "wet"  # type: ignore[union-attr]
    chosen = [e.get("value") for e in page.iter("input") if "checked" in e.attrib]
    assert chosen == ["A2"]
    kinds = page.findall(".//select[@id='f-kind']//option[@selected]")
    assert [kind.get("value") for kind in kinds] == ["ohms at the controller"]


def test_the_form_has_the_keys_of_a_meter_and_asks_what_was_measured(record: Served) -> None:
    page = tree(send(record.crew(), READINGS, {"id": str(uuid.uuid4()), "place": "VB-1"}).body)
    keys = page.findall(".//div[@id='keys']/div/button")
    assert [key.text for key in keys] == [*"789456123.0", "Clear", "OL", *"kMmA"]
    assert [key.get("value") for key in keys] == [*"789456123.0", "clear", "OL", *"kMmA"]
    groups = page.findall(".//select[@id='f-kind']/optgroup")
    kinds = [[option.get("value", "") for option in group] for group in groups]
    # What every valve has stands first; then all others of `cardgen/results`.
    usual = ["ohms at the controller", "ohms at the coil", "volts", "milliamperes", "insulation"]
    assert kinds[0] == usual
    assert sorted([*kinds[0], *kinds[1]]) == sorted(Kind)


# By hand from sample_jobs/larkspur.yaml: VB-3 has A4 and A5, whose cable A-K2 has a spare, black.
EVERY_KIND = [
    ({"kind": "ohms hot to hot", "value": "61.5", "to": "A3"}, "A1 – A3", ("A1", "", "A3")),
    ({"kind": "ohms in a box", "value": "30", "in_box": "VB-1"}, "VB-1", ("A1", "", "")),
    ({"kind": "insulation", "value": "5", "from": "COM-A"}, "COM-A", ("", "COM-A", "")),
    ({"kind": "volts", "value": "26", "from": "A-K1 white"}, "A-K1 white", ("", "A-K1 white", "")),
    ({"kind": "volts without load", "value": "12", "from": "A2"}, "A2", ("", "A2", "")),
    ({"kind": "milliamperes on its hot", "value": "230"}, "", ("A1", "", "")),
    ({"kind": "walk test", "value": "", "to": "A2"}, "", ("A1", "", "A2")),
    ({"kind": "walk test", "value": "", "to": "none"}, "", ("A1", "", "none")),
    ({"kind": "walk test", "value": "", "to": ""}, "", ("A1", "", "A1")),
    ({"kind": "not reached", "value": ""}, "", ("A1", "", "")),
]


def test_every_kind_is_entered_with_its_ends_and_comes_out_as_a_table_does(
    record: Served,
) -> None:
    phone = record.crew()
    for said, between, ends in EVERY_KIND:
        answer = enter(phone, said)
        assert answer.status == 200, answer.text
        found = measured_of(record.stored()[-1])
        assert (found.valve, found.start, found.to) == ends, said
        assert found.between == between, said
        assert between in str(told(answer)["title"])


def test_ends_that_a_kind_does_not_have_are_passed_over(record: Served) -> None:
    """A form without script sends all its fields."""
    assert enter(record.crew(), {"from": "COM-A", "to": "A2", "in_box": "VB-1"}).status == 200
    found = measured_of(record.stored()[-1])
    assert (found.valve, found.start, found.to) == ("A1", "", "")


@pytest.mark.parametrize("language", ["en", "es"])
def test_the_conditions_of_a_walk_are_kept_with_each_value(record: Served, language: str) -> None:
    """31.6 as the meter shows it less 0.5 of its leads is 31.1; 68 F are 20 C."""
    walk = {"bypassed RAIN": "1", "degrees": "68", "scale": "F", "lead_ohms": "0,5"}
    fields = {"id": str(uuid.uuid4()), **GOOD, "value": "31.6", **walk, "terminal_volts": "26.8"}
    answer = send(record.crew(), f"{READINGS}?language={language}", fields, headers=JSON)
    assert answer.status == 200, answer.text
    found = measured_of(record.stored()[-1])
    under = found.under
    assert (under.bypassed, under.celsius, under.lead_ohms) == (("RAIN",), 20.0, 0.5)
    assert (under.terminal_volts, under.commons_parted) == (26.8, False)
    assert found.net == pytest.approx(31.1)
    assert ("bypassed" in found.conditions) is (language == "en")


def test_only_a_crew_enters(record: Served) -> None:
    phone, before = record.anyone(), len(record.stored())
    answer = send(phone, READINGS, {"id": str(uuid.uuid4()), **GOOD}, headers=JSON)
    assert (answer.status, told(answer)["error"]) == (401, "login")
    crew = record.crew()
    forged = send(crew, READINGS, {"id": str(uuid.uuid4()), **GOOD}, headers={"X-Token": "another"})
    assert forged.status == 403
    elsewhere = {"Origin": "http://elsewhere.example"}
    assert send(crew, READINGS, {"id": str(uuid.uuid4()), **GOOD}, headers=elsewhere).status == 403
    assert len(record.stored()) == before


def test_another_crew_that_sends_it_does_not_become_its_author(record: Served) -> None:
    enter(record.crew("Ben"), {"by": "Ana", "value": "33"})
    stored = record.stored()[-1]
    assert stored.crew == "Ben"
    history = words(record.crew().get(f"{RESULTS}?valve=A1").body)
    assert history.index("33 Ω") < history.index("Ana")


@pytest.mark.parametrize("field", ["notes", "by", "value", "valve", "kind", "when", "id", "place"])
def test_a_script_in_a_field_stays_a_text(record: Served, field: str) -> None:
    phone = record.crew()
    fields = {"id": str(uuid.uuid4()), "place": "VB-1", **GOOD, field: MARKUP[:40]}
    answer = send(phone, READINGS, fields)
    report = {"kind": "difference", "box": "VB-1", "notes": MARKUP, "id": str(uuid.uuid4())}
    assert send(phone, READINGS, report).status == 303
    pages = [answer.body] if answer.status == 400 else []
    pages += [phone.get(path).body for path in (RESULTS, f"{RESULTS}?valve=A1", REPORTS, READINGS)]
    pages.append(phone.get(f"{READINGS}?box={'%3Cscript%3E'}&valve=%22%3E%3Cimg%3E").body)
    pages.append(phone.get(f"{RESULTS}?valve=%3Cscript%3E").body)
    for page in pages:
        root = tree(page)
        assert not list(root.iter("img"))
        assert all("alert(1)" not in (script.text or "") for script in root.iter("script"))
        assert not any(name.startswith("on") for e in root.iter() for name in e.attrib)
    assert MARKUP in words(phone.get(REPORTS).body)


def test_an_entry_that_comes_in_late_finds_its_valve_in_an_older_revision(tmp_path: Path) -> None:
    text = revision(2)
    start = text.index("  A6:")
    end = text.index("\n", start) + 1
    later = edit(text, text[start:end], "")
    with served(tmp_path, revision(1), later) as record:
        answer = enter(record.crew(), {"valve": "A6"})
        assert answer.status == 200, answer.text
        assert "A6" in words(record.anyone().get(RESULTS).body)
