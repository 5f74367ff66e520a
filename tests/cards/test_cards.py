"""What the cards say, held against the sample jobs as their owners would read them."""

from __future__ import annotations

from functools import cache

import pytest

from cardgen.asbuilt import ConductorMark
from cardgen.cards import Card, CardKind, cards_of
from cardgen.cards.card import Code, Table
from cardgen.cards.expected import BOUND
from tests.cards.printables import plain_rows, printable
from tests.jobs import SAMPLES, edit, sample


@cache
def cards(name: str) -> dict[CardKind, dict[str, Card]]:
    return made(sample(name))


def made(text: str) -> dict[CardKind, dict[str, Card]]:
    return {kind: {c.id: c for c in found} for kind, found in cards_of(printable(text)).items()}


def words(value: object) -> str:
    """A field as one would read it aloud."""
    if isinstance(value, str):
        return value.replace(BOUND, " ")
    if isinstance(value, ConductorMark):
        flag = f"({value.flag})" if value.flag else ""
        band = f"+ {value.band}" if value.band else ""
        return " ".join(part for part in (value.cable, value.word, band, flag) if part)
    if isinstance(value, Table):
        return "; ".join(" ".join(words(cell) for cell in row if cell) for row in value.rows)
    if isinstance(value, tuple):
        return "; ".join(words(part) for part in value)
    return str(value)


def tag(name: str, valve: str) -> dict[str, str]:
    return {k: words(v) for k, v in cards(name)[CardKind.VALVE_TAG][valve].fields.items()}


def test_a_plain_tag() -> None:
    code = cards("larkspur")[CardKind.VALVE_TAG]["A3"].fields["code"]
    assert code == Code(
        address="HTTPS://JOBS.EXAMPLE.COM/7Q2F9KX4M3T8/VB-2", text="7Q2F9KX4M3T8/VB-2"
    )
    said = tag("larkspur", "A3")
    said.pop("code")
    assert said == {
        "headline": "A3",
        "box_label": "box",
        "box": "VB-2",
        "area": "front beds, drip",
        "terminal": "controller A, terminal 3",
        "hot_label": "HOT",
        "hot": "A-K1 green",
        "common_label": "COMMON A",
        "common": "A-K1 white",
        "controller_readings_title": "AT CONTROLLER",
        "controller_readings": "Ω 31.9 (26–38); mA 230 on",
        "controller_readings_with": "Ω 31.9 (26–38); mA 230 on",
        "coil_readings_title": "AT THE COIL",
        "coil_readings": "Ω 30 (24–36); V 23.5–23.9 on",  # 30 less 15 % and 1 ohm; and more
        "stamp": "LARK-06 · rev 1 · 2026-03-14",
    }


def test_a_band_is_part_of_the_name() -> None:
    assert tag("larkspur", "A4")["hot"] == "A-K2 red + yellow tape"


def test_after_a_color_change_the_tag_has_the_color_at_the_valve() -> None:
    said = tag("quarry", "A2")
    assert said["hot"] == "A-S1 red (flag A2)"
    assert (said["first_label"], said["first"]) == ("at controller:", "A-K1 blue")


def test_the_legend_has_the_color_at_the_controller() -> None:
    rows = legend_rows("quarry", "A")
    row = next(row for row in rows if row["terminal"] == "2 · A2")
    assert row["wire color here"] == "A-K1 blue"
    assert row["area"] == "entry lawn S; A-S1 red (flag A2) at the valve"


def test_a_twin_names_the_other_valve_and_reads_half() -> None:
    said = tag("quarry", "A10b")
    assert said["twin"] == "2 of 2 valves · other: A10a in VB-4"
    assert said["controller_readings"].startswith("Ω 17.3 ")


