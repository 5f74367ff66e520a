"""Every card carries the cautions that its situation asks for, and none that does not apply.

Read from what is printed (PDF text by PDFium, pages by html5lib), in both languages; the words
stand here once more, so that a text that goes missing in a catalogue is missed.  What is asked for:
common practice, no source.
"""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from cardgen.cards import CardKind
from cardgen.cards.card import Table
from cardgen.cards.cautions import IF_SEVERAL, SPLICE_CARD, Caution, Situation, cautions_for
from cardgen.examine import examine_text
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import make_print
from cardgen.output.recording import RecordRequest
from cardgen.output.selection import KINDS, Selection
from cardgen.record import names
from cardgen.words import load_words
from tests.cards.printables import cards
from tests.outside.pages import text_by_pdfium
from tests.record.records import made as made_record
from tests.record.records import words

HEAD = """
job: {code: CARE-1, site: Mill Green, revision: 1, date: 2026-03-14WATER}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
coils:
  usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A}
  relay: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.60 A, holding: 0.35 A}
  latching: {supply: DC latching, resistance: 5 ohm}
"""
A = "  A: {place: wall, supply: 24 V AC, stations: 8, coil: usual, common: K1 white}\n"
B = "  B: {place: shed, supply: 24 V AC, stations: 8, coil: usual, common: K2 gray}\n"
K1 = """\
  K1:
    gauge: 14 AWG
    colors: [white, red, blue, green, yellow, black, orange, brown]
    run: [A, 85 ft, VB-1, 60 ft, VB-2]
"""
K2 = "  K2: {gauge: 14 AWG, colors: [gray, violet, pink, tan], run: [B, 90 ft, VB-1]}\n"
STATIONS = """\
stations:
  A1: {area: lawn, box: VB-1, hot: K1 red}
  A2: {area: beds, box: VB-1, hot: K1 blue}
  A3: {area: hedge, box: VB-1, hot: K1 green}
"""
ONE = f"{HEAD}controllers:\n{A}cables:\n{K1}boxes: {{VB-1: {{}}, VB-2: {{}}}}\n{STATIONS}"
TWO = (
    f"{HEAD}controllers:\n{A}{B}cables:\n{K1}{K2}boxes: {{VB-1: {{}}, VB-2: {{}}}}\n{STATIONS}"
    "  B1: {area: court, box: VB-1, hot: K2 violet}\n"
)
MASTER = (
    "master valves:\n  MV-1: {{controllers: {}, box: VB-2, hot: K1 yellow, return: K1 black{}}}\n"
)
BATTERY = f"""{HEAD}
controllers:
  P:
    place: inside VB-1
    supply: 9 V DC latching
    stations: 4
    box: VB-1
    coil: latching
    common: K1 white
    polarity: {{hot: red, common: black}}
cables:
  K1: {{gauge: 14 AWG, colors: [white, red, blue, green, tan], run: [P, 2 ft, VB-1, 9 ft, VB-2]}}
boxes: {{VB-1: {{}}, VB-2: {{}}}}
stations:
  P1: {{area: lawn, box: VB-1, hot: K1 red}}
  P2: {{area: beds, box: VB-1, hot: K1 blue}}
  P3: {{area: hedge, box: VB-1, hot: K1 green}}
"""
TWO_WIRE = f"""{HEAD}
controllers:
  D: {{place: gate, supply: two-wire, stations: 8, coil: usual, path 1: M1 red, path 2: M1 black}}
cables:
  M1: {{gauge: 14 AWG, colors: [red, black], run: [D, 410 ft, VB-1, 380 ft, VB-2]}}
boxes: {{VB-1: {{}}, VB-2: {{}}}}
stations:
  D1: {{area: trees, box: VB-1, decoder: DC-1}}
  D2: {{area: oaks, box: VB-2, decoder: DC-2}}
decoders:
  DC-1: {{address: 1, box: VB-1, leads: 18 AWG}}
  DC-2: {{address: 2, box: VB-2, leads: 18 AWG}}
"""
JOBS = {
    "one": ONE.replace("WATER", ""),
    "two": TWO.replace("WATER", ""),
    "shared": TWO.replace("WATER", "") + MASTER.format("[A, B], isolators: [A, B]", ""),
    "relay": ONE.replace("WATER", "")
    + "relays:\n"
    + "  PUMP-1: {controller: A, box: VB-2, hot: K1 yellow, return: K1 black, coil: relay}\n",
    "battery": BATTERY.replace("WATER", ""),
    "reclaimed": ONE.replace("WATER", ", water: reclaimed"),
    "ring": ONE.replace("WATER", "").replace("common: K1 white", "common: [K1 white, K3 gray]")
    .replace("boxes:", "  K3: {gauge: 14 AWG, colors: [gray, tan], run: [A, 90 ft, VB-2]}\nboxes:")
    + "joints:\n  VB-2:\n    - [K1 white, K3 gray]\n",
    "two-wire": TWO_WIRE.replace("WATER", ""),
    "open": ONE.replace("WATER", "")
    + MASTER.format("A", ", normally open: yes, live only to close: yes"),
}  # fmt: skip
CONTROLLER = {"battery": "P", "two-wire": "D"}
BOX = {"relay": "VB-2", "shared": "VB-2", "open": "VB-2", "ring": "VB-2"}

