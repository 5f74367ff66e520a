"""What a valve tag, a box tag and a legend say, counted by hand in a yard of two controllers.

```
A  C 1  A-K1 white                        A --A-K1-- SB-1 --A-K2-- VB-1   A1, A2
   C 2  A-K3 white + A-K3 green           A --A-K3-- VB-2                 A3, MV-1
   1, 2, 3, MV: a hot each; 4 is free     B --B-K1-- SB-1 -------- VB-2   B1
```
A1 stays red where it goes on in A-K2; A2 is blue in A-K1 and brown in A-K2.
"""

from __future__ import annotations

from functools import cache

import pytest

from cardgen.cards import CardKind, cards_of
from cardgen.cards.card import PrintedValue
from cardgen.examine import examine_text
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import make_print
from cardgen.output.selection import Selection
from tests.cards.printables import plain_rows, printable, read, rows
from tests.checks.bases import completed
from tests.jobs import edit, sample
from tests.outside.pages import text_by_pdfium

YARD = """\
job: {code: TWO-2, site: Two Yards, revision: 1, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
coils: {usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A}}
controllers:
  A:
    place: garage
    supply: 24 V AC
    stations: 4
    terminals: [C, C, 1 to 4, MV, SEN, SEN]
    coil: usual
    common: [A-K1 white, A-K2 white, A-K3 white]
    transformer: 40 VA
    fuse: 1.5 A
    station limit: 0.8 A
    total limit: 1.2 A
    sensor contact: normally closed
    sensor jumper: removed
  B: {place: shed, supply: 24 V AC, stations: 2, coil: usual, common: B-K1 white}
cables:
  A-K1: {gauge: 18 AWG, colors: [white, red, blue], run: [A, 100 ft, SB-1]}
  A-K2: {gauge: 18 AWG, colors: [white, red, brown], run: [SB-1, 80 ft, VB-1]}
  A-K3: {gauge: 18 AWG, colors: [white, red, black, green], run: [A, 60 ft, VB-2]}
  B-K1:
    gauge: 18 AWG
    colors: [white, red]
    band: black band
    run: [B, 50 ft, SB-1, 70 ft, VB-2]
boxes:
  VB-2: {place: rear gate}
  SB-1: {place: under the oak, kind: splice box}
  VB-1: {}
stations:
  A1: {area: lawn, box: VB-1, hot: [A-K1 red, A-K2 red]}
  A2: {area: beds, box: VB-1, hot: [A-K1 blue, A-K2 brown]}
  A3: {area: hedge, box: VB-2, hot: A-K3 red}
  B1: {area: court, box: VB-2, hot: B-K1 red}
master valves:
  MV-1: {controllers: A, box: VB-2, hot: A-K3 black, return: A-K3 green}
sensors:
  RS-1: {kind: rain, controllers: A, contact: normally closed, place: roof}
joints:
  A:
    - [C 1, A-K1 white]
    - [C 2, A-K3 white, A-K3 green]
    - ['1', A-K1 red]
    - ['2', A-K1 blue]
    - ['3', A-K3 red]
    - [MV, A-K3 black]
"""
LIMITS = "at most 0.8 A on one terminal; at most 1.2 A in all"


def fields(text: str, kind: CardKind, name: str) -> dict[str, PrintedValue]:
    (card,) = (card for card in cards_of(printable(text), (kind,))[kind] if card.id == name)
    return dict(card.fields)


def entries(value: PrintedValue) -> list[str]:
    assert isinstance(value, tuple)
    return [read(entry) for entry in value]


# ---- valve tags ------------------------------------------------------------------------------


def test_the_hot_at_the_controller_is_told_also_where_only_the_cable_is_another() -> None:
    tags = {name: fields(YARD, CardKind.VALVE_TAG, name) for name in ("A1", "A2", "A3")}
    assert read(tags["A1"]["first_label"]) == "at controller:"
    assert read(tags["A1"]["first"]) == "A-K1 red"
    assert read(tags["A2"]["first"]) == "A-K1 blue"
    assert "first" not in tags["A3"]  # one conductor from the terminal to the coil