def test_special_tags_say_what_must_be_known() -> None:
    shared = tag("quarry", "MV-1")
    assert shared["area"] == "MASTER VALVE"
    assert shared["boxed"] == "Lock off A and B. Prove dead with the meter before you touch."
    assert shared["boxed_short"] == "Lock off A + B and prove dead"
    assert shared["first"] == "A-K1 violet"
    assert shared["terminal"] == "MV of A and B, isol. relays"
    assert shared["controller_readings"].startswith("Ω 33.1 (27–39)")
    assert shared["controller_readings_title"] == "AT ISOL. RELAYS"  # behind them, not at A
    assert tag("quarry", "MV-1")["common_label"] == "RETURN"
    assert tag("heron", "MV-A")["boxed"] == "NORMALLY OPEN: POWER CLOSES"
    assert tag("heron", "PUMP-A")["area"] == "PUMP START RELAY"
    assert tag("heron", "PUMP-A")["boxed"] == "PUMP SIDE: LICENSED ELECTRICIAN"
    assert tag("sandpiper", "P1")["boxed"] == "LATCHING DC: red lead to hot, black to common"


def test_a_decoder_valve_has_its_address_and_no_ohms_at_the_controller() -> None:
    said = tag("heron", "D1")
    assert said["boxed"].startswith("DECODER 201")
    assert "SERIAL" not in said["boxed"]  # which the sample does not know
    known = made(edit(sample("heron"), "DC-201: {", "DC-201: {serial: 88-4021, "))
    boxed = words(known[CardKind.VALVE_TAG]["D1"].fields["boxed"])
    assert boxed.startswith("DECODER 201") and "SERIAL 88-4021" in boxed.upper()
    assert "hot" not in said
    assert "controller_readings" not in said
    assert said["coil_readings"] == "Ω 30 (24–36)"  # 30 less 15 % and 1 ohm: 24.5; and more: 35.5


def legend_rows(name: str, controller: str) -> list[dict[str, str]]:
    table = cards(name)[CardKind.LEGEND][controller].fields["terminals"]
    assert isinstance(table, Table)
    return [dict(zip(table.columns, map(words, row), strict=True)) for row in table.rows]


def test_the_legend_goes_terminal_by_terminal_with_the_empty_ones() -> None:
    rows = legend_rows("larkspur", "A")
    assert [row["terminal"] for row in rows] == [
        *("C", "C", "1 · A1", "2 · A2", "3 · A3", "4 · A4", "5 · A5", "6 · A6"),
        *("7", "8", "MV", "SEN · RAIN", "SEN · RAIN"),
    ]
    assert [row["area"] for row in rows if row["terminal"] in ("7", "8", "MV")] == ["empty"] * 3
    assert rows[0]["area"] == "common for A1 to A3 and A6; 2 in one connector, pigtail to C"
    assert rows[1]["wire color here"] == "A-K2 white + yellow tape"


def test_the_legend_has_the_wires_of_a_path_and_then_the_addresses() -> None:
    """Of the cables of the path only D-M begins at the controller."""
    rows = legend_rows("heron", "D")
    assert [(row["terminal"], row["wire color here"]) for row in rows[:3]] == [
        ("PATH 1 · two-wire path", "D-M red"),
        ("PATH 2 · two-wire path", "D-M black"),
        ("address 201 · D1", ""),
    ]
    assert len(rows) == 2 + 8  # and a decoder for each of eight stations


def test_the_legend_says_what_a_meter_shows_of_every_terminal() -> None:
    twin = next(r for r in legend_rows("quarry", "A") if r["terminal"] == "10 · A10")
    assert twin["expected Ω"] == "17.3 (14–21)"
    assert (twin["V at the valve"], twin["mA"]) == ("22.9–23.7", "460")
    # Its own coil has 230, and the pump start relay 350: sample_jobs/heron.yaml.
    beside = next(r for r in legend_rows("heron", "A") if r["terminal"] == "1 · A1")
    assert beside["mA"] == "230"
    readings = cards("heron")[CardKind.LEGEND]["A"].fields["readings"]
    assert isinstance(readings, tuple)
    assert tuple(words(each) for each in readings[1:]) == (
        "V at the valve, mA in its hot: valve on with PUMP-A running; at C 350 mA more.",
        "Coil alone, leads off: A1 to A48 and MV-A 30 Ω (24–36); PUMP-A 45 Ω (37–53).",
    )


