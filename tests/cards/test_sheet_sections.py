"""Test sheets of the sample jobs, counted by hand: order of the work, sections, read from the PDF.

What is asked for and in which order is common practice, no source.
"""

from __future__ import annotations

from functools import cache

import pytest

from cardgen.cards import Card, CardKind, cards_of
from cardgen.examine import examine_text
from cardgen.output.as_printable import as_printable
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import make_print
from cardgen.output.selection import Selection
from cardgen.words import load_words
from tests.cards.printables import cards, plain_rows, printable, rows
from tests.jobs import SAMPLES, edit, sample
from tests.outside.pages import text_by_pdfium, text_by_poppler

KEYS = "insulation test: 500 V, least insulation: 0.5 Mohm, ground limit: 25 ohm"


def sheet(name: str, controller: str) -> Card:
    return cards(name, CardKind.TEST_SHEET)[controller]


def column(card: Card, field: str, *names: str) -> list[tuple[str, ...]]:
    return [tuple(row[name] for name in names) for row in rows(card.fields[field])]


def texts(card: Card, field: str) -> list[str]:
    value = card.fields[field]
    assert isinstance(value, tuple)
    return [str(text) for text in value]


def with_keys(name: str) -> str:
    return edit(sample(name), "job: {", f"job: {{{KEYS}, ")


# ---- insulation ----------------------------------------------------------------------------

# By sample and controller: what comes to the strip and has wires behind it.
INSULATED = {
    ("larkspur", "A"): [("common A", "A-K1 white"), ("common A", "A-K2 white")],
    ("quarry", "A"): [
        *(("common A", "A-K1 white"), ("common A", "A-K2 white")),
        ("return MV-1", "A-K1 gray"),
    ],
    ("quarry", "B"): [("common B", "B-K1 white")],
    ("heron", "A"): [
        *(("common A", "A-N white COM-A"), ("common A", "A-S white COM-A")),
        *(("return MV-A", "A-M black MV-RTN"), ("return PUMP-A", "A-P black PUMP-RTN")),
    ],
    ("heron", "B"): [("common B", "B-E white/blue COM-B"), ("common B", "B-W white/blue COM-B")],
    ("heron", "C"): [("common C", "C-1 white"), ("common C", "C-2 white/black COM-C")],
    ("heron", "D"): [("path 1 of D", "D-M red"), ("path 2 of D", "D-M black")],
    ("sandpiper", "P"): [
        *(("common P", f"P-K1 white P{number}") for number in (1, 2, 3, 4)),
        ("return MV-P", "P-K1 white MV"),
    ],
}


@pytest.mark.parametrize(("name", "controller"), INSULATED)
def test_insulation_is_measured_twice_of_each_common(name: str, controller: str) -> None:
    card = sheet(name, controller)
    assert column(card, "insulation", "use", "conductor") == INSULATED[name, controller]
    twice = ("before hookup, MΩ", "after backfill, MΩ")
    assert set(column(card, "insulation", *twice)) == {("", "")}


def test_every_controller_of_the_samples_is_in_the_table() -> None:
    every = {(name, id) for name in SAMPLES for id in cards(name, CardKind.TEST_SHEET)}
    assert every == INSULATED.keys()


def test_limits_of_the_specification_are_said_or_left_to_fill_in() -> None:
    bare = sheet("larkspur", "A")
    assert bare.fields["insulation_title"] == "INSULATION TO GROUND"
    unsaid = ["insulation tester, V", "least insulation, MΩ", "ground limit, Ω"]
    assert texts(bare, "blanks")[5:] == [*unsaid, "ground tester, Ω"]
    said = cards_of(printable(with_keys("larkspur")), (CardKind.TEST_SHEET,))
    (card,) = said[CardKind.TEST_SHEET]
    title = "INSULATION TO GROUND, at 500 V, at least 0.5 MΩ"
    assert card.fields["insulation_title"] == title
    assert texts(card, "blanks")[5:] == ["ground tester, Ω (at most 25)"]


def test_one_limit_alone_is_said_alone() -> None:
    text = edit(sample("larkspur"), "job: {", "job: {least insulation: 200 kohm, ")
    (card,) = cards_of(printable(text), (CardKind.TEST_SHEET,))[CardKind.TEST_SHEET]
    assert card.fields["insulation_title"] == "INSULATION TO GROUND, at least 0.2 MΩ"
    assert "insulation tester, V" in texts(card, "blanks")


