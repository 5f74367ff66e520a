"""How the values of one kind at one valve have moved."""

from __future__ import annotations

from cardgen.results import OL, Kind, trend
from cardgen.words import english
from tests.for_each import for_each
from tests.results.valves import read

COIL, LINE, VOLTS = Kind.COIL, Kind.CONTROLLER, Kind.VOLTS
CURRENT, EARTH = Kind.MILLIAMPERES, Kind.INSULATION


@for_each(
    ("kind", "values", "name"),
    [
        (COIL, (30.0,), "once"),
        (COIL, (30.0, 31.0), "steady"),  # within the meter's ohm
        (COIL, (30.0, 40.0, 30.5), "unsteady"),  # what came and went was there
        (COIL, (34.3, 2.4, 2400.0, 34.3), "unsteady"),
        (COIL, (30.0, OL, 30.0), "unsteady"),
        (COIL, (30.0, 33.0, 36.0), "up"),
        (COIL, (30.0, 60.0, 36.0), "unsteady"),
        (COIL, (30.0, 30.8, 36.0), "up"),
        (COIL, (100.0, 104.0), "steady"),  # within 5 %
        (COIL, (30.0, 32.0), "up"),
        (COIL, (5.0, 6.0), "steady"),  # a latching coil, of which 5 % are less than an ohm
        (COIL, (5.0, 6.1), "up"),
        (LINE, (6.5, 7.5), "steady"),  # the same with its wire
        (LINE, (6.5, 7.6), "up"),
        (COIL, (30.0, 27.0), "down"),
        (COIL, (30.0, OL), "opened"),
        (COIL, (OL, 30.0), "closed"),
        (COIL, (OL, OL), "steady"),
        (VOLTS, (22.0, 22.4), "steady"),
        (VOLTS, (22.0, 20.9), "down"),
        (CURRENT, (230.0, 250.0), "steady"),
        (CURRENT, (230.0, 460.0), "up"),
        (CURRENT, (50.0, 60.0), "steady"),  # 10 mA
        (CURRENT, (50.0, 60.1), "up"),
        (EARTH, (20.0, 11.0), "steady"),
        (EARTH, (20.0, 2.0), "down"),
        (EARTH, (1.0, 0.5), "steady"),
        (EARTH, (1.0, 0.4), "down"),
    ],
)
def test_how_values_move(kind: Kind, values: tuple[float, ...], name: str) -> None:
    days = [read(value, kind, when=f"202{year}-05-01T09:30") for year, value in enumerate(values)]
    found = trend(days)
    assert found.name == name
    english()(f"trend.{found.name}", **found.values)  # has all the values that its words ask for


def test_the_words_once() -> None:
    found = trend([read(30.0, when="2026-05-01T09:30"), read(36.5, when="2028-05-01T10:00")])
    assert english()(f"trend.{found.name}", **found.values).printed == (
        "Up since 2026-05-01: from 30 to 36.5 Ω."
    )


def test_what_is_not_steady_is_told_by_its_ends() -> None:
    days = [34.3, 2.4, 2400.0, 34.3]
    found = trend([read(v, when=f"202{n}-05-01") for n, v in enumerate(days)])
    assert english()(f"trend.{found.name}", **found.values).printed == (
        "Not steady since 2020-05-01: between 2.4 and 2400 Ω; the last is 34.3."
    )
