"""Test sheets, spare list, materials and schedules against the sample jobs."""

from __future__ import annotations

import csv
import io
import math

import pytest

from cardgen.cards import CardKind
from cardgen.cards.closing import CALCULATED, MEASURED
from cardgen.cards.cover import cover
from cardgen.cards.materials import materials
from cardgen.cards.materials_sheet import HEADER, materials_rows
from cardgen.cards.readings_sheet import test_sheets as sheets_of
from cardgen.cards.slack import with_slack
from cardgen.output.spreadsheet import csv_bytes
from cardgen.units import Length, LengthUnit
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
    low, high = (float(part) for part in row["expected V at the box"].split("–"))
    assert low <= running.low["A6"] <= running.high["A6"] <= high
    assert high - low < running.high["A6"] - running.low["A6"] + 0.2
    assert row["expected mA"] == "230"
    assert (row["measured V"], row["measured mA"], row["measured Ω"], row["walk test"]) == ("",) * 4


def test_what_runs_beside_a_station_is_said() -> None:
    assert valves("heron", "A")["A1"]["notes"] == ""  # said once, for all stations:
    sheet = cards("heron", CardKind.TEST_SHEET)["A"]
    assert str(sheet.fields["subtitle"]).endswith(" · 24 V AC · mA with PUMP-A")
    assert valves("heron", "A")["MV-A"]["notes"] == "normally open: power closes"
    assert valves("quarry", "A")["A10b"]["notes"] == "Ω and mA for all 2 valves"
    assert valves("quarry", "A")["MV-1"]["notes"] == "Ω at the isolating relays"


def test_a_latching_valve_has_pulses_and_no_volts() -> None:
    row = valves("sandpiper", "P")["P1"]
    assert row["pulse opens"] == row["pulse closes"] == ""
    assert not any("V" in column or "mA" in column for column in row)


def test_a_decoder_valve_is_measured_at_the_decoder_only() -> None:
    row = valves("heron", "D")["D3"]
    assert (row["decoder"], row["address"]) == ("DC-203", "203")
    assert row["expected Ω at the decoder"] == "30.0 (24–36)"
    assert not any("mA" in column for column in row)


def test_what_is_not_known_is_never_guessed() -> None:
    text = edit(sample("larkspur"), ", holding: 0.23 A", "")
    (card,) = [c for c in cards_from(text) if c[0] == "A"]
    assert {row["expected V at the box"] for row in card[1] if row["box"] != "–"} == {"not known"}


def cards_from(text: str) -> list[tuple[str, list[dict[str, str]]]]:
    return [(card.id, rows(card.fields["valves"])) for card in sheets_of(printable(text))]


def test_between_two_hots_of_each_box() -> None:
    between = plain_rows(cards("larkspur", CardKind.TEST_SHEET)["A"].fields["between"])
    assert between[0] == (
        *("VB-1", "A1 and A2", "61.1 (51–72)", ""),  # 2 x 85 ft of 18 AWG and 60 ohms
        *("VB-2", "A3 and A6", "61.9 (51–72)", ""),
    )
    assert between[1][4:] == ("–",) * 4


def test_grounds_of_surge_units_are_not_known() -> None:
    grounds = plain_rows(cards("heron", CardKind.TEST_SHEET)["D"].fields["grounds"])
    assert [row[0] for row in grounds] == ["DX-2", "DX-8"]
    assert grounds[0] == ("DX-2", "not known", "", "", "DX-4", "not known", "", "")


# ---- spares --------------------------------------------------------------------------------


def test_the_spare_list_says_how_far_and_what_the_loop_reads() -> None:
    found = rows(cards("quarry", CardKind.SPARE_LIST)["spares"].fields["spares"])
    by_flag = {row["flag"]: row for row in found}
    assert list(by_flag) == ["SP-1", "SP-2", "SP-3", "SP-4", "SP-5", "SP-6", "SP-7", "SP-8"]
    four = by_flag["SP-4"]
    assert (four["from"], four["through"], four["last box"]) == ("SB-1", "VB-1 and VB-2", "VB-3")
    assert four["state"] == "capped, reserved for VB-3, reserved for spare common"
    # 2 x 300 ft of 14 AWG at 2.525 ohm per 1000 ft (NBS Handbook 100, table 1)
    assert four["expected loop Ω"] == "1.5 (0–3)"
    assert four["measured Ω"] == four["date"] == ""


def test_spares_without_a_name_are_called_as_on_their_flags() -> None:
    found = rows(cards("larkspur", CardKind.SPARE_LIST)["spares"].fields["spares"])
    flags = {read(c.fields["headline"]) for c in cards("larkspur", CardKind.FLAG).values()}
    assert {row["flag"] for row in found} <= flags
    assert not cards("sandpiper", CardKind.SPARE_LIST)  # all conductors are in use


# ---- materials -----------------------------------------------------------------------------


def test_slack_by_hand() -> None:
    # 450 ft: 45 ft more, and 2 ft at each of 3 valves, and 2 ft for each of 2 full 200 ft
    legs = [Length(feet, LengthUnit.FEET).meters for feet in (400, 50)]
    assert with_slack(legs, 3) / 0.3048 == pytest.approx(450 + 45 + 6 + 4)


def test_materials_of_the_small_job() -> None:
    found = {(m.group, m.what): m for m in materials(printable(sample("larkspur")))}
    cable = found["cables", "cable, 7 × 18 AWG"]
    # 145 ft + 14.5 ft + 2 ft at each of 4 valves; 167.5 ft is 51.1 m
    assert cable.amount == "168 ft (52 m)"
    connectors = found["connectors", "connector: small, accepts 2–5 × 18 AWG"]
    assert (connectors.quantity, connectors.basis) == (10, "9 splices in boxes, + 10 %")
    assert found["boxes", "valve box, rectangular"].basis == "VB-2, VB-3"
    assert found["devices", "valve, coil usual"].quantity == 6


