"""What a job takes: the samples against tables counted by hand, small yards, random jobs."""

from __future__ import annotations

import csv
import io
from collections import Counter
from collections.abc import Iterator

import pytest
from hypothesis import given, settings

from cardgen.asbuilt import BuiltBox, BuiltController
from cardgen.cards import CardKind
from cardgen.cards.materials_sheet import HEADER, materials_rows
from cardgen.cards.printable import Printable
from cardgen.cards.reels import cut_from
from cardgen.output.spreadsheet import csv_bytes
from cardgen.units import Length, LengthUnit, Meters
from cardgen.wiring.uses import Role
from cardgen.wiring.wiring_parts import COMMON_TERMINAL
from cardgen.wiring.written import CONTACT_SIDES
from tests.cards.material_tables import TABLES
from tests.cards.pigtails import TEXT
from tests.cards.printables import Listed, cards, facts_of, listed, plain_rows, printable
from tests.jobs import SAMPLES, edit, examined, sample
from tests.property.jobs import plans
from tests.property.plan import Plan

FEET = LengthUnit.FEET


def by_name(job: Printable | str) -> dict[str, Listed]:
    found = listed(printable(job) if isinstance(job, str) else job)
    named = {each.what: each for each in found}
    assert len(named) == len(found)  # nothing is said twice
    return named


def read_back(printable: Printable) -> list[dict[str, str]]:
    """The CSV as a spreadsheet reads it."""
    text = csv_bytes(materials_rows(printable)).decode()
    return list(csv.DictReader(io.StringIO(text, newline=""), strict=True))


# ---- the samples ---------------------------------------------------------------------------


@pytest.mark.parametrize("name", SAMPLES)
def test_the_csv_says_what_was_counted_by_hand(name: str) -> None:
    rows = read_back(printable(sample(name)))
    assert [(int(row["quantity"]), row["what"]) for row in rows] == list(TABLES[name])
    units = {row["unit"] for row in rows if row["group"] == "cables"}
    assert units == {"ft"}


@pytest.mark.parametrize("name", SAMPLES)
def test_the_sheet_says_the_same(name: str) -> None:
    fields = cards(name, CardKind.MATERIALS)["materials"].fields
    on_paper = [
        row
        for group in ("cables", "connectors", "boxes", "marking", "devices")
        for row in plain_rows(fields[group])
    ]
    in_csv = [
        (row["quantity"], row["what"], row["from"]) for row in read_back(printable(sample(name)))
    ]
    assert [(amount.split(" ")[0], what, basis) for amount, what, basis in on_paper] == in_csv


@pytest.mark.parametrize("name", SAMPLES)
def test_no_provenance_stands_on_the_sheet(name: str) -> None:
    told = cards(name, CardKind.MATERIALS)["materials"].fields["notes"]
    assert isinstance(told, tuple)
    notes = " ".join(map(str, told))
    assert "10 % of each run, 24 in (0.61 m) at each valve" in notes
    assert not [word for word in ("source", "assumed", "WSU", "standard") if word in notes]


def test_what_each_line_was_reckoned_from() -> None:
    found = by_name(sample("quarry"))
    assert found["cable, 9 × 18 AWG"].basis == (
        "A-K2: 1 piece; run 560 ft (171 m); slack for 7 valves, 1 loop, 5 ends in boxes, "
        "1 end at a controller"
    )
    assert found["connector: small, accepts 2–5 × 18 AWG"].basis == (
        "23 splices in boxes, 1 splice at a controller; 10 % extra"
    )
    assert found["pigtail, 18 AWG, length not given"].basis == "terminal C of A"
    assert found["isolating relay"].basis == "MV-1: A, B"
    assert found["end of a cable to mark with black band"].basis == "B-K1: 8"


def test_a_sensor_in_the_common_takes_a_connector_and_no_pigtail() -> None:
    """Both commons of B and the lead of RAIN-B are in one; the other lead is on C itself."""
    found = by_name(sample("heron"))
    assert found["connector, type not given"].basis == (
        "2 splices in boxes, 1 splice at a controller; 10 % extra"
    )
    assert found["pigtail, 12 AWG, length not given"].basis == "terminal C of A; terminal C of C"


def test_connectors_between_a_decoder_and_its_valve_are_those_that_take_both_leads() -> None:
    """All of 18 AWG: 5 decoders with their own leads, two each, and 3 with a wire between, four."""
    own = "DC-202: {box: DX-2, address: 202, to valve: 3 ft"

    def between(leads: str) -> dict[str, str]:
        found = by_name(edit(sample("heron"), own, own + leads))
        lines = ((name, row.basis.split("; ")[0].split(", ")) for name, row in found.items())
        return {
            name.split(",")[0]: part
            for name, parts in lines
            for part in parts
            if "between decoders" in part
        }

    one, rest = "4 between decoders and their valves", "18 between decoders and their valves"
    assert between("") == {"connector: small": "22 between decoders and their valves"}
    assert between(", leads: 14 AWG") == {"connector: large": one, "connector: small": rest}