def test_a_tag_says_of_each_figure_where_it_is_read() -> None:
    tag = fields(YARD, CardKind.VALVE_TAG, "A3")
    assert (tag["box_label"], tag["box"]) == ("box", "VB-2")
    assert read(tag["controller_readings_title"]) == "AT CONTROLLER"
    assert plain_rows(tag["controller_readings"])[1] == ("mA", "230 / 460 C", "")  # C has two coils
    assert read(tag["coil_readings_title"]) == "AT THE COIL"
    ohms, volts = plain_rows(tag["coil_readings"])
    assert ohms == ("Ω", "30", "(24–36)")  # 30 less 15 % and 1 ohm: 24.5; more: 35.5
    assert (volts[0], volts[2]) == ("V", "on")
    assert read(tag["runs_with"]) == "on: with MV-1"
    assert plain_rows(tag["controller_readings_with"])[1] == (*("mA", "230 / 460 C", "(MV-1)"),)
    # What runs alone has one current: the other yard has no master valve.
    alone = fields(YARD, CardKind.VALVE_TAG, "B1")
    assert plain_rows(alone["controller_readings_with"])[1] == ("mA", "230", "on")


# ---- box tags --------------------------------------------------------------------------------


def test_a_box_tag_names_a_cable_once_and_the_area_of_each_station() -> None:
    tag = fields(YARD, CardKind.BOX_TAG, "VB-2")
    of_a, of_b = "CONTROLLER A: A-K3", "CONTROLLER B: B-K1 + black band"
    assert plain_rows(tag["stations"]) == [
        (of_a, "A3", "red", "hedge"),
        (of_a, "MV-1", "black", "master valve"),
        (of_a, "C", "white", "COM-A"),
        (of_b, "B1", "red", "court"),
        (of_b, "C", "white", "COM-B"),
    ]


def test_of_several_cables_each_row_names_its_own() -> None:
    text = edit(YARD, "brown], run: [SB-1, 80 ft, VB-1]", "brown], run: [SB-1, 80 ft, VB-2]")
    text = text.replace("box: VB-1, hot", "box: VB-2, hot")
    tag = fields(text, CardKind.BOX_TAG, "VB-2")
    of_a = [row for row in plain_rows(tag["stations"]) if row[0] == "CONTROLLER A"]
    assert [row[1:3] for row in of_a] == [
        *(("A1", "A-K2 red"), ("A2", "A-K2 brown"), ("A3", "A-K3 red"), ("MV-1", "A-K3 black")),
        *(("C", "A-K2 white"), ("C", "A-K3 white")),
    ]


def test_valves_stand_in_the_order_of_their_terminals() -> None:
    """On the strip of A: 1 to 4, MV; the file has A3 before A1 and A2."""
    line = "  A3: {area: hedge, box: VB-2, hot: A-K3 red}\n"
    text = edit(YARD, line, "").replace("stations:\n  A1", f"stations:\n{line}  A1")
    text = edit(text, "brown], run: [SB-1, 80 ft, VB-1]", "brown], run: [SB-1, 80 ft, VB-2]")
    tag = fields(text.replace("box: VB-1, hot", "box: VB-2, hot"), CardKind.BOX_TAG, "VB-2")
    assert [row[1] for row in plain_rows(tag["stations"])] == [
        *("A1", "A2", "A3", "MV-1", "C", "C", "B1", "C")
    ]


def test_the_place_of_a_box_belongs_to_its_name() -> None:
    tag = fields(YARD, CardKind.BOX_TAG, "VB-2")
    assert tag["place"] == "rear gate"
    assert "rear gate" not in entries(tag["notes"])


# ---- legends ---------------------------------------------------------------------------------


def test_each_wire_stands_once_on_its_own_c_and_a_return_counts_in_the_connector() -> None:
    strip = rows(fields(YARD, CardKind.LEGEND, "A")["terminals"])
    assert [(row["terminal"], row["area"], row["wire color here"]) for row in strip] == [
        ("C", "common for A1 and A2", "A-K1 white"),
        ("C", "common for A3; 2 in one connector, pigtail to C", "A-K3 white"),
        ("C", "return MV-1; 2 in one connector, pigtail to C", "A-K3 green"),
        ("1 · A1", "lawn; A-K2 red at the valve", "A-K1 red"),
        ("2 · A2", "beds; A-K2 brown at the valve", "A-K1 blue"),
        ("3 · A3", "hedge", "A-K3 red"),
        ("4", "empty", ""),
        ("MV · MV-1", "master valve; separate return: A-K3 green to C", "A-K3 black"),
        ("SEN · RS-1", "sensor", ""),
        ("SEN · RS-1", "sensor", ""),
    ]