def test_ends_that_the_job_does_not_join_take_connectors_too() -> None:
    found = {m.what: m for m in materials(printable(sample("heron")))}
    row = found["connector at a decoder's output, type not given"]
    # two leads of each of 8 decoders; a tenth more is 17.6
    assert (row.quantity, row.basis) == (18, "16 ends that the job leaves open, + 10 %")
    row = found[
        "connector type not given"
    ]  # the flow sensor's leads have a gauge that nobody wrote
    assert (row.quantity, row.basis) == (3, "2 splices in boxes, + 10 %")


def test_a_box_is_counted_once_however_many_tags_its_stock_takes() -> None:
    found = {m.what: m for m in materials(printable(sample("quarry")))}
    row = found["box with a box tag"]
    assert row.quantity == len(cards("quarry", CardKind.BOX_TAG))
    assert row.basis == "a full box may need several tags"
    assert "box tag" not in found


def test_meters_lead_where_the_job_has_meters() -> None:
    text = sample("larkspur")
    for feet, meters in (("85 ft", "26 m"), ("60 ft", "18 m"), ("140 ft", "43 m")):
        text = text.replace(feet, meters)
    found = [m.amount for m in materials(printable(text)) if m.group == "cables"]
    assert all(amount.partition(" ")[2].startswith("m (") for amount in found)


@pytest.mark.parametrize("name", SAMPLES)
def test_the_csv_is_as_rfc_4180_wants_it(name: str) -> None:
    job = printable(sample(name))
    data = csv_bytes(materials_rows(job))
    assert data.endswith(b"\r\n") and b"\n" not in data.replace(b"\r\n", b"")
    table = list(csv.reader(io.StringIO(data.decode(), newline=""), strict=True))
    assert tuple(table[0]) == HEADER
    assert {len(row) for row in table} == {len(HEADER)}
    assert [row[1] for row in table[1:]] == [m.what for m in materials(job)]


def test_a_quoted_cell_comes_back_whole() -> None:
    row = ('10 in "round", black', "a\nb", "")
    (back,) = csv.reader(io.StringIO(csv_bytes([row]).decode(), newline=""), strict=True)
    assert tuple(back) == row


@pytest.mark.parametrize("name", SAMPLES)
def test_nothing_is_counted_twice_or_lost(name: str) -> None:
    found, facts = materials(printable(sample(name))), facts_of(name)
    loads = facts.wiring.loads
    devices = sum(m.quantity for m in found if ", coil " in m.what if isinstance(m.quantity, int))
    assert devices == len(loads)
    boxes = sum(m.quantity for m in found if m.group == "boxes" if isinstance(m.quantity, int))
    assert boxes == len(facts.job.boxes)


# ---- the packet's own sheets ---------------------------------------------------------------


@pytest.mark.parametrize("name", SAMPLES)
def test_the_conductor_schedule_has_every_leg_of_every_conductor(name: str) -> None:
    found = rows(cards(name, CardKind.SCHEDULE)["conductor schedule"].fields["rows"])
    for conductor in facts_of(name).wiring.conductors.values():
        mine = [r for r in found if r["conductor"].startswith(conductor.cable.id + " ")]
        words = read(marked(conductor.name, conductor.cable.band))
        places: list[str] = []
        for row in (r for r in mine if r["conductor"] == words):
            between = [] if row["through"] == "–" else row["through"].split(", ")
            stretch = [row["from"], *between, row["to"]]
            places += stretch if not places else stretch[1:]
        assert tuple(places) == conductor.places


def marked(name: str, band: str) -> str:
    return f"{name} {band}".strip()


def test_a_conductor_that_changes_its_use_has_a_row_for_each() -> None:
    found = rows(cards("quarry", CardKind.SCHEDULE)["conductor schedule"].fields["rows"])
    red = [(r["from"], r["to"], r["use"]) for r in found if r["conductor"] == "A-K2 red"]
    assert red == [("A", "VB-4", "hot A9"), ("VB-4", "VB-6", "dead")]


def test_the_splice_register_leaves_room_for_distances_that_nobody_said() -> None:
    found = rows(cards("larkspur", CardKind.SCHEDULE)["splice register"].fields["register"])
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
    assert (row["hot at the controller"], row["hot at the valve"]) == ("A-K1 blue", "A-S1 red A2")


def test_the_packet_says_what_is_calculated_and_what_is_measured() -> None:
    (card,) = cards("heron", CardKind.CLOSING).values()
    said = tuple(all_printed(english().named("closing", part)) for part in (CALCULATED, MEASURED))
    assert (card.fields["calculated"], card.fields["measured"]) == said
    changes = rows(card.fields["changes"])
    assert [row["revision"] for row in changes] == ["1", "2", "3", "4", "5"]
    assert "Local codes" in str(card.fields["cautions"]).replace("local", "Local")


def test_the_cover_lists_documents_with_revision_and_page() -> None:
    made = cover(printable(sample("larkspur")), [("Spare list", 4)], ["valve-tags.pdf"])
    assert plain_rows(made.fields["documents"]) == [("Spare list", "rev 1, 2026-03-14", "4")]
    assert plain_rows(made.fields["separate"]) == [("valve-tags.pdf", "rev 1, 2026-03-14")]