# In English and in Spanish what stands on paper.
TEXTS = {
    "lock off A": ("Lock off A.", "Corte la energía de A y ponga candado."),
    "lock off A and B": ("Lock off A and B.", "Corte la energía de A y B y ponga candado."),
    "lock off D": ("Lock off D.", "Corte la energía de D y ponga candado."),
    "small tag A and B": (
        "Lock off A + B and prove dead",
        "Bloquee A + B y mida cero V",
    ),
    "tag A and B": ("Lock off A and B.", "Ponga candado en A y B."),
    "tag prove dead": (
        "Prove dead with the meter before you touch.",
        "Antes de tocar compruebe que no hay voltaje.",
    ),
    "prove dead": (
        "Prove dead with the meter before you touch.",
        "Compruebe con el multímetro que no hay voltaje antes de tocar.",
    ),
    "fed backward": (
        "A stopped controller can be fed backward through its transformer.",
        "Un controlador apagado puede quedar energizado al revés, a través de su transformador.",
    ),
    "power": ("Switch off and lock the controller's power", "Corte la energía del controlador"),
    "line": ("Line-voltage work: licensed electrician only.", "El lado de voltaje de línea"),
    "pump": (
        "PUMP-1: lock off the pump disconnect too.",
        "PUMP-1: corte también el desconectador de la bomba y ponga candado.",
    ),
    "pump alone": (
        (
            "Never energize PUMP-1 by itself: the pump would run against closed valves. "
            "Test it with a station open."
        ),
        (
            "Nunca energice PUMP-1 por sí solo: la bomba trabajaría contra válvulas cerradas. "
            "Pruébelo con una estación abierta."
        ),
    ),
    "battery": ("Take the battery out of P", "Saque la batería de P"),
    "battery tick": ("battery out", "batería afuera"),
    "reclaimed": ("RECLAIMED WATER – DO NOT DRINK", "AGUA RECICLADA – NO TOMAR"),
    "ring": (
        "The wiring of A is a ring here: with one side cut it is still fed from the other.",
        "El cableado de A hace aquí un anillo: si corta un lado, todavía recibe energía",
    ),
    "path": (
        "The two-wire path of D is live even while no station runs.",
        "El cable de dos hilos de D está energizado aunque ninguna estación esté encendida.",
    ),
    "open": (
        "MV-1 opens when its power is off: the main line then has pressure.",
        "MV-1 abre cuando se le corta la energía: la línea principal queda con presión.",
    ),
    "power closes": ("NORMALLY OPEN: POWER CLOSES", "NORMALMENTE ABIERTA: CIERRA CON ENERGÍA"),
    # What is found nowhere near a battery controller.
    "any lock": ("lock", "candado"),
    "any line voltage": ("ine-voltage", "voltaje de línea"),
    "any milliamperes": (" mA", " mA"),
    "prove": ("Prove dead", "Compruebe con el multímetro"),
    "any pump": ("pump disconnect", "desconectador"),
    "any battery": ("battery", "batería"),
}
HEADS = ("valve-tags", "box-tags", "door-legend", "test-sheet", "splice-cards", "packet")
NO_PUMP = ("any pump", "any battery")
# By situation and document what it must say, and what it must not.
ASKED: dict[str, dict[str, tuple[tuple[str, ...], tuple[str, ...]]]] = {
    "one": {
        "valve-tags": ((), ("any lock", "prove", *NO_PUMP)),
        "box-tags": ((), ("any lock", "prove", *NO_PUMP)),
        "door-legend": (("power", "line"), ("lock off A", "prove", *NO_PUMP)),
        "splice-cards": (("lock off A", "prove dead"), ("fed backward", "ring", *NO_PUMP)),
        "test-sheet": ((), ("lock off A", "prove", *NO_PUMP)),
        "spare-list": (("lock off A", "prove dead"), NO_PUMP),
        "packet": (("power", "line"), NO_PUMP),
        "page of box": (("lock off A", "prove dead", "line"), ("fed backward", *NO_PUMP)),
        "page of controller": (("power", "lock off A", "line"), ("fed backward", *NO_PUMP)),
        "page of station": (("lock off A", "prove dead", "line"), ("fed backward", *NO_PUMP)),
    },
    "two": {
        "valve-tags": ((), ("any lock",)),  # each valve is live from its own controller alone
        "box-tags": (("small tag A and B",), ()),
        "splice-cards": (("lock off A and B", "prove dead", "fed backward"), ()),
        "page of box": (("lock off A and B", "prove dead", "fed backward"), ()),
        "page of station": (("lock off A",), ("lock off A and B",)),
        "page of controller": (("lock off A",), ("lock off A and B",)),
    },
    "shared": {
        "valve-tags": (("small tag A and B",), ()),
        "door-legend": (("power", "lock off A and B", "prove dead"), ()),
        "test-sheet": (("lock off A and B", "prove dead"), ()),
        "splice-cards": (("lock off A and B", "prove dead", "fed backward"), ()),
        "page of box": (("lock off A and B", "prove dead", "fed backward"), ()),
        "page of controller": (("lock off A and B", "prove dead", "fed backward"), ()),
    },
    "relay": {
        "door-legend": (("pump", "power", "line"), ("any battery",)),
        "test-sheet": (("pump", "pump alone"), ("any battery",)),
        "splice-cards": (("pump", "lock off A", "prove dead"), ("any battery",)),
        "packet": (("pump", "pump alone"), ()),
        "page of box": (("pump", "pump alone", "lock off A", "prove dead", "line"), ()),
        "page of controller": (("pump", "pump alone", "power"), ()),
    },
    "battery": {
        "valve-tags": ((), ("any lock", "any line voltage", "any milliamperes")),
        "box-tags": ((), ("any lock", "any line voltage", "any milliamperes")),
        "door-legend": (("battery",), ("any lock", "any line voltage", "prove")),
        "splice-cards": (("battery",), ("any lock", "any line voltage", "prove")),
        "test-sheet": (("battery tick",), ("any lock", "any line voltage", "prove")),
        "spare-list": (("battery",), ("any lock", "any line voltage", "prove")),
        "packet": (("battery",), ("any lock", "any line voltage")),
        "page of box": (("battery",), ("any lock", "any line voltage", "any milliamperes")),
        "page of controller": (("battery",), ("any lock", "any line voltage")),
    },
    "reclaimed": {
        **dict.fromkeys(HEADS, (("reclaimed",), ())),
        **{f"page of {name}": (("reclaimed",), ()) for name in ("box", "controller", "station")},
    },
    "ring": {
        "splice-cards": (("lock off A", "ring"), ()),
        "page of box": (("lock off A", "ring"), ()),
    },
    "two-wire": {
        "door-legend": (("path", "power", "line"), NO_PUMP),
        "splice-cards": (("lock off D", "prove dead", "path"), NO_PUMP),
        "test-sheet": (("path",), NO_PUMP),
        "page of box": (("lock off D", "path"), NO_PUMP),
        "page of controller": (("path", "power"), NO_PUMP),
    },
    "open": {
        "valve-tags": (("power closes",), ()),
        "door-legend": (("open", "power"), ()),
        "splice-cards": (("open", "lock off A"), ()),
        "test-sheet": (("open",), ()),
        "page of box": (("open",), ()),
        "page of controller": (("open",), ()),
    },
}
# What only reclaimed water, a ring, a two-wire path or a valve open without power asks for.
OWN = {"reclaimed": "reclaimed", "ring": "ring", "two-wire": "path", "open": "open"}
CASES = [
    (situation, document, language)
    for situation, documents in ASKED.items()
    for document in documents
    for language in ("en", "es")
]


