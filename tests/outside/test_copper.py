"""The constants of copper that the program computes with, against the handbooks' figures."""

from __future__ import annotations

import pytest

from cardgen.cards import CardKind
from cardgen.cards.measuring import PER_TEN_DEGREES
from cardgen.trade.copper import (
    AWG_COEFFICIENT,
    READING_TEMPERATURE,
    RESISTIVITY_IACS,
    Construction,
    awg_area_mm2,
    resistance,
)
from cardgen.units import METERS_PER_FOOT, Celsius, Gauge, GaugeSystem
from tests.cards.printables import cards
from tests.outside import tables

AT_75 = Celsius(75.0)
TWELVE = Gauge(12.0, GaugeSystem.AWG)
CIRCULAR_MILS_PER_MM2 = 1973.525  # 1 / (pi/4 x (25.4/1000)^2)


def constant(name: str) -> float:
    return tables.number("copper_constants", "value", constant=name)


def test_resistivity_is_that_of_the_handbook() -> None:
    """NBS Handbook 100, as its page prints it."""
    assert constant("volume_resistivity_iacs_20c") == RESISTIVITY_IACS
    exact = constant("volume_resistivity_iacs_20c_exact")
    assert pytest.approx(exact, rel=3e-5) == RESISTIVITY_IACS  # the page rounds to five figures


def test_the_same_in_circular_mils_and_feet() -> None:
    ohms_per_foot = resistance(TWELVE) / 1000 * METERS_PER_FOOT
    circular_mils = awg_area_mm2(12) * CIRCULAR_MILS_PER_MM2
    expected = constant("volume_resistivity_iacs_20c_us")
    assert ohms_per_foot * circular_mils == pytest.approx(expected, rel=3e-5)


def test_temperature_coefficients_agree_with_each_other() -> None:
    assert constant("alpha_cu_20c_100pct_iacs") == AWG_COEFFICIENT
    at_75 = AWG_COEFFICIENT / (1 + AWG_COEFFICIENT * (AT_75 - READING_TEMPERATURE))
    assert at_75 == pytest.approx(constant("alpha_cu_75c"), abs=5e-7)  # printed to six places
    # NEC Chapter 9, Table 8, note 2 rounds to three figures.
    assert at_75 == pytest.approx(constant("alpha_cu_75c_nec"), abs=5e-6)
    zero = 1 / AWG_COEFFICIENT - READING_TEMPERATURE
    assert zero == pytest.approx(constant("inferred_zero_resistance_from_alpha"), abs=0.005)
    assert zero == pytest.approx(constant("inferred_zero_resistance_temp_cu"), abs=0.06)


def test_a_cold_meter_reads_less_than_the_table_of_75_c() -> None:
    ratio = resistance(TWELVE) / resistance(TWELVE, AT_75)
    assert ratio == pytest.approx(constant("ratio_20c_over_75c"), abs=5e-5)


def test_the_handbook_agrees_with_itself() -> None:
    """Ohms by mass are ohms by volume times density; a foot is what it is by definition."""
    by_mass = constant("density_copper_20c") * RESISTIVITY_IACS
    assert by_mass == pytest.approx(constant("mass_resistivity_iacs_20c"), rel=1e-4)
    assert pytest.approx(constant("ft_per_m"), rel=1e-6) == 1 / METERS_PER_FOOT


def test_the_k_of_the_licence_lesson_is_stranded_copper_at_75_c() -> None:
    """S11: 12.9 ohm circular mil per foot; ours within half a percent, for lay and rounding."""
    per_foot = resistance(TWELVE, AT_75, Construction.STRANDED) / 1000 * METERS_PER_FOOT
    k = per_foot * awg_area_mm2(12) * CIRCULAR_MILS_PER_MM2
    for name in ("k_factor_copper_75c", "k_factor_copper_75c_check"):
        assert k == pytest.approx(constant(name), rel=6e-3)


@pytest.mark.parametrize("degrees", ["10", "30"])
def test_the_rule_of_the_test_sheet_is_that_of_the_standard(degrees: str) -> None:
    """IEC 60228, annex: R(t) is R(20) / kt; 10 C colder and 10 C warmer, in whole percent."""
    warm = 1 / tables.number("iec60228_kt", "kt_table", temperature_c=degrees)
    assert round(100 * abs(warm - 1)) == PER_TEN_DEGREES
    sheet = cards("larkspur", CardKind.TEST_SHEET)["A"]
    assert f"{round(100 * abs(warm - 1))} % more for each 10 °C" in str(sheet.fields["rules"])