@pytest.mark.parametrize("name", SAMPLES)
def test_the_csv_is_as_rfc_4180_wants_it(name: str) -> None:
    job = printable(sample(name))
    data = csv_bytes(materials_rows(job))
    assert data.endswith(b"\r\n") and b"\n" not in data.replace(b"\r\n", b"")
    table = list(csv.reader(io.StringIO(data.decode(), newline=""), strict=True))
    assert tuple(table[0]) == HEADER
    assert {len(row) for row in table} == {len(HEADER)}


def test_a_quoted_cell_comes_back_whole() -> None:
    row = ('10 in "round", black', "a\nb", "")
    (back,) = csv.reader(io.StringIO(csv_bytes([row]).decode(), newline=""), strict=True)
    assert tuple(back) == row


def test_a_box_is_counted_once_however_many_tags_its_stock_takes() -> None:
    row = by_name(sample("quarry"))["box with a box tag"]
    assert row.quantity == len(cards("quarry", CardKind.BOX_TAG))
    assert row.basis == "a full box may need several tags"


@pytest.mark.parametrize("name", SAMPLES)
def test_every_coil_and_every_box_is_there(name: str) -> None:
    found, facts = listed(printable(sample(name))), facts_of(name)
    counts: Counter[str] = Counter()
    for each in found:
        assert each.group == "cables" or isinstance(each.quantity, int)
        if isinstance(each.quantity, int):
            counts["coils"] += each.quantity if ", coil " in each.what else 0
            counts["boxes"] += each.quantity if each.group == "boxes" else 0
    assert counts == {"coils": len(facts.wiring.loads), "boxes": len(facts.job.boxes)}


# ---- slack and reels -----------------------------------------------------------------------


def test_meters_lead_where_the_job_has_meters() -> None:
    text = sample("larkspur")
    for feet, meters in (("85 ft", "26 m"), ("60 ft", "18 m"), ("140 ft", "43 m")):
        text = text.replace(feet, meters)
    found = [m.amount for m in listed(printable(text)) if m.group == "cables"]
    assert all(amount.partition(" ")[2].startswith("m (") for amount in found)


def test_a_job_says_its_own_slack() -> None:
    """A-K1: 145 + 20 % 29 + 4 valves 12 + legs of 85 and 60 a loop of 1 each 2 + no depth + 10."""
    said = "slack: {run: 20 %, valve: 3 ft, coil: 12 in, coil every: 50 ft, box end: 0 in, "
    job = printable(f"{sample('larkspur')}{said}controller end: 10 ft}}\n")
    assert by_name(job)["cable, 7 × 18 AWG"].amount == "198 ft (61 m)"
    assert "slack for 4 valves, 2 loops" in by_name(job)["cable, 7 × 18 AWG"].basis


def test_a_splice_without_a_box_has_no_depth() -> None:
    """Quarry's 142 ft of black lie in two ends less at SB-1: 3 ft."""
    text = edit(sample("quarry"), "kind: splice box, size: 12 x 17 in", "kind: buried splice")
    assert by_name(text)["single conductor, black, 14 AWG"].amount == "139 ft (43 m)"


def test_wire_is_rounded_to_reels_where_the_job_names_them() -> None:
    """A-K1 takes 177 ft, A-K2 164.5 ft, as counted in the tables."""
    found = by_name(f"{sample('larkspur')}reels: [250 ft, 100 ft, 500 ft]\n")
    seven, five = found["cable, 7 × 18 AWG"], found["cable, 5 × 18 AWG"]
    assert (seven.amount, five.amount) == ("250 ft (77 m)", "250 ft (77 m)")
    assert seven.basis.endswith("; cut from 1 × 250 ft, 73 ft (22 m) left over")
    assert five.basis.endswith("; cut from 1 × 250 ft, 85 ft (26 m) left over")  # 85.5


def test_a_cable_has_reels_of_its_own() -> None:
    text = edit(sample("larkspur"), "palette: seven, run", "palette: seven, reels: 100 ft, run")
    found = by_name(text)
    assert found["cable, 7 × 18 AWG"].basis.endswith(
        "; cut from 2 × 100 ft, 23 ft (7 m) left over; "
        "1 piece is longer than the longest reel and needs a splice in a box"
    )
    assert found["cable, 7 × 18 AWG"].amount == "200 ft (61 m)"  # two whole ones
    assert "cut from" not in found["cable, 5 × 18 AWG"].basis


def test_pieces_are_cut_by_hand() -> None:
    """600, 600, 400, 300, 90 from reels of 500 and 1000: 600 + 400; 600 + 300 + 90; 10 left."""
    reels = [Length(1000.0, FEET), Length(500.0, FEET)]
    pieces = [Meters(feet * 0.3048) for feet in (90, 600, 300, 600, 400)]
    cut = cut_from(reels, pieces)
    assert (cut.order, cut.too_long) == (((Length(1000.0, FEET), 2),), 0)
    assert cut.left_over / 0.3048 == pytest.approx(10)
    # 2300: two whole reels of 1000 and 300 of one of 500
    cut = cut_from(reels, [Meters(2300 * 0.3048)])
    assert cut.order == ((Length(500.0, FEET), 1), (Length(1000.0, FEET), 2))
    assert (cut.too_long, round(cut.left_over / 0.3048)) == (1, 200)