# ---- path, devices, grounds ----------------------------------------------------------------


def test_a_two_wire_path_is_measured_at_both_ends_and_at_rest() -> None:
    # D-M goes on from DT-1 as D-E, which ends in DX-4, and as D-W, which ends in DX-8.
    assert column(sheet("heron", "D"), "path", "place", "test", "measured") == [
        ("D", "V at the controller", ""),
        ("DX-4", "V at the far end", ""),
        ("DX-8", "V at the far end", ""),
        ("D", "mA with no valve on", ""),
    ]
    assert not any("path" in sheet(*key).fields for key in INSULATED if key != ("heron", "D"))


RING = """\
job: {code: EX-1, site: Example, revision: 1, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
coils: {usual: {supply: 24 V AC, resistance: 30 ohm}}
connectors: {small: {takes: [2-6 x 18 AWG, 1-4 x 14 AWG + 1-4 x 18 AWG, 2-6 x 14 AWG]}}
controllers:
  D:
    place: arboretum
    supply: two-wire
    stations: 8
    coil: usual
    path 1: [M1 red, M2 red]
    path 2: [M1 black, M2 black]
cables:
  M1: {gauge: 14 AWG, colors: [red, black], run: [D, 400 ft, DX-1, 300 ft, DX-2]}
  M2: {gauge: 14 AWG, colors: [red, black], run: [D, 300 ft, DX-2]}
boxes: {DX-1: {}, DX-2: {}}
decoders: {DC-1: {box: DX-1, address: 1}}
stations: {D1: {area: lawn, box: DX-1, decoder: DC-1}}
"""


def test_of_a_ring_the_crew_writes_where_it_measured() -> None:
    (card,) = cards_of(printable(RING), (CardKind.TEST_SHEET,))[CardKind.TEST_SHEET]
    assert column(card, "path", "place", "test")[1] == ("", "V at the far end")
    assert len(rows(card.fields["path"])) == 3


# What follows the walk test: sensors, flow, master valve, pump.
DEVICES = {
    ("larkspur", "A"): [("RAIN", "garage eave", "With a station on, trip")],
    ("quarry", "A"): [("MV-1", "MVB-1", "Leak-by: turn everything off")],
    ("quarry", "B"): [("MV-1", "MVB-1", "Leak-by: turn everything off")],
    ("heron", "A"): [
        ("FLOW-A", "main line at FS-1", "Run one station: compare"),
        ("MV-A", "MVB-A", "Leak-by: power it closed"),  # it is normally open
        ("PUMP-A", "PR-1", "Test it only with a station open, never by itself"),
    ],
    ("heron", "B"): [("RAIN-B", "hall roof", "With a station on, trip")],
    ("heron", "C"): [("RAIN-C", "hothouse gable", "With a station on, trip")],
    ("sandpiper", "P"): [
        ("RAIN", "on the wall above VB-1", "With a station on, trip"),
        ("MV-P", "VB-3", "Leak-by: turn everything off"),
    ],
}


@pytest.mark.parametrize(("name", "controller"), INSULATED)
def test_each_device_is_tried_where_it_is(name: str, controller: str) -> None:
    card, expected = sheet(name, controller), DEVICES.get((name, controller), [])
    if not expected:
        assert "devices" not in card.fields
        return
    found = rows(card.fields["devices"])
    assert [(row["device"], row["place"]) for row in found] == [row[:2] for row in expected]
    assert all(r["test"].startswith(e[2]) for r, e in zip(found, expected, strict=True))
    assert {(row["done"], row["notes"]) for row in found} == {("☐", "")}


def test_grounds_of_surge_units() -> None:
    card = sheet("heron", "D")
    assert plain_rows(card.fields["grounds"]) == [("DX-2", "", "", "DX-4", "", "", "DX-8", "", "")]
    assert card.fields["grounds_title"] == "SURGE UNIT GROUNDS with the ground tester, at most 10 Ω"
    assert not any("grounds" in sheet(*key).fields for key in INSULATED if key != ("heron", "D"))


