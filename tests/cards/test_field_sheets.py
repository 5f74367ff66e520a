"""Test sheets, spare list and schedules against the sample jobs."""

from __future__ import annotations

import math

import pytest

from cardgen.cards import CardKind, cards_of
from cardgen.cards.card import Table
from cardgen.cards.closing import CALCULATED, MEASURED
from cardgen.cards.cover import PacketContents, cover
from cardgen.cards.readings_sheet import test_sheets as sheets_of
from cardgen.wiring.wiring_parts import Conductor
from cardgen.words import all_printed, english
from tests.cards.printables import cards, facts_of, plain_rows, printable, read, rows
from tests.jobs import SAMPLES, edit, sample


def valves(name: str, controller: str) -> dict[str, dict[str, str]]:
    table = cards(name, CardKind.TEST_SHEET)[controller].fields["valves"]
    return {row["station"]: row for row in rows(table)}


# ---- test sheets ---------------------------------------------------------------------------


@pytest.mark.parametrize("name", SAMPLES)
def test_every_valve_has_its_row_on_the_sheet_of_its_controller(name: str) -> None:
    facts = facts_of(name)
    for load in facts.wiring.loads.values():
        row = valves(name, load.controller)[load.id]
        assert row["box"] == load.box
        reading = facts.readings.get(load.owner.id)
        expected = row.get("expected Ω", "")
        if reading and reading.ohms is not None and reading.low and reading.high:
            low, high = math.floor(reading.low), math.ceil(reading.high)
            assert expected == f"{reading.ohms:.1f} ({low}–{high})"
        elif load.decoder is None:
            assert expected == "not known"


def test_volts_and_milliamperes_while_on() -> None:
    running = facts_of("larkspur").running["A6"]
    row = valves("larkspur", "A")["A6"]
    low, high = (float(part) for part in row["expected V at the valve"].split("–"))
    assert low <= running.low["A6"] <= running.high["A6"] <= high
    assert high - low < running.high["A6"] - running.low["A6"] + 0.2
    assert row["expected mA at C"] == "230"
    to_write = ("measured Ω", "after backfill Ω", "measured V at the controller", "measured V")
    assert [row[column] for column in (*to_write, "measured mA", "notes")] == [""] * 6
    assert row["walk test"] == "☐"


def test_milliamperes_in_the_hot_and_at_c_where_they_differ() -> None:
    # The coil holds with 0.23 A; the pump's relay, 0.35 A, is on with every station.
    row = valves("heron", "A")["A1"]
    assert (row["expected mA in the hot"], row["expected mA at C"]) == ("230", "580")
    assert "expected mA in the hot" not in valves("quarry", "A")["A1"]
    assert valves("quarry", "A")["A10a"]["expected mA at C"] == "460"  # both of the twin


def test_what_runs_beside_a_station_is_said() -> None:
    assert valves("heron", "A")["A1"]["notes"] == ""  # said once, for all stations:
    sheet = cards("heron", CardKind.TEST_SHEET)["A"]
    assert str(sheet.fields["subtitle"]).endswith(" · 24 V AC · mA with PUMP-A")
    assert valves("heron", "A")["MV-A"]["notes"] == "normally open: power closes"
    assert valves("quarry", "A")["A10b"]["notes"] == "Ω, mA of 2 valves"
    assert valves("quarry", "A")["MV-1"]["notes"] == "Ω at the isolating relays"


def test_a_relay_is_measured_in_ohms_only() -> None:
    row = valves("heron", "A")["PUMP-A"]
    assert row["measured Ω"] == ""
    volts = {said for column, said in row.items() if " V" in column or "mA" in column}
    assert (volts, row["walk test"]) == ({"–"}, "–")