def test_a_second_wire_on_the_terminal_of_a_station_has_a_row_of_its_own() -> None:
    """It is live with the hot, wherever it leads; and one that comes in a connector says so."""
    joints = "joints:\n  A:\n    - [C, K1 white]\n    - [2, K1 blue]\n"
    for on_it, more in (
        ("    - [1, K1 red, K1 green]\n", ""),
        (
            "    - [1, PT-1]\n    - [PT-1, K1 red, K1 green]\n",
            "; 2 in one connector, by pigtail PT-1",
        ),
    ):
        pigtail = "pigtails: {PT-1: {at: A, gauge: 18 AWG}}\n" if more else ""
        text = completed(joints + on_it + pigtail)
        strip = rows(fields(text, CardKind.LEGEND, "A")["terminals"])
        assert [(row["terminal"], row["area"], row["wire color here"]) for row in strip[1:3]] == [
            ("1 · A1", f"front lawn{more}", "K1 red"),
            ("1 · A1", f"hot A1{more}", "K1 green"),
        ]


def test_a_legend_says_what_the_controller_gives_and_has_free_and_with_whom_it_shares() -> None:
    legend = fields(YARD, CardKind.LEGEND, "A")
    assert entries(legend["about"]) == [
        f"Power: transformer 40 VA; fuse 1.5 A; {LIMITS}.",
        "3 of 4 stations used; free: 4.",
        "Boxes shared with B: SB-1 and VB-2.",  # B-K1 passes SB-1
    ]
    assert entries(legend["boxes"]) == ["SB-1 under the oak · VB-2 rear gate"]
    assert entries(legend["blanks"]) == ["call:"]
    other = fields(YARD, CardKind.LEGEND, "B")
    assert entries(other["about"]) == [
        "1 of 2 stations used; free: 2.",
        "Boxes shared with A: SB-1 and VB-2.",
    ]


def test_a_path_counts_its_addresses_and_a_full_strip_has_nothing_free() -> None:
    text = sample("heron")
    assert entries(fields(text, CardKind.LEGEND, "D")["about"])[0] == "8 of 8 stations used."
    about = entries(fields(text, CardKind.LEGEND, "A")["about"])
    assert about == ["48 of 48 stations used.", "Boxes shared with B: PB-1."]


def test_a_legend_says_of_a_valve_that_power_closes_it() -> None:
    """Who opens that valve by switching it on closes it."""
    text = edit(YARD, "MV-1: {controllers: A,", "MV-1: {controllers: A, normally open: yes,")
    strip = {
        row["terminal"]: row["area"]
        for row in rows(fields(text, CardKind.LEGEND, "A")["terminals"])
    }
    assert strip["MV · MV-1"] == (
        "master valve; normally open: power closes; separate return: A-K3 green to C"
    )


def test_what_brackets_mean_is_told_by_a_range_that_stands_in_them() -> None:
    legend = fields(YARD, CardKind.LEGEND, "A")
    meaning = read(legend["brackets"])
    shown, _, said = meaning.partition(": ")
    assert said == "acceptable range on a working meter, at 20 °C (68 °F)."
    assert shown in rows(legend["terminals"])[3]["expected Ω"]


LINK = (
    "lock the power off, put a jumper across the SEN terminals. Remove the jumper after the test."
)
LIFT = "lock the power off, lift one of its wires. Put it back after the test."

EITHER = (
    "lock the power off. If its contact is normally closed, put a jumper across the SEN terminals; "
    "if it is normally open, lift one of its wires. Put it back as it was after the test."
)


@pytest.mark.parametrize(
    ("said", "bypass"),
    [
        ("kind: rain, controllers: A, contact: normally closed", LINK),
        ("kind: rain, controllers: A, contact: normally open", LIFT),
        (
            "kind: other, controllers: A",
            EITHER,
        ),
        ("kind: flow, controllers: A", ""),  # no contact that stops the stations
        (
            "kind: rain, controllers: A, contact: normally closed, in common: A-K1 white",
            (
                "lock the power off, put a jumper from C to A-K1 white. "
                "Remove the jumper after the test."
            ),
        ),
    ],
)
def test_how_a_sensor_is_bypassed_follows_from_its_contact_and_where_it_is(
    said: str, bypass: str
) -> None:
    text = edit(YARD, "kind: rain, controllers: A, contact: normally closed", said)
    if "in common" in said:
        text = edit(
            text, "[C 1, A-K1 white]", "[C 1, RS-1 C side]\n    - [RS-1 field side, A-K1 white]"
        )
    if "normally open" in said:
        text = edit(text, "sensor contact: normally closed", "sensor contact: normally open")
    (sensor,) = entries(fields(text, CardKind.LEGEND, "A")["sensors"])
    assert sensor.startswith("RS-1: ")
    assert sensor.partition(" To bypass it for a test: ")[2] == bypass


