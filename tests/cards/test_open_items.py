"""What the packet lists as open, and as to be known, against jobs with gaps counted by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from cardgen.cards.card import CardKind, Table
from cardgen.cards.open_items import MOST, good_to_know, open_items
from cardgen.faults import ALL
from cardgen.problems import Verdict
from cardgen.words import english, load_words
from tests.cards.printables import cards, printable
from tests.jobs import SAMPLES, edit, sample

# One cable, three boxes.  VB-1 has two distances, VB-2 one, VB-3 coordinates.  Only the joints of
# VB-1 are written.  The connector takes two conductors; in VB-2 three come together (the common on
# both sides and a lead).  Nothing says which coil A3 has, so its leads have no gauge.
GAPS = """\
job: {code: GAP-01, site: Gap Yard, revision: 1, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
coils:
  usual: {supply: 24 V AC, resistance: 30 ohm}
controllers:
  A: {place: hut, supply: 24 V AC, stations: 8, terminals: [C, 1 to 8], common: K1 white}
cables:
  K1:
    {gauge: 18 AWG, colors: [white, red, blue, green],
     run: [A, 85 ft, VB-1, 60 ft, VB-2, 60 ft, VB-3]}
boxes:
  VB-1: {place: walk, ties: [6 ft from the wall, 9 ft from the post]}
  VB-2: {place: bed, ties: [6 ft from the wall]}
  VB-3: {place: lawn, coordinates: "40.12345, -105.12345"}
stations:
  A1: {area: walk, box: VB-1, hot: K1 red, coil: usual}
  A2: {area: bed, box: VB-2, hot: K1 blue, coil: usual}
  A3: {area: lawn, box: VB-3, hot: K1 green}
joints:
  VB-1:
    - [K1 white in, K1 white out, A1]
    - [K1 red in, A1]
"""
# What the English catalogue calls them.
NO_SPARE = "No spare conductor: the first broken wire needs a new cable"
NOT_MEASURED = "Not measured: ohms at the controller, volts, current and insulation"


def listed(text: str) -> dict[str, str]:
    return {what.printed: where.printed for what, where in open_items(printable(text))}


def test_every_gap_is_listed_with_where_it_is() -> None:
    """No connector is in the job, so none is known in VB-1 and VB-2; VB-3's leads come first."""
    assert listed(GAPS) == {
        NO_SPARE: "K1",
        "The coil is not known, so the expected ohms are missing": "A3",
        "Two distances to fixed points are missing": "VB-2",
        "Splices not verified: nobody has written down how they were made": "VB-2 and VB-3",
        "The gauge of the factory leads is not known": "VB-3",
        "The connector type is not known": "VB-1 and VB-2",
        NOT_MEASURED: "A1 to A3",
    }


def test_a_gap_that_is_closed_is_not_listed() -> None:
    text = edit(GAPS, "green],", "green, tan],")
    text = edit(text, "ties: [6 ft from the wall]}", "ties: [6 ft from the wall, 3 ft from it]}")
    text = edit(text, "hot: K1 green}", "hot: K1 green, coil: usual}")
    text = edit(
        text, "controllers:\n", "connectors:\n  small: {takes: [2-5 x 18 AWG]}\ncontrollers:\n"
    )
    assert listed(text) == {
        "Splices not verified: nobody has written down how they were made": "VB-2 and VB-3",
        NOT_MEASURED: "A1 to A3",
        "Loops of the spares: measure them, see the spare list": "SP-K1-5",
    }


def test_what_is_measured_is_not_open() -> None:
    """All of A1, only the ohms of A2."""
    everything = {"ohms at the controller": "31", "volts": "24", "milliamperes": "230"}
    measured = {
        "A1": {**everything, "insulation": "OL", "when": "2026-04-01"},
        "A2": {"ohms at the controller": "32", "when": "2026-04-01"},
    }
    job = replace(printable(GAPS), measured=measured)
    found = {what.printed: where.printed for what, where in open_items(job)}
    assert found["Not measured: volts, current and insulation"] == "A2"
    assert found[NOT_MEASURED] == "A3"


def test_a_device_has_no_ohms_and_a_decoder_those_of_the_coil() -> None:
    text = edit(GAPS, "hot: K1 blue, coil: usual}", "hot: K1 blue, coil: usual, device: pulse box}")
    assert listed(text)["Not measured: volts, current and insulation"] == "A2"
    heron = listed(sample("heron"))
    assert heron["Not measured: ohms at the coil and insulation"] == "D1 to D8"
    assert heron["The serial number is missing"] == "DC-201 to DC-208"
    assert heron["Grounds of the surge units: measure them, see the test sheet"] == (
        "DX-2, DX-4 and DX-8"
    )


def test_what_must_be_known_is_apart_from_what_is_open() -> None:
    """By hand from quarry's remarks: red singles in A-S1, VB-3 and VB-5 shared, MV-1 for both."""
    known = {
        what.printed: where.printed for what, where in good_to_know(printable(sample("quarry")))
    }
    assert known == {
        "Several hots have the same color. Never take their flags off.": "A-S1",
        "Several controllers feed this box: lock off all of them and keep their commons apart": (
            "VB-3 and VB-5"
        ),
        "Several controllers run this valve through isolating relays: lock off all of them": "MV-1",
    }


def test_what_must_be_known_has_a_table_only_where_there_is_something() -> None:
    """Quarry has the three above; larkspur is one controller, and no two hots look alike."""
    name = "changes and open items"
    known = cards("quarry", CardKind.CLOSING)[name].fields["known"]
    assert isinstance(known, Table)
    assert len(known.rows) == 3
    assert "known" not in cards("larkspur", CardKind.CLOSING)[name].fields


def test_the_card_has_the_open_items_or_says_that_there_are_none() -> None:
    fields = cards("heron", CardKind.CLOSING)["changes and open items"].fields
    table = fields["open"]
    assert isinstance(table, Table) and "nothing_open" not in fields
    said = {what: where for what, where, _ in table.rows}
    assert said["The serial number is missing"] == "DC-201 to DC-208"


def test_a_long_list_says_how_many_more_there_are() -> None:
    """Boxes with names that do not count on: each takes a place in the row."""
    names = [f"VB-{chr(65 + n // 26)}{chr(65 + n % 26)}" for n in range(40)]
    more = "".join(f"  {name}: {{place: by post {name}, kind: pull box}}\n" for name in names)
    where = listed(edit(GAPS, "boxes:\n", f"boxes:\n{more}"))
    where_missing = where["Two distances to fixed points are missing"]
    assert where_missing.startswith("VB-AA, VB-AB")
    assert where_missing.count("VB-") == MOST
    assert where_missing.endswith(f"and {41 - MOST} more")


# ---- the words -----------------------------------------------------------------------------

# What is wrong with the file or with a print, and does not change what lies in the ground.
OF_THE_FILE = {
    "units-mixed",
    "byte-order-mark",
    "names-look-alike",
    "change-ahead",
    "remark-in-text",
    "known",
    "tolerance-unused",
    "sheet-outdated",
}
ON_PAPER = {"text", "bytes", "command", "stock", "face", "words", "allot", "print", "results"}
TOLD = {code for code, fault in ALL.items() if fault.thing}


def test_every_warning_about_the_job_is_an_open_item() -> None:
    warnings = {code for code, fault in ALL.items() if fault.verdict is Verdict.WARNING}
    of_jobs = {code for code in warnings if ALL[code].base not in ON_PAPER}
    assert of_jobs - TOLD == OF_THE_FILE - {"byte-order-mark"}
    assert not any(ALL[code].verdict is Verdict.ERROR for code in TOLD)


@pytest.mark.parametrize("language", ["en", "es"])
def test_every_item_has_words_of_its_own(language: str) -> None:
    words, _ = load_words((language,))
    assert words is not None
    said = {code: words(f"open item.{code}").printed for code in TOLD}
    assert len(set(said.values())) == len(said)


@pytest.mark.parametrize("name", SAMPLES)
def test_both_languages_list_the_same_things(name: str) -> None:
    job = printable(sample(name))
    spanish, _ = load_words(("es",))
    assert spanish is not None
    both = [
        [len([*rows(replace(job, words=words))]) for rows in (open_items, good_to_know)]
        for words in (english(), spanish)
    ]
    assert both[0] == both[1]