def test_no_volts_are_measured_in_a_box_with_a_relay() -> None:
    # The master valve of A is in the box of the pump's relay.
    old = "MV-A: {controllers: A, terminal: MV, box: MVB-A"
    text = edit(sample("heron"), old, old.replace("MVB-A", "PR-1"))
    text = edit(text, "hot: A-M black MV, return: A-M black MV-RTN", PAIR)
    text = edit(text, "flags: [PUMP, PUMP-RTN]", "flags: [PUMP, PUMP-RTN, MV, MV-RTN]")
    row = {r["station"]: r for r in dict(cards_from(text))["A"]}["MV-A"]
    at_valve = ("expected V at the valve", "measured V", "measured V at the controller")
    assert [row[column] for column in at_valve] == ["–", "–", ""]
    assert (row["expected mA at C"], row["measured mA"]) == ("230", "")


PAIR = "hot: A-P black MV, return: A-P black MV-RTN"


def test_a_latching_valve_has_pulses_and_no_volts() -> None:
    row = valves("sandpiper", "P")["P1"]
    assert row["pulse opens"] == row["pulse closes"] == "☐"
    assert not any("V" in column or "mA" in column for column in row)


def test_a_decoder_valve_is_measured_at_the_decoder_only() -> None:
    row = valves("heron", "D")["D3"]
    assert (row["decoder"], row["address"]) == ("DC-203", "203")
    assert row["expected Ω at the decoder"] == "30.0 (24–36)"
    assert (row["address test"], row["walk test"]) == ("☐", "☐")
    assert not any("mA" in column for column in row)


def test_what_is_not_known_of_any_valve_has_no_column() -> None:
    text = edit(sample("larkspur"), ", holding: 0.23 A", "")
    (card,) = cards_from(text)
    for row in card[1]:
        assert not {"expected V at the valve", "expected mA at C"} & row.keys()
        assert row["measured V"] == row["measured mA"] == ""


def test_what_is_not_known_of_one_valve_is_never_guessed() -> None:
    text = edit(sample("larkspur"), "hot: A-K1 green", "device: doubler, hot: A-K1 green")
    found = {row["station"]: row["expected V at the valve"] for row in dict(cards_from(text))["A"]}
    assert found["A3"] == "not known" and "not known" not in found["A1"]


def cards_from(text: str) -> list[tuple[str, list[dict[str, str]]]]:
    return [(card.id, rows(card.fields["valves"])) for card in sheets_of(printable(text))]


# ---- spares --------------------------------------------------------------------------------


def test_the_spare_list_says_how_far_and_what_the_loop_reads() -> None:
    found = rows(cards("quarry", CardKind.SPARE_LIST)["spares"].fields["spares"])
    by_flag = {row["flag"]: row for row in found}
    assert list(by_flag) == ["SP-1", "SP-2", "SP-3", "SP-4", "SP-5", "SP-6", "SP-7", "SP-8"]
    four = by_flag["SP-4"]
    assert (four["from"], four["through"], four["last box"]) == ("SB-1", "VB-1 and VB-2", "VB-3")
    assert four["state"] == "capped, reserved as far as VB-3, reserved for spare common"
    # 2 x 300 ft of 14 AWG at 2.525 ohm per 1000 ft (NBS Handbook 100, table 1)
    assert four["expected loop Ω"] == "1.5 (0–3)"
    assert four["measured Ω"] == four["date"] == ""


def test_spares_without_a_name_are_called_as_on_their_flags() -> None:
    found = rows(cards("larkspur", CardKind.SPARE_LIST)["spares"].fields["spares"])
    flags = {read(c.fields["headline"]) for c in cards("larkspur", CardKind.FLAG).values()}
    assert {row["flag"] for row in found} <= flags
    assert not cards("sandpiper", CardKind.SPARE_LIST)  # all conductors are in use


# ---- the packet's own sheets ---------------------------------------------------------------


