"""Ohms of copper against published tables: wire table, National Electrical Code, IEC 60228."""

from __future__ import annotations

import math

import pytest

from cardgen.trade.copper import Construction, awg_area_mm2, resistance
from cardgen.units import METERS_PER_FOOT, Celsius, Gauge, GaugeSystem
from tests.for_each import for_each
from tests.outside import tables

AWG = (18, 16, 14, 12, 10)
FOUR_FIGURES = 3e-4  # half a unit in the last of the wire table's four figures
# The Code prints three figures and does not say how it rounds its conductivity.
CODE_SOLID = 5e-3
# Its stranded values are for a lay that the standard leaves to the maker.
CODE_STRANDED = 1e-2


def awg(number: float) -> Gauge:
    return Gauge(number, GaugeSystem.AWG)


def mm2(area: float) -> Gauge:
    return Gauge(area, GaugeSystem.MM2)


def ohms_per_kft(number: float, celsius: float, construction: Construction) -> float:
    return resistance(awg(number), Celsius(celsius), construction) * METERS_PER_FOOT


@pytest.mark.parametrize("number", AWG)
def test_awg_at_20_c_against_the_wire_table(number: int) -> None:
    # S01: wire gauge table of a university, solid copper at 20 C.
    printed = tables.number(
        "awg_resistance",
        "value",
        awg=str(number),
        construction="solid",
        quantity="resistance",
        unit="ohm/kft",
        basis="wire table",
    )
    assert ohms_per_kft(number, 20, Construction.SOLID) == pytest.approx(printed, rel=FOUR_FIGURES)


@pytest.mark.parametrize("number", AWG)
def test_awg_area_against_its_defining_rule(number: int) -> None:
    # S08: 0000 is 0.460 in, 36 is 0.005 in, a ratio of 92 over 39 steps.
    area = tables.number(
        "awg_resistance", "value", awg=str(number), quantity="area", basis="pi/4 d^2"
    )
    assert awg_area_mm2(number) == pytest.approx(area, rel=1e-5)  # printed to five figures


@pytest.mark.parametrize("number", AWG)
@pytest.mark.parametrize(
    ("construction", "in_table", "tolerance"),
    [
        (Construction.SOLID, "solid", CODE_SOLID),
        (Construction.STRANDED, "7-strand", CODE_STRANDED),
    ],
)
def test_awg_at_75_c_against_the_code(
    number: int, construction: Construction, in_table: str, tolerance: float
) -> None:
    # S02: NEC chapter 9 table 8, uncoated copper, direct current at 75 C.
    printed = tables.number(
        "awg_resistance",
        "value",
        awg=str(number),
        construction=in_table,
        quantity="resistance uncoated",
        basis="NEC Chapter 9 Table 8",
    )
    assert ohms_per_kft(number, 75, construction) == pytest.approx(printed, rel=tolerance)


@pytest.mark.parametrize("number", AWG)
def test_a_cold_reading_is_a_fifth_below_the_75_c_table(number: int) -> None:
    """The trap that makes honest meters look wrong: never one table for both."""
    cold = resistance(awg(number))
    assert cold / resistance(awg(number), Celsius(75)) == pytest.approx(0.822, abs=5e-4)


@pytest.mark.parametrize(
    "row",
    tables.rows("iec60228", conductor="plain annealed copper", unit="ohm/km"),
    ids=lambda row: f"{row['area_mm2']} class {row['class']}",
)
def test_mm2_at_20_c_against_the_standard(row: tables.Row) -> None:
    # S03, S04: IEC 60228 tables 1 to 3.
    ours = resistance(mm2(float(row["area_mm2"])))
    if row["class"] in ("1", "2"):
        assert ours == float(row["value"])
    else:  # fine strands of class 5 may have more, never less
        assert ours < float(row["value"])


@pytest.mark.parametrize(
    "row", tables.rows("iec60228", **{"class": "ideal"}), ids=lambda row: row["area_mm2"]
)
def test_mm2_is_above_the_ideal_conductor_of_that_area(row: tables.Row) -> None:
    # S07: 100 % IACS copper, 1/58 ohm mm2/m, of exactly the nominal area.
    ours = resistance(mm2(float(row["area_mm2"])))
    assert 1.0 < ours / float(row["value"]) < 1.08


@pytest.mark.parametrize("row", tables.rows("iec60228_kt"), ids=lambda row: row["temperature_c"])
def test_mm2_warms_as_the_standard_says(row: tables.Row) -> None:
    # S05: IEC 60228 annex, R(20) = R(t) x kt, printed to a thousandth.
    warm = resistance(mm2(1.5), Celsius(float(row["temperature_c"])))
    assert resistance(mm2(1.5)) / warm == pytest.approx(float(row["kt_table"]), abs=6e-4)


# ---- every row ---------------------------------------------------------------------------------

# By basis, how far off the program may be; each for the figures that the row prints.
TOLERANCES = {
    "wire table": FOUR_FIGURES,
    "NEC Chapter 9 Table 8": CODE_STRANDED,
    "NEC Chapter 9 Table 8 printed metric column": CODE_STRANDED,
    "NEC ohm/kft x 3.28084": CODE_STRANDED,
    "solid x 1.02 lay allowance (ASTM B8 class B practice)": 5e-5,
}
EXACT = 3e-5  # of what is computed to six figures, with resistivity rounded to five
CIRCULAR_MILS_PER_MM2 = 4 / math.pi * (1000 / 25.4) ** 2


def ours(row: tables.Row) -> float:
    """What the program has for a row of the AWG table."""
    number = float(row["awg"])
    area = awg_area_mm2(number)
    if row["quantity"] == "area":
        return area * (CIRCULAR_MILS_PER_MM2 if row["unit"] == "circular mil" else 1)
    if row["quantity"] == "diameter":
        return math.sqrt(4 / math.pi * area) / (25.4 if row["unit"] == "in" else 1)
    made = Construction.SOLID if row["construction"] == "solid" else Construction.STRANDED
    per_km = resistance(awg(number), Celsius(float(row["temperature_c"])), made)
    return per_km * (METERS_PER_FOOT if row["unit"] == "ohm/kft" else 1)


@for_each("row", tables.rows("awg_resistance"))
def test_each_row_of_the_awg_table(row: tables.Row) -> None:
    printed = float(row["value"])
    if row["quantity"] == "resistance coated":
        assert 0.93 * printed < ours(row) < printed  # tin adds ohms; no bare conductor has so many
        return
    assert ours(row) == pytest.approx(printed, rel=TOLERANCES.get(row["basis"], EXACT))


@for_each("row", [row for row in tables.rows("iec60228") if row["class"] != "ideal"])
def test_each_row_of_the_metric_table(row: tables.Row) -> None:
    """Plain class 1 and 2 as the standard has them; tin and fine strands have more ohms."""
    per_km = resistance(mm2(float(row["area_mm2"])))
    value = per_km * (METERS_PER_FOOT if row["unit"] == "ohm/kft" else 1)
    printed = float(row["value"])
    if row["conductor"] == "metal-coated copper" or row["class"] == "5":
        assert 0.85 * printed < value < printed
    else:
        assert value == pytest.approx(printed, abs=5.1e-5)  # printed to four places
