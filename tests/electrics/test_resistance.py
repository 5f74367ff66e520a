"""Networks small enough to solve on paper."""

from __future__ import annotations

import pytest

from cardgen.electrics.resistance import Resistor, resistance_between

Resistors = list[Resistor]


@pytest.mark.parametrize(
    ("resistors", "ohms"),
    [
        pytest.param([("a", "b", 7.0)], 7.0, id="one"),
        pytest.param([("b", "a", 7.0)], 7.0, id="one, the other way round"),
        pytest.param([("a", "x", 2.0), ("x", "b", 3.0)], 5.0, id="in series"),
        pytest.param([("a", "b", 30.0), ("a", "b", 30.0)], 15.0, id="side by side"),
        pytest.param([("a", "b", 48.0), ("a", "b", 26.0)], 48 * 26 / 74, id="unequal"),
        pytest.param([("a", "b", 4.0), ("b", "x", 9.0), ("x", "y", 9.0)], 4.0, id="dead end"),
        pytest.param([("a", "b", 4.0), ("a", "a", 1.0)], 4.0, id="from a node to itself"),
        pytest.param([("a", "x", 0.0), ("x", "b", 4.0)], 4.0, id="a contact without ohms"),
        pytest.param(
            [("a", "x", 1.0), ("x", "b", 1.0), ("x", "y", 1.0), ("y", "z", 1.0), ("z", "x", 1.0)],
            2.0,
            id="a ring on a side branch",
        ),
        # A balanced bridge: nothing flows through its middle, so 2 beside 2.
        pytest.param(
            [
                ("a", "x", 1.0),
                ("a", "y", 1.0),
                ("x", "b", 1.0),
                ("y", "b", 1.0),
                ("x", "y", 99.0),
            ],
            1.0,
            id="balanced bridge",
        ),
        # Unbalanced, by star and delta: 1 | 2, middle 3, then 2 | 1.
        pytest.param(
            [("a", "x", 1.0), ("a", "y", 2.0), ("x", "b", 2.0), ("y", "b", 1.0), ("x", "y", 3.0)],
            # Delta a-x-y (1, 2, 3) to star: 1/3, 1/2, 1; then (1/2 + 2) beside (1 + 1).
            1 / 3 + 1 / (1 / 2.5 + 1 / 2.0),
            id="unbalanced bridge",
        ),
        # One common, two hots: the far valve's share of the ring.
        pytest.param(
            [("a", "x", 6.0), ("x", "y", 6.0), ("y", "a", 6.0), ("x", "b", 30.0)],
            34.0,
            id="coil on a ring",
        ),
    ],
)
def test_ohms(resistors: Resistors, ohms: float) -> None:
    assert resistance_between(resistors, "a", "b") == pytest.approx(ohms, rel=1e-6)
    assert resistance_between(resistors, "b", "a") == pytest.approx(ohms, rel=1e-6)