def test_a_battery_controller_has_no_ground() -> None:
    assert not any("ground" in text for text in texts(sheet("sandpiper", "P"), "blanks"))


def test_between_two_hots_of_each_box() -> None:
    between = plain_rows(sheet("larkspur", "A").fields["between"])
    assert between == [
        (
            *("VB-1", "A1 and A2", "61.1 (51–72)", ""),  # 2 x 85 ft of 18 AWG and 60 ohms
            *("VB-2", "A3 and A6", "61.9 (51–72)", ""),
            *("VB-3", "A4 and A5", "61.8 (51–72)", ""),
        )
    ]
    last = plain_rows(sheet("heron", "A").fields["between"])[-1]
    assert last[4:] == ("–",) * 8  # 16 boxes, three to a line


# ---- ticks and steps -----------------------------------------------------------------------

OFF, LIFTED, ZERO = "power off and locked", "wires lifted: commons, hots", "meter leads zeroed"
OUT, BACK, TIGHT = "sensor out of the loop", "sensor back in", "wires back and tight"
# By sample and controller: what is done before, and what after.
TICKS = {
    ("larkspur", "A"): ([OFF, LIFTED, OUT, ZERO], [BACK, TIGHT]),
    # The boxes VB-3 and VB-5 hold wires of both.
    ("quarry", "A"): ([OFF, "also locked off: B", LIFTED, ZERO], [TIGHT]),
    ("quarry", "B"): ([OFF, "also locked off: A", LIFTED, ZERO], [TIGHT]),
    # A and B meet in PB-1; a flow sensor is in no loop.
    ("heron", "A"): (
        [OFF, "also locked off: B", "pump disconnect locked off", LIFTED, ZERO],
        [TIGHT],
    ),
    ("heron", "B"): ([OFF, "also locked off: A", LIFTED, OUT, ZERO], [BACK, TIGHT]),
    ("heron", "C"): ([OFF, LIFTED, OUT, ZERO], [BACK, TIGHT]),
    ("heron", "D"): (
        [OFF, "path lifted", "valve leads off the decoder", "surge units off", ZERO],
        ["valve leads back on", "surge units back", TIGHT],
    ),
    ("sandpiper", "P"): (["battery out", LIFTED, OUT, ZERO], [BACK, TIGHT, "battery in"]),
}


@pytest.mark.parametrize(("name", "controller"), INSULATED)
def test_what_is_ticked_before_and_after(name: str, controller: str) -> None:
    card = sheet(name, controller)
    assert (texts(card, "ticks"), texts(card, "last_ticks")) == TICKS[name, controller]


STEPS = {
    "larkspur": ["1. Insulation:", "2. Ohms:", "3. Volts:", "4. mA at C", "5. Walk test:"],
    "heron": ["1. Insulation:", "2. Ohms:", "3. Path:", "4. Address test:", "5. Walk test:"],
    "sandpiper": ["1. Insulation:", "2. Ohms:", "3. Put the battery in.", "4. Walk test:"],
}


@pytest.mark.parametrize("name", STEPS)
def test_the_steps_are_in_the_order_of_the_work(name: str) -> None:
    *_, card = cards(name, CardKind.TEST_SHEET).values()
    steps = texts(card, "rules")
    assert [step[: len(begin)] for step, begin in zip(steps, STEPS[name], strict=False)] == (
        STEPS[name]
    )
    assert [step[:5] for step in steps[len(STEPS[name]) :]] == ["Write", "Expec"]


def test_what_a_clamp_must_not_hold_is_said() -> None:
    said = " ".join(texts(sheet("larkspur", "A"), "rules"))
    assert "around hot and common together it reads zero" in said
    assert "wrap the wire and divide by the turns" in said
    assert "mA at C" not in " ".join(texts(sheet("sandpiper", "P"), "rules"))


def test_a_battery_controller_is_put_out_of_work_by_its_battery() -> None:
    card = sheet("sandpiper", "P")
    said = " ".join((*texts(card, "rules"), *texts(card, "ticks")))
    assert "2. Ohms: battery out" in said
    assert "power off" not in said and "lock" not in said


@pytest.mark.parametrize("name", SAMPLES)
def test_no_sheet_says_where_its_rules_come_from(name: str) -> None:
    said = " ".join(str(c.fields) for c in cards(name, CardKind.TEST_SHEET).values())
    assert "practice" not in said and "source" not in said and "IEC" not in said