@pytest.mark.parametrize("name", SAMPLES)
def test_the_conductor_schedule_has_every_leg_of_every_conductor(name: str) -> None:
    schedules = cards(name, CardKind.SCHEDULE).items()
    each = [card for of, card in schedules if of.startswith("conductor schedule")]
    found = [row for card in each for row in rows(card.fields["rows"])]
    for conductor in facts_of(name).wiring.conductors.values():
        mine = [r for r in found if r["conductor"].startswith(conductor.cable.id + " ")]
        words = marked(conductor)
        places: list[str] = []
        for row in (r for r in mine if r["conductor"] == words):
            between = [] if row["through"] == "–" else row["through"].split(", ")
            stretch = [row["from"], *between, row["to"]]
            places += stretch if not places else stretch[1:]
        assert tuple(places) == conductor.places


def marked(conductor: Conductor) -> str:
    """`A-S1 red + yellow tape (flag A2)`, of the facts."""
    name = f"{conductor.cable.id} {conductor.insulation.word}"
    band = f" + {conductor.cable.band}" if conductor.cable.band else ""
    return f"{name}{band} (flag {conductor.flag})" if conductor.flag else name + band


def test_a_conductor_that_changes_its_use_has_a_row_for_each() -> None:
    found = rows(cards("quarry", CardKind.SCHEDULE)["conductor schedule A"].fields["rows"])
    red = [(r["from"], r["to"], r["use"]) for r in found if r["conductor"] == "A-K2 red"]
    assert red == [("A", "VB-4", "hot A9"), ("VB-4", "VB-6", "dead")]


def test_the_splice_register_leaves_room_for_distances_that_nobody_said() -> None:
    found = rows(cards("larkspur", CardKind.SCHEDULE)["splice register A"].fields["register"])
    one, two, _ = found
    distances = ("distance to a fixed point", "distance to another")
    assert [one[d] for d in distances] == [
        "6.5 ft (2 m) from garage corner",
        "4.0 ft (1.2 m) from walk edge",
    ]
    assert [two[d] for d in distances] == ["", ""]
    assert one["splices"] == "3"


def test_the_station_schedule_has_both_ends_of_a_hot() -> None:
    found = rows(cards("quarry", CardKind.SCHEDULE)["station schedule A"].fields["rows"])
    row = next(row for row in found if row["station"] == "A2")
    assert (row["hot at the controller"], row["hot at the valve"]) == (
        "A-K1 blue",
        "A-S1 red (flag A2)",
    )


def test_columns_that_say_nothing_are_left_out() -> None:
    """Nobody gave coordinates; the hots of B keep their look, those of A change it in SB-1."""
    found = cards("quarry", CardKind.SCHEDULE)
    register = found["splice register A"].fields["register"]
    assert isinstance(register, Table)
    assert "coordinates" not in register.columns
    looks = {of: rows(found[f"station schedule {of}"].fields["rows"])[0].keys() for of in "AB"}
    assert {"hot at the controller", "hot at the valve", "notes"} <= looks["A"]
    assert "hot" in looks["B"] and "notes" not in looks["B"]


def test_a_shared_box_is_in_the_register_of_both_controllers() -> None:
    """VB-3 and VB-5 have valves of A and B; MVB-1 is the valve of both."""
    found = cards("quarry", CardKind.SCHEDULE)
    boxes = {
        of: {row["box"] for row in rows(found[f"splice register {of}"].fields["register"])}
        for of in "AB"
    }
    assert boxes["A"] & boxes["B"] == {"VB-3", "VB-5", "MVB-1"}
    assert boxes["A"] | boxes["B"] == set(facts_of("quarry").job.boxes)


def test_a_box_to_which_no_cable_comes_is_in_a_register_of_its_own() -> None:
    text = edit(
        sample("larkspur"),
        "boxes:\n",
        """boxes:
  VB-8: {place: shed, kind: pull box}
  VB-9: {place: gate, kind: pull box}
""",
    )
    found = {card.id: card for card in cards_of(printable(text))[CardKind.SCHEDULE]}
    assert [row["box"] for row in rows(found["other boxes"].fields["register"])] == ["VB-8", "VB-9"]
    assert "other conductors" not in found