def test_where_a_battery_drives_the_controller_it_is_taken_out_first() -> None:
    """There is no power to lock off."""
    (sensor,) = entries(fields(sample("sandpiper"), CardKind.LEGEND, "P")["sensors"])
    before, _, after = sensor.partition(" To bypass it for a test: ")
    assert before.startswith("RAIN: ") and after.startswith("take the battery out, ")
    assert "power" not in after


# ---- station schedules -----------------------------------------------------------------------


def test_a_station_schedule_has_what_is_at_both_ends_of_each_circuit() -> None:
    """A4 has a hot that nobody knows; its common is known."""
    text = edit(YARD, "  B1: {area", "  A4: {area: roses, box: VB-2, hot: not known}\n  B1: {area")
    schedule = fields(text, CardKind.SCHEDULE, "station schedule A")
    ends = ("hot at the controller", "hot at the valve", "return at the valve")
    assert [(row["station"], *(row[end] for end in ends)) for row in rows(schedule["rows"])] == [
        ("A1", "A-K1 red", "A-K2 red", "A-K2 white"),
        ("A2", "A-K1 blue", "A-K2 brown", "A-K2 white"),
        ("A3", "A-K3 red", "A-K3 red", "A-K3 white"),
        ("A4", "not known", "not known", "A-K3 white"),
        ("MV-1", "A-K3 black", "A-K3 black", "A-K3 green"),
    ]


# ---- as printed ------------------------------------------------------------------------------

TITLE = {"en": "CONTROLLER A: A-K3", "es": "CONTROLADOR A: A-K3"}
PRINTED = {
    "en": {
        "valve-tags.pdf": ("at controller: A-K1 red", "mA 230 / 460 C (MV-1)", "box VB-2"),
        "box-tags.pdf": (TITLE["en"], "A3 red RD hedge", "VB-2 rear gate"),
        "door-legend-A.pdf": (
            "acceptable range on a working meter",
            "return MV-1 2 in one connector, pigtail to C",
            "transformer 40 VA; fuse 1.5 A;",
            "3 of 4 stations used; free: 4.",
            "Boxes shared with B: SB-1 and VB-2.",
            "SB-1 under the oak · VB-2 rear gate",
            "put a jumper across the SEN terminals. Remove the jumper after the test.",
            "call:",
        ),
    },
    "es": {
        "valve-tags.pdf": (
            "en controlador: A-K1 rojo",
            "mA 230 / 460 C (MV-1)",
            "EN SOLENOIDE",
            "caja VB-2",
        ),
        "box-tags.pdf": (TITLE["es"], "A3 rojo RD hedge", "VB-2 rear gate"),
        "door-legend-A.pdf": (
            "margen aceptable con un buen multímetro",
            "retorno MV-1 2 en un conector, cola (pigtail) a C",
            "transformador 40 VA; fusible 1.5 A;",
            "3 de 4 estaciones en uso; libres: 4.",
            "Cajas compartidas con B: SB-1 y VB-2.",
            "SB-1 under the oak · VB-2 rear gate",
            "ponga un jumper entre las terminales SEN. Después de la prueba quite el jumper.",
            "llame a:",
        ),
    },
}


@cache
def printed(language: str) -> dict[str, str]:
    """The text of each file, blanks drawn together."""
    only = ("valve-tags", "box-tags", "door-legend")
    request = PrintRequest(
        selection=Selection(only=only), stocks=("id-1-letter",), languages=(language,)
    )
    made, problems = make_print(examine_text(YARD), request)
    assert made is not None, problems
    texts = {name: text_by_pdfium(data) for name, data in made.files.items() if ".pdf" in name}
    return {
        name.rpartition("/")[2]: " ".join(" ".join(pages).split()) for name, pages in texts.items()
    }


@pytest.mark.parametrize("language", ["en", "es"])
def test_read_back_from_the_printed_pages(language: str) -> None:
    for name, texts in PRINTED[language].items():
        for text in texts:
            assert text in printed(language)[name], (name, text)