@cache
def printed(situation: str, language: str) -> dict[str, str]:
    """By document its text in one line."""
    found, name = examine_text(JOBS[situation]), CONTROLLER.get(situation, "A")
    wanted = tuple(document for document in ASKED[situation] if document in KINDS)
    request = PrintRequest(languages=(language,), selection=Selection(only=wanted))
    files, problems = make_print(found, request)
    assert files is not None, problems
    said = {
        file.removesuffix(".pdf").removesuffix(f"-{name}"): in_line(*text_by_pdfium(data))
        for file, data in files.files.items()
        if file.endswith(".pdf")
    }
    record = made_record(JOBS[situation], Path("nowhere"), RecordRequest(languages=(language,)))
    folders = {
        "box": names.box_folder(BOX.get(situation, "VB-1")),
        "controller": names.box_folder(name),
        "station": names.station_folder(f"{name}1"),
    }
    for page, folder in folders.items():
        said[f"page of {page}"] = in_line(words(record.files[names.page(folder)]))
    return said


def in_line(*texts: str) -> str:
    return re.sub(r"[\s\u00a0]+", " ", " ".join(texts)).strip()


@pytest.mark.parametrize(("situation", "document", "language"), CASES)
def test_each_document_says_what_its_situation_asks_for(
    situation: str, document: str, language: str
) -> None:
    which = ("en", "es").index(language)
    said = printed(situation, language)[document]
    must, must_not = ASKED[situation][document]
    assert [name for name in must if TEXTS[name][which] not in said] == [], said
    assert [name for name in must_not if TEXTS[name][which] in said] == [], said
    others = [text for name, text in OWN.items() if name != situation]
    assert [name for name in others if TEXTS[name][which] in said] == [], said