def test_where_a_reading_means_nothing_none_is_printed() -> None:
    assert "V at the valve" not in legend_rows("sandpiper", "P")[0]  # a pulse, no steady volts
    said = tag("sandpiper", "P1")
    assert not {"V", "mA"} & set((said["coil_readings"] + said["controller_readings"]).split())
    rows = legend_rows("heron", "D")  # along a two-wire path ohms mean nothing
    assert not {"expected Ω", "V at the valve", "mA"} & rows[0].keys()
    isolated = next(r for r in legend_rows("quarry", "A") if r["terminal"] == "MV · MV-1")
    assert isolated["expected Ω"] == "–"
    text = edit(sample("larkspur"), "hot: A-K1 green", "device: doubler, hot: A-K1 green")
    behind = {k: words(v) for k, v in made(text)[CardKind.VALVE_TAG]["A3"].fields.items()}
    assert "controller_readings" not in behind
    assert behind["coil_readings"] == "Ω 30 (24–36)"
    assert "BEHIND A DOUBLER" in behind["boxed"]


def test_only_a_job_of_reclaimed_water_warns_of_it() -> None:
    # Public agencies ask for "Reclaimed water - do not drink" in words, often in two languages.
    for water, said in (("reclaimed", "RECLAIMED WATER – DO NOT DRINK"), ("potable", "")):
        text = edit(sample("quarry"), "job: {", f"job: {{water: {water}, ")
        for kind, found in made(text).items():
            warned = kind in (CardKind.VALVE_TAG, CardKind.BOX_TAG, CardKind.LEGEND)
            for card in found.values():
                assert words(card.fields.get("water", "")) == (said if warned else "")


@pytest.mark.parametrize("name", SAMPLES)
def test_tag_legend_and_test_sheet_say_the_same(name: str) -> None:
    for controller in cards(name)[CardKind.LEGEND]:
        sheet = cards(name)[CardKind.TEST_SHEET][controller].fields["valves"]
        assert isinstance(sheet, Table)
        for row in sheet.rows:
            expected = dict(zip(sheet.columns, map(words, row), strict=True))
            said = tag(name, expected["station"])
            at_controller = said.get("controller_readings", "").split("; ")
            ohms = next((r for r in at_controller if r.startswith("Ω ")), "Ω not known")
            assert expected.get("expected Ω", "not known") == ohms.removeprefix("Ω ")
            volts = expected.get("expected V at the valve", "not known")
            amperes = expected.get("expected mA at C", "not known")
            if volts == "–":  # of a relay, which is never powered by itself
                assert (expected["area"], amperes) == ("pump start relay", "–")
                continue
            isolated = "isol." in said["terminal"]
            if at_controller != [""]:
                assert ("ISOL." in said["controller_readings_title"]) is isolated
            in_hot = expected.get("expected mA in the hot", amperes)
            current = f"mA {amperes} on" if in_hot == amperes else f"mA {in_hot} / {amperes} C"
            assert (current in at_controller) is (amperes != "not known")
            at_coil = said.get("coil_readings", "").split("; ")
            assert (f"V {volts} on" in at_coil) is (volts != "not known")


def test_the_legend_lists_spares_and_sensors_and_cautions() -> None:
    fields = cards("larkspur")[CardKind.LEGEND]["A"].fields
    spares = fields["spares"]
    assert isinstance(spares, Table)
    assert spares.columns == ("conductor", "last box")  # none has a name or a purpose
    assert [(words(row[0]), row[1]) for row in spares.rows] == [
        ("A-K1 orange", "VB-2"),
        ("A-K1 brown", "VB-2"),
        ("A-K2 green + yellow tape", "VB-3"),
        ("A-K2 yellow + yellow tape", "VB-3"),
    ]
    assert fields["sensors"] == (
        (
            "RAIN: rain sensor (garage eave), normally closed, on SEN. To bypass it for a test: "
            "lock the power off, put a jumper across the SEN terminals. "
            "Remove the jumper after the test."
        ),
    )
    cautions = words(fields["cautions"])
    for word in ("power", "licensed electrician", "dig", "Local codes", "reaching in"):
        assert word in cautions