def test_the_packet_says_what_is_calculated_and_what_is_measured() -> None:
    card = cards("heron", CardKind.CLOSING)["handover and sign-off"]
    words = english()
    said = [all_printed(words.named("closing", names)) for names in (CALCULATED, MEASURED)]
    assert [card.fields["calculated"], card.fields["measured"]] == said
    assert "Local codes" in str(card.fields["cautions"]).replace("local", "Local")


def test_the_sign_off_has_the_firms_of_the_job_and_room_for_the_rest() -> None:
    quarry = plain_rows(
        cards("quarry", CardKind.CLOSING)["handover and sign-off"].fields["signatures"]
    )
    assert quarry == [
        ("installed by", "", "Two Rivers Landscape", "LI-0042", "", ""),
        ("tested by", "", "", "", "", ""),
        ("accepted for the owner by", "", "Quarry Row Owners Association", "–", "", ""),
    ]
    larkspur = plain_rows(
        cards("larkspur", CardKind.CLOSING)["handover and sign-off"].fields["signatures"]
    )
    assert larkspur[0] == ("installed by", "", "", "", "", "")


def test_of_many_changes_the_newest_are_listed() -> None:
    five = cards("heron", CardKind.CLOSING)["changes and open items"].fields
    assert [row["revision"] for row in rows(five["changes"])] == ["1", "2", "3", "4", "5"]
    assert "earlier" not in five
    log = "".join(
        f"  - {{revision: {n}, date: 2026-01-{n:02}, text: change {n}}}\n" for n in range(1, 31)
    )
    text = edit(sample("larkspur"), "revision: 1, date", "revision: 30, date")
    made = cards_of(printable(f"{text}\nchanges:\n{log}"))[CardKind.CLOSING][0].fields
    assert [row["revision"] for row in rows(made["changes"])] == [str(n) for n in range(19, 31)]
    assert made["earlier"] == "Older changes (18): see the job record."


def test_the_cover_lists_documents_and_annexes_with_their_pages() -> None:
    contents = PacketContents(
        documents=[("Spare list", 4)],
        annexes=[("A", 6), ("", 9)],
        moved=["Station schedule A"],
        separate=["Valve tags", "materials.csv"],
    )
    made = cover(printable(sample("larkspur")), contents).fields
    assert plain_rows(made["documents"]) == [("Spare list", "4")]
    assert plain_rows(made["annexes"]) == [
        ("Annex A", "garage wall", "6", "6"),
        ("Annex: whole job", "–", "–", "9"),
    ]
    assert made["separate"] == ("Valve tags, materials.csv",)
    assert "Station schedule A" in str(made["notes"])


def test_the_cover_counts_what_there_is() -> None:
    """By hand from the job files: heron has 108 + 8 stations and 15 spares that it lists."""
    counts = []
    for name in ("larkspur", "quarry", "heron"):
        facts = cover(printable(sample(name)), PacketContents(documents=())).fields["facts"]
        assert isinstance(facts, tuple)
        counts.append(facts[-1])
    assert counts == [
        "1 controller · 6 stations · 3 boxes · 4 spares",
        "2 controllers · 24 stations · 1 master valve · 10 boxes · 8 spares",
        "4 controllers · 116 stations · 1 master valve · 1 relay · 49 boxes · 15 spares",
    ]


def test_the_cover_names_who_the_job_names_and_leaves_lines_for_the_rest() -> None:
    known = cover(printable(sample("quarry")), PacketContents(documents=())).fields
    assert known["parties"] == (
        "Owner: Quarry Row Owners Association",
        "Contractor: Two Rivers Landscape",
        "Contractor's license: LI-0042",
    )
    assert known["parties_blank"] == ()
    blank = cover(printable(sample("larkspur")), PacketContents(documents=())).fields
    assert blank["parties"] == ()
    assert blank["parties_blank"] == ("owner", "contractor", "contractor's license")