# ---- what an order of cautions makes of a situation -------------------------------------------


def test_only_what_is_asked_for_and_the_first_thing_first() -> None:
    both = Situation(powered=("A", "B"), relays=("PUMP-1",))
    assert [each.name for each in cautions_for(SPLICE_CARD, both)] == (
        ["pump", "lock off", "prove dead", "fed backward"]
    )
    order = (f"lock off{IF_SEVERAL}", "battery")
    assert list(cautions_for(order, Situation(powered=("A",)))) == []
    assert list(cautions_for(order, Situation(powered=("A",), batteries=("P",)))) == (
        [Caution("lock off", ("A",)), Caution("battery", ("P",))]
    )


# ---- a relay is not measured in its box --------------------------------------------------------


def test_volts_are_asked_for_nowhere_in_an_enclosure_with_line_voltage() -> None:
    """Heron's relay is alone in PR-1: 24 V, 350 mA."""
    fields = cards("heron", CardKind.VALVE_TAG)["PUMP-A"].fields
    told = [fields[name] for name in ("controller_readings", "coil_readings")]
    units = [row[0] for table in told if isinstance(table, Table) for row in table.rows]
    assert units == ["Ω", "mA", "Ω"]
    text = printed("relay", "en")["test-sheet"]
    assert "PUMP-1 pump start relay VB-2" in text
    assert "Test it only with a station open, never by itself" in text
    # Volts and milliamperes are struck out: nobody runs it by itself.
    assert re.search(r"PUMP-1 pump start relay VB-2 \S+ \(\S+\) – – – ", text), text


# ---- what papers for a buyer do not say --------------------------------------------------------

PROVENANCE = re.compile(
    r"common practice|no source|from memory|pr[aá]ctica com[uú]n|sin fuente|\bWSU\b|32 80 00"
    r"|\b(?:NEC|ANSI|IEC|ISO|UL|ASTM|NUREG|NOM)[ -]?\d",
    re.IGNORECASE,
)
CERTIFIED = re.compile(
    r"\b(certif\w+|complian\w+|complies|approved|homologad\w*|aprobad\w*|cumple\w*)\b",
    re.IGNORECASE,
)


@pytest.mark.parametrize("language", ["en", "es"])
def test_no_text_names_a_source_or_sounds_like_a_certificate(language: str) -> None:
    found, problems = load_words((language,))
    assert found is not None, problems
    texts = found.catalogues[0].texts
    assert {key: said for key, said in texts.items() if PROVENANCE.search(said)} == {}
    assert {key: said for key, said in texts.items() if CERTIFIED.search(said)} == {}


def test_the_search_for_sources_finds_them() -> None:
    for said in (
        "(common practice)",
        "práctica común, sin fuente",
        "WSU",
        "NEC 300.5",
        "IEC 60757",
    ):
        assert PROVENANCE.search(said), said
    assert CERTIFIED.search("conector aprobado")


# ---- how a joint is made -----------------------------------------------------------------------

STEPS = {
    "en": (
        *(
            "Cut away from your hands and from the other conductors.",
            "as the connector's own label",
        ),
        *("full of sealant", "Cap each spare separately in the same way."),
        "Put the flags on before the lid.",
    ),
    "es": (
        "Corte alejando la navaja del cuerpo, de las manos y de los otros conductores.",
        *("como dice la etiqueta del conector", "lleno de sellador"),
        *("Ponga capuchón igual a cada reserva", "Ponga los marcadores antes de la tapa."),
    ),
}


@pytest.mark.parametrize("language", STEPS)
def test_the_steps_of_a_splice(language: str) -> None:
    said = printed("one", language)["splice-cards"]
    assert [step for step in STEPS[language] if step not in said] == [], said