def test_box_tags_for_many_valves_two_controllers_and_splices() -> None:
    assert not cards("larkspur")[CardKind.BOX_TAG]
    assert list(cards("quarry")[CardKind.BOX_TAG]) == (
        ["SB-1", "VB-1", "VB-2", "VB-3", "VB-4", "VB-5", "VB-7"]
    )
    shared = cards("quarry")[CardKind.BOX_TAG]["VB-5"].fields
    of_a, of_b = "CONTROLLER A: A-K2", "CONTROLLER B: B-K1 + black band"
    assert [row[:2] for row in plain_rows(shared["stations"])] == [
        *((of_a, "A11"), (of_a, "A12"), (of_a, "C")),
        *((of_b, "B3"), (of_b, "B4"), (of_b, "B5"), (of_b, "C")),
    ]
    assert "COM-A and COM-B must not touch" in words(shared["notes"])


def test_what_is_on_the_flag_of_a_hot_is_told_where_its_row_does_not_say_it() -> None:
    """A1 to A3 are red singles, flagged as they are called; the spares have names of their own."""
    tag = cards("quarry")[CardKind.BOX_TAG]["VB-1"].fields
    assert [row[1:3] for row in plain_rows(tag["stations"])] == [
        *(("A1", "red"), ("A2", "red"), ("A3", "red"), ("C", "white"))
    ]
    assert words(tag["spares"]) == "A-S1 orange (flag SP); A-S1 blue (flag SP-COM)"


def test_a_box_where_something_ends_is_not_called_passing_through() -> None:
    boxes = cards("heron")[CardKind.BOX_TAG]
    assert "all conductors pass through: do not cut" in words(boxes["PB-1"].fields["notes"])
    assert "pass through" not in words(boxes["FS-1"].fields.get("notes", ""))


def test_two_flags_for_each_conductor_one_at_each_end() -> None:
    flags = cards("larkspur")[CardKind.FLAG]
    assert [i for i in flags if i.startswith("A3 ")] == (
        ["A3 A-K1 green at A", "A3 A-K1 green at VB-2"]
    )
    # Every conductor of 7 + 5; what is left of red and blue beyond VB-1 is a stretch of its own.
    assert len(flags) == 2 * (12 + 2)
    change = cards("quarry")[CardKind.FLAG]["A2 A-K1 blue at SB-1"].fields
    assert (words(change["conductor"]), words(change["conductor_2"])) == (
        "A-K1 blue",
        "A-S1 red",
    )


@pytest.mark.parametrize("name", SAMPLES)
def test_every_card_names_its_job_and_revision(name: str) -> None:
    for found in cards(name).values():
        for card in found.values():
            assert " · rev " in words(card.fields["stamp"])


def test_counts_of_the_campus() -> None:
    # 108 wired stations, 8 on decoders, a master valve, a pump relay
    assert len(cards("heron")[CardKind.VALVE_TAG]) == 118
    assert list(cards("heron")[CardKind.LEGEND]) == ["A", "B", "C", "D"]


def test_cards_do_not_depend_on_the_order_of_boxes() -> None:
    text = sample("larkspur")
    lines = text.splitlines(keepends=True)
    boxes = [line for line in lines if line.startswith("  VB-")]
    shuffled = edit(text, "".join(boxes), "".join(reversed(boxes)))
    in_order_of_the_file = {CardKind.MATERIALS, CardKind.SCHEDULE, CardKind.CLOSING}
    for kind, found in made(shuffled).items():
        if kind in in_order_of_the_file:
            continue
        said = {card.id: card.fields for card in found.values()}
        assert said == {card.id: card.fields for card in cards("larkspur")[kind].values()}