# ---- read back from the PDF ----------------------------------------------------------------


@cache
def pdf_of(name: str, *languages: str) -> bytes:
    request = PrintRequest(languages=languages, selection=Selection(only=("test-sheet",)))
    made, problems = make_print(examine_text(sample(name)), request)
    assert made is not None, problems
    return made.files["test-sheet.pdf"]


def flat(text: str) -> str:
    return "".join(text.split())


ORDER = {
    "en": {
        "larkspur": (
            *("temperature", "insulation tester, V", "power off and locked", "1. Insulation"),
            *("INSULATION TO GROUND", "A-K2 white", "front lawn west", "DEVICES", "trip the"),
            *("HOT TO HOT", "sensor back in", "wires back and tight"),
        ),
        "heron": (
            *("pump disconnect locked off", "INSULATION TO GROUND, at 500 V, at least 1 MΩ"),
            *("north gate lawn left", "FLOW-A", "Leak-by: power it", "never by itself"),
            *("V at the far end", "arboretum gate trees", "SURGE UNIT GROUNDS", "DX-4"),
            *("surge units back", "wires back and tight"),
        ),
        "sandpiper": (
            *("battery out", "INSULATION TO GROUND", "return MV-P", "entrance planter"),
            *("DEVICES", "Leak-by: turn everything off", "wires back and tight", "battery in"),
        ),
        "quarry": (
            *("also locked off: B", "INSULATION TO GROUND", "entry lawn N", "Leak-by"),
            *("also locked off: A", "B-K1 white", "walk beds W", "Leak-by"),
        ),
    },
    "es": {
        "larkspur": (
            *("temperatura", "energía cortada y con candado", "1. Aislamiento"),
            *("AISLAMIENTO A TIERRA", "A-K2 blanco", "front lawn west", "EQUIPOS"),
            *("ENTRE DOS CABLES DE ESTACIÓN", "sensor conectado", "cables conectados y apretados"),
        ),
        "heron": (
            *("desconectador de la bomba", "AISLAMIENTO A TIERRA, a 500 V, mínimo 1 MΩ"),
            *("north gate lawn left", "FLOW-A", "Fuga interna: ciérrela", "nunca por sí solo"),
            *("V en el extremo", "arboretum gate trees", "TIERRAS DE LOS SUPRESORES", "DX-4"),
            *("supresores conectados", "cables conectados y apretados"),
        ),
        "sandpiper": (
            *("batería afuera", "AISLAMIENTO A TIERRA", "retorno MV-P", "entrance planter"),
            *("EQUIPOS", "Fuga interna: apague todo", "apretados", "batería puesta"),
        ),
        "quarry": (
            *("también con candado: B", "AISLAMIENTO A TIERRA", "entry lawn N"),
            *("también con candado: A", "B-K1 blanco", "walk beds W"),
        ),
    },
}


@pytest.mark.parametrize("language", ORDER)
@pytest.mark.parametrize("name", SAMPLES)
def test_the_printed_sheet_is_in_the_order_of_the_work(name: str, language: str) -> None:
    for read in (text_by_poppler, text_by_pdfium):
        text = flat(" ".join(read(pdf_of(name, language))))
        at = 0
        for said in ORDER[language][name]:
            found = text.find(flat(said), at)
            assert found >= 0, said
            at = found


def test_a_home_job_takes_one_sheet() -> None:
    assert len(text_by_poppler(pdf_of("larkspur", "en"))) == 1
    assert len(text_by_poppler(pdf_of("sandpiper", "en"))) == 1


def test_every_step_is_said_in_each_language_by_itself() -> None:
    """On a sheet in two languages no sentence begins in one and ends in the other."""
    words, problems = load_words(("en", "es"))
    assert words is not None, problems
    printable = as_printable(examine_text(sample("heron")), words)
    assert printable is not None
    for card in cards_of(printable, (CardKind.TEST_SHEET,))[CardKind.TEST_SHEET]:
        for rule in texts(card, "rules")[:-2]:
            english, spanish = rule.split("\u00a0/ ")
            assert english[:3] == spanish[:3]  # both have the number of the step
