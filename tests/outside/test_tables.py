"""The outside numbers say where they come from, and agree among themselves."""

from __future__ import annotations

import math
import re

import pytest

from tests.outside import tables

SOURCES = {row["id"] for row in tables.rows("sources")}


@pytest.mark.parametrize("name", tables.names())
def test_each_row_has_a_status_and_known_sources(name: str) -> None:
    for row in tables.rows(name):
        assert row["status"] in tables.STATUSES, row
        cited = row["source"].split(";") if row["source"] else []
        assert set(cited) <= SOURCES, row
        assert cited or row["status"] != "published", row


def test_each_source_is_cited_or_says_why_not() -> None:
    cited = {i for name in tables.names() for row in tables.rows(name) for i in cites(row)}
    left = {row["id"] for row in tables.rows("sources") if row["used"].startswith("not used: ")}
    assert cited | left == SOURCES
    assert cited.isdisjoint(left)


@pytest.mark.parametrize("name", tables.names())
def test_a_row_is_used_or_says_why_not(name: str) -> None:
    """Which check uses it is looked up by that check; here only that nothing is left blank."""
    for row in tables.rows(name):
        used = row.get("used_by")
        if used is not None:
            assert used, row
            assert not used.startswith("not used") or len(used.split()) > 4, row


def cites(row: tables.Row) -> list[str]:
    return re.findall(r"S\d\d", row["source"])


@pytest.mark.parametrize("awg", [18, 16, 14, 12, 10])
def test_the_wire_table_follows_the_defining_rule(awg: int) -> None:
    diameter_mm = 0.127 * 92 ** ((36 - awg) / 39)  # ASTM B258: 36 AWG is 0.005 in
    ohm_per_kft = 1000 * 0.3048 / 58 / (math.pi / 4 * diameter_mm**2)  # IACS: 1/58 ohm mm2/m
    same = {"awg": str(awg), "construction": "solid", "quantity": "resistance", "unit": "ohm/kft"}
    printed = tables.number("awg_resistance", "value", **same, basis="wire table")
    # The table has four figures, so half a unit in the fourth is the most it can be off.
    assert ohm_per_kft == pytest.approx(printed, rel=2e-4)


@pytest.mark.parametrize("row", tables.rows("iec60228_kt"), ids=lambda row: row["temperature_c"])
def test_the_temperature_factors_follow_their_formula(row: tables.Row) -> None:
    factor = 250 / (230 + float(row["temperature_c"]))
    assert factor == pytest.approx(float(row["kt_table"]), abs=6e-4)  # printed to a thousandth
