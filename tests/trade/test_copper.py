"""Copper: how ohms depend on gauge, construction and temperature."""

from __future__ import annotations

import pytest

from cardgen.job.quantities import AWG_SIZES, MM2_SIZES
from cardgen.trade.copper import (
    READING_TEMPERATURE,
    Construction,
    awg_area_mm2,
    resistance,
)
from cardgen.units import Celsius, Gauge, GaugeSystem

GAUGES = [
    *(Gauge(size, GaugeSystem.AWG) for size in AWG_SIZES),
    *(Gauge(size, GaugeSystem.MM2) for size in MM2_SIZES),
]


@pytest.mark.parametrize("gauge", GAUGES, ids=str)
def test_every_size_that_a_job_may_name_has_ohms(gauge: Gauge) -> None:
    assert resistance(gauge) > 0


@pytest.mark.parametrize("gauge", GAUGES, ids=str)
def test_a_reading_is_cold_unless_something_else_is_said(gauge: Gauge) -> None:
    assert resistance(gauge) == resistance(gauge, Celsius(20), Construction.SOLID)
    assert Celsius(20) == READING_TEMPERATURE


@pytest.mark.parametrize("gauge", GAUGES, ids=str)
def test_ohms_rise_with_temperature(gauge: Gauge) -> None:
    temperatures = (-20, 0, 20, 45, 75)
    ohms = [resistance(gauge, Celsius(t)) for t in temperatures]
    assert ohms == sorted(ohms)
    assert len(set(ohms)) == len(ohms)


def test_thicker_has_fewer_ohms() -> None:
    by_area = sorted(GAUGES[: len(AWG_SIZES)], key=lambda g: awg_area_mm2(g.size))
    assert [resistance(g) for g in by_area] == sorted(map(resistance, by_area), reverse=True)
    metric = GAUGES[len(AWG_SIZES) :]
    assert [resistance(g) for g in metric] == sorted(map(resistance, metric), reverse=True)


def test_three_gauge_numbers_halve_the_area() -> None:
    # 92 to the power of 2 x 3/39 is 2.0050.
    assert awg_area_mm2(10) / awg_area_mm2(13) == pytest.approx(2.005, abs=1e-3)


def test_strands_add_to_awg_and_not_to_square_millimeters() -> None:
    awg, metric = Gauge(14, GaugeSystem.AWG), Gauge(2.5, GaugeSystem.MM2)
    solid, stranded = Construction.SOLID, Construction.STRANDED
    at = READING_TEMPERATURE
    assert resistance(awg, at, stranded) == pytest.approx(1.02 * resistance(awg, at, solid))
    assert resistance(metric, at, stranded) == resistance(metric, at, solid)


def test_a_metric_size_has_about_the_ohms_of_its_neighbor_in_awg() -> None:
    # 2.08 mm2 of 14 AWG lies between 1.5 and 2.5 mm2.
    neighbors = [resistance(Gauge(area, GaugeSystem.MM2)) for area in (2.5, 1.5)]
    assert neighbors[0] < resistance(Gauge(14, GaugeSystem.AWG)) < neighbors[1]