# ---- pigtails, jumpers, decoders -----------------------------------------------------------


def connectors(text: str) -> list[tuple[str, str, str]]:
    found = [m for m in listed(printable(text)) if m.group == "connectors"]
    return [(m.amount, m.what, m.basis) for m in found if "cap" not in m.what]


def test_a_connector_that_holds_a_pigtail_is_one_connector() -> None:
    """Seven joints in VB-1 and two in each other box; the large ones hold 14 AWG: 3, 5 and 7."""
    assert connectors(TEXT) == [
        ("11", "connector: small, accepts 2–5 × 18 AWG", "10 splices in boxes; 10 % extra"),
        (
            "5",
            "connector: large, accepts 1–3 × 18 AWG + 1–2 × 14 AWG",
            "3 splices in boxes, 1 splice at a controller; 10 % extra",
        ),
        ("2", "pigtail, 14 AWG, 8 in", "VB-1: PT-1, PT-3"),
        ("1", "pigtail, 18 AWG, length not given", "VB-1: PT-2"),
        ("1", "pigtail, 14 AWG, 0.2 m", "A: PT-C"),
    ]


def test_jumpers_are_one_less_than_the_terminals_they_link() -> None:
    """7 - 8 - 3 are two wires; 1 - 2 and 2 - 4 are two more."""
    jumpers = "sensor jumper: removed\n    jumpers: [[7, 8, 3], [1, 2], [2, 4]]"
    text = edit(sample("larkspur"), "sensor jumper: removed", jumpers)
    job = printable(
        edit(text, "station limit: 0.5 A", "station limit: 2 A").replace("1.0 A", "9 A")
    )
    row = by_name(job)["jumper between terminals of a controller"]
    assert (row.quantity, row.basis) == (4, "A: 1 + 2 + 4, 3 + 7 + 8")


def test_a_valve_in_another_box_than_its_decoder_takes_wire() -> None:
    """27 ft: 20 and a tenth 2, 2 at the valve, 3 for two ends in boxes; with 11 within boxes 38."""
    what = "pair of wires from a decoder to its valve, 18 AWG"
    text = edit(sample("heron"), "box: DX-3, decoder", "box: DX-4, decoder")
    found = by_name(text)
    assert found[what].amount == "11 ft (4 m)"
    row = found[f"{what}, length not given"]
    assert (row.amount, row.basis) == ("1", "DC-203")
    text = edit(text, "address: 203}", "address: 203, to valve: 20 ft}")
    assert by_name(text)[what].amount == "38 ft (12 m)"


# ---- random jobs ---------------------------------------------------------------------------


def capped_ends(printable: Printable) -> Iterator[tuple[str, str, str]]:
    places: tuple[BuiltBox | BuiltController, ...]
    places = (*printable.asbuilt.boxes, *printable.asbuilt.controllers)
    for place in places:
        yield from ((place.id, end.conductor, end.toward) for end in place.capped)


@settings(max_examples=20)
@given(plans())
def test_joints_are_as_many_as_connectors_and_each_free_end_has_one_cap(plan: Plan) -> None:
    """Counted from the joints of the wiring, one by one, not from what is built of them."""
    job, facts = printable(plan.text), examined(plan.text).facts
    assert facts is not None
    found = [m for m in listed(job) if m.group == "connectors"]

    joints = decoders = 0
    joined = set()
    at_c: Counter[tuple[str, int]] = Counter()
    for joint in facts.wiring.joints:
        joined |= set(joint.ends)
        if joint.at in facts.job.boxes:
            joints += len(joint.ends) > 1
            continue
        contact = any(end.side in CONTACT_SIDES for end in joint.ends)
        terminals = [end.side for end in joint.ends if end.of == joint.at]
        wires = sum(end.of in facts.wiring.conductors for end in joint.ends)
        if terminals == [COMMON_TERMINAL]:
            at_c[joint.at, joint.which] += wires + contact
        elif contact:
            joints += wires > 0
    joints += sum(number > 1 for number in at_c.values())
    decoders = 2 * sum(d.to_valve is None for d in facts.job.decoders.values())
    decoders += 4 * sum(d.to_valve is not None for d in facts.job.decoders.values())
    sensor_leads = sum(
        member.lead in facts.job.sensors
        for box in job.asbuilt.boxes
        for joint in box.joints
        for member in joint.members
    )
    counted = sum(m.counted for m in found if m.what.startswith("connector"))
    assert counted == joints + sensor_leads + decoders

    free = 0
    for conductor in facts.wiring.conductors.values():
        for place in conductor.places:
            ends = [end for end in conductor.ends_at(place) if end not in joined]
            uncut = len(ends) == 2 and facts.network.net(ends[0]) == facts.network.net(ends[1])
            for end in () if uncut else ends:
                uses = facts.uses.stretch_at(end).uses
                free += not any(use.role is Role.SENSOR for use in uses)
    assert sum(m.counted for m in found if m.what.startswith("sealed cap")) == free
    ends_told = list(capped_ends(job))
    assert len(ends_told) == len(set(ends_told)) == free
