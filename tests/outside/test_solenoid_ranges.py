"""What coils are, against what the job reader takes and what the program does with it.

Most of these figures are common practice without a source, as each row says.  They prove no
number; they hold that a foreman may write every one of them and that a slip of the pen is told.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from cardgen.cards import CardKind
from cardgen.electrics.resistance import resistance_between
from cardgen.facts import Facts
from cardgen.job import quantities
from cardgen.reading.shapes import BadValue, Parsed
from cardgen.results import OL, verdict
from tests.cards.printables import cards
from tests.jobs import SAMPLES, edit, examined, sample
from tests.outside import tables
from tests.outside.test_worked_examples import job, reading_of
from tests.results.valves import read, valve


def taken(shape: Parsed[Any], row: tables.Row, words: str, absurd: str) -> None:
    """Both ends of the row can be written, and what no coil has is refused."""
    for amount in (row["least"], row["most"]):
        shape.parse(words.format(amount))
    with pytest.raises(BadValue):
        shape.parse(absurd)


def facts_of(text: str) -> Facts:
    facts = examined(text).facts
    assert facts is not None
    return facts


def coils(supply: str) -> list[Any]:
    return [
        coil
        for name in SAMPLES
        for coil in facts_of(sample(name)).job.coils.values()
        if str(coil.supply.value) == supply and coil.id != "relay"
    ]


def within(row: tables.Row, value: float) -> bool:
    return float(row["least"]) <= value <= float(row["most"])


def inrush(row: tables.Row) -> None:
    taken(quantities.AMPERES, row, "{} A", "40 A")
    assert all(within(row, coil.inrush) for coil in coils("24 V AC"))


def holding(row: tables.Row) -> None:
    taken(quantities.AMPERES, row, "{} A", "0.001 A")
    assert all(within(row, coil.holding) for coil in coils("24 V AC"))


def inrush_va(row: tables.Row) -> None:
    assert all(within(row, 24 * coil.inrush) for coil in coils("24 V AC"))


def holding_va(row: tables.Row) -> None:
    assert all(within(row, 24 * coil.holding) for coil in coils("24 V AC"))


def resistance(row: tables.Row) -> None:
    taken(quantities.OHMS, row, "{} ohm", "0.1 ohm")
    for ohms in (row["least"], row["most"]):
        assert "coil-impossible" not in codes(job(ohms=ohms, inrush=0.37))
    if row["least"] != row["most"]:
        assert all(20 <= coil.resistance <= 60 for coil in coils("24 V AC"))


def minimum(row: tables.Row) -> None:
    taken(quantities.VOLTS, row, "{} V", "120 V")
    assert all(19 <= coil.minimum <= 21 for coil in coils("24 V AC"))


def supply(row: tables.Row) -> None:
    taken(quantities.SUPPLY, row, "{} V AC", "120 V AC")
    for volts in (row["least"], row["most"]):
        assert reading_of(job(supply=volts)).volts


def drop(row: tables.Row) -> None:
    assert {24 - coil.minimum for coil in coils("24 V AC")} == {float(row["most"])}


def impedance(row: tables.Row) -> None:
    """A coil of 30 ohm that holds with 0.25 A has 96 ohm at alternating current: no fault."""
    assert float(row["most"]) == 24 / 0.25
    assert "coil-impossible" not in codes(job(ohms=30, holding=0.25))


def direct_current(row: tables.Row) -> None:
    """No reading takes the current from the ohms."""
    assert pytest.approx(float(row["most"]), abs=5e-4) == 24 / 24.1
    running = facts_of(job(ohms=24.1, holding=0.25)).running["A1"]
    assert running.milliamperes == pytest.approx(250)


def latching_resistance(row: tables.Row) -> None:
    taken(quantities.OHMS, row, "{} ohm", "0.01 ohm")
    assert all(within(row, coil.resistance) for coil in coils("DC latching"))


def latching_supply(row: tables.Row) -> None:
    taken(quantities.SUPPLY, row, "{} V DC latching", "90 V DC latching")


def wire_limit(row: tables.Row) -> None:
    """The limit is what the job says, never computed: a leg beyond it is told."""
    taken(quantities.LENGTH, row, "{} m", "0 m")
    text = edit(sample("sandpiper"), "wire limit: 100 ft", f"wire limit: {row['least']} m")
    assert "run-too-long" not in codes(text)
    assert "run-too-long" in codes(text.replace("43 ft", "230 m"))


def polarity(_: tables.Row) -> None:
    text = sample("sandpiper")
    assert "polarity-missing" in codes(edit(text, "    polarity: {hot: red, common: black}\n", ""))


def relay_inrush(row: tables.Row) -> None:
    taken(quantities.AMPERES, row, "{} A", "25 A")
    relays = [c for n in SAMPLES for c in facts_of(sample(n)).job.coils.values() if c.id == "relay"]
    assert relays and all(c.holding and within(row, c.holding) for c in relays)


def transformer(row: tables.Row) -> None:
    taken(quantities.VOLT_AMPERES, row, "{} VA", "0 VA")


def open_reads_ol(row: tables.Row) -> None:
    assert verdict(read(OL), valve(400)).name == "open"
    # What a meter still shows is no open wire: a wet splice, or half a one.
    assert verdict(read(float(row["least"]) * 2), valve(400)).name == "wet"


def short(row: tables.Row) -> None:
    assert verdict(read(float(row["most"]) / 2), valve(1)).name in ("short", "low")


def parallel(row: tables.Row) -> None:
    count = int(row["used_by"].rpartition(" ")[2])
    coils = [("hot", "common", 30.0)] * count
    assert resistance_between(coils, "hot", "common") == pytest.approx(float(row["most"]))


def series(row: tables.Row) -> None:
    coils = [("hot", "middle", 30.0), ("middle", "common", 30.0)]
    assert resistance_between(coils, "hot", "common") == pytest.approx(float(row["most"]))


def high(row: tables.Row) -> None:
    assert verdict(read(float(row["least"]) + 40), valve(0)).name == "high"


def set_up(_: tables.Row) -> None:
    """The test sheet of every job that is not two-wire asks for it."""
    sheet = cards("larkspur", CardKind.TEST_SHEET)["A"].fields
    said = " ".join(str(value) for value in sheet.values())
    assert "wires lifted" in said and "lifted common" in said


CHECKS: dict[str, Callable[[tables.Row], None]] = {
    "inrush": inrush,
    "inrush VA": inrush_va,
    "holding": holding,
    "holding VA": holding_va,
    "resistance": resistance,
    "minimum": minimum,
    "supply": supply,
    "drop": drop,
    "impedance": impedance,
    "direct current": direct_current,
    "latching resistance": latching_resistance,
    "latching supply": latching_supply,
    "wire limit": wire_limit,
    "polarity": polarity,
    "relay inrush": relay_inrush,
    "transformer": transformer,
    "open reads OL": open_reads_ol,
    "short": short,
    "parallel 2": parallel,
    "parallel 3": parallel,
    "series 2": series,
    "high": high,
    "test sheet": set_up,
}


def codes(text: str) -> set[str]:
    return {p.code for p in examined(text).problems}


@pytest.mark.parametrize("row", tables.used("solenoid_ranges"), ids=lambda row: row["item"])
def test_each_row(row: tables.Row) -> None:
    CHECKS[row["used_by"]](row)
