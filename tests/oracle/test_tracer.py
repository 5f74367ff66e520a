"""Yards made by hand, each leg counted by hand: what the tracer must say of them.

Where ohms are checked, copper is that of the wire table (18 AWG solid, 20 C, published: see
tests/outside/references), the coil is 30 ohm, and the sum is written out.
"""

from __future__ import annotations

import ast
import hashlib
import json
import os
import subprocess
import sys
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from tests.for_each import for_each
from tests.oracle.ground import Label
from tests.oracle.tracer import End, Traced, ohms_per_meter
from tests.oracle.yards import random_yard
from tests.outside import tables

SEEDS = range(100)
WIRE_TABLE = 3e-4  # its four figures, against the defining rule

Joints = dict[str, list[list[str]]]


def ohms_per_kft(awg: int) -> float:
    """The published wire table at 20 C."""
    return tables.number(
        "awg_resistance",
        "value",
        awg=str(awg),
        construction="solid",
        quantity="resistance",
        unit="ohm/kft",
        basis="wire table",
    )


def trace(runs: dict[str, str], joints: Joints, /, **more: dict[str, Any]) -> Traced:
    """A yard of cables `color color: A, 100 ft, VB-1`; valves as `A1: VB-1`."""
    cables = {}
    for name, said in runs.items():
        colors, _, run = said.partition(": ")
        cables[name] = {"gauge": "18 AWG", "colors": colors.split(), "run": run.split(", ")}
    strip = {"terminals": ["C", "1 to 9", "MV", "SEN", "SEN"], "coil": "usual"}
    job: dict[str, Any] = {
        "coils": {"usual": {"resistance": "30 ohm"}},
        "controllers": {name: strip for name in ("A", "B") if name in joints},
        "cables": {**cables, **more.pop("cables", {})},
        "joints": joints,
    }
    stations = more.pop("valves", {})
    job["stations"] = {
        name: {"box": box} if isinstance(box, str) else {"valves": box}
        for name, box in stations.items()
    }
    return Traced(json.dumps({**job, **{k.replace("_", " "): v for k, v in more.items()}}))


def said(traced: Traced, conductor: str) -> list[str]:
    """Its stretches as `A to VB-1: hot A1`."""
    return [
        f"{s.first} to {s.last}: "
        + (" + ".join(" ".join(label) for label in sorted(s.labels)) or s.kind)
        for s in traced.stretches
        if s.conductor == conductor
    ]


# -- by hand ---------------------------------------------------------------------------------------


def test_a_hot_is_dead_beyond_its_valve_and_a_spare_is_whole() -> None:
    yard = trace(
        {"A-K1": "white red tan: A, 100 ft, VB-1, 50 ft, VB-2"},
        {
            "A": [["C", "A-K1 white"], ["1", "A-K1 red"]],
            "VB-1": [["A-K1 red in", "A1"], ["A-K1 white in", "A-K1 white out", "A1"]],
            "VB-2": [],
        },
        valves={"A1": "VB-1"},
    )
    assert said(yard, "A-K1 red") == ["A to VB-1: hot A1", "VB-1 to VB-2: dead"]
    assert said(yard, "A-K1 white") == ["A to VB-2: common A"]
    assert said(yard, "A-K1 tan") == ["A to VB-2: spare"]
    box = yard.boxes["VB-1"]
    assert box.passing == {"A-K1 tan"}
    assert box.capped == {End("A-K1 red", "VB-1", "out")}
    assert {len(joint.ends): sorted(joint.labels) for joint in box.joints} == {
        2: [("hot", "A1")],
        3: [("common", "A")],
    }
    assert yard.terminals["A", "1"] == {"A-K1 red"}
    # 100 ft out and 100 ft back.
    expected = 30 + 2 * 0.100 * ohms_per_kft(18)
    assert yard.ohms("A1") == pytest.approx(expected, rel=WIRE_TABLE)


def test_a_middle_leg_rides_on_another_conductor() -> None:
    yard = trace(
        {"A-K1": "white yellow brown: A, 90 ft, VB-1, 90 ft, VB-2, 90 ft, VB-3"},
        {
            "A": [["C", "A-K1 white"], ["4", "A-K1 yellow"]],
            "VB-1": [["A-K1 yellow in", "A-K1 brown out"]],
            "VB-2": [["A-K1 brown in", "A-K1 yellow out"]],
            "VB-3": [["A-K1 yellow", "A4"], ["A-K1 white", "A4"]],
        },
        valves={"A4": "VB-3"},
    )
    assert said(yard, "A-K1 yellow") == [
        "A to VB-1: hot A4",
        "VB-1 to VB-2: dead",
        "VB-2 to VB-3: hot A4",
    ]
    assert said(yard, "A-K1 brown") == [
        "A to VB-1: spare",
        "VB-1 to VB-2: hot A4",
        "VB-2 to VB-3: dead",
    ]
    assert yard.circuits["A4"].hot_at_controller == {"A-K1 yellow"}
    assert yard.circuits["A4"].hot_at_valve == {"A-K1 yellow"}
    assert yard.boxes["VB-1"].capped == {
        End("A-K1 yellow", "VB-1", "out"),
        End("A-K1 brown", "VB-1", "in"),
    }


EXCHANGED = "white green blue: A, 80 ft, VB-1, 80 ft, VB-2, 80 ft, VB-3"


def test_two_hots_exchange_colors_inside_one_cable() -> None:
    yard = trace(
        {"A-K1": EXCHANGED},
        {
            "A": [["C", "A-K1 white"], ["1", "A-K1 green"], ["2", "A-K1 blue"]],
            "VB-1": [["A-K1 green in", "A-K1 blue out"], ["A-K1 blue in", "A-K1 green out"]],
            "VB-2": [["A-K1 blue in", "A1"], ["A-K1 white in", "A-K1 white out", "A1"]],
            "VB-3": [["A-K1 green", "A2"], ["A-K1 white", "A2"]],
        },
        valves={"A1": "VB-2", "A2": "VB-3"},
    )
    assert said(yard, "A-K1 green") == ["A to VB-1: hot A1", "VB-1 to VB-3: hot A2"]
    assert said(yard, "A-K1 blue") == [
        "A to VB-1: hot A2",
        "VB-1 to VB-2: hot A1",
        "VB-2 to VB-3: dead",
    ]
    assert yard.circuits["A2"].hot_at_controller == {"A-K1 blue"}
    assert yard.circuits["A2"].hot_at_valve == {"A-K1 green"}
    labels = {frozenset(j.labels) for j in yard.boxes["VB-1"].joints}
    assert labels == {frozenset({("hot", "A1")}), frozenset({("hot", "A2")})}


def test_exchanges_that_cancel_leave_each_its_color_at_both_ends() -> None:
    cross = [["A-K1 green in", "A-K1 blue out"], ["A-K1 blue in", "A-K1 green out"]]
    yard = trace(
        {"A-K1": EXCHANGED},
        {
            "A": [["C", "A-K1 white"], ["1", "A-K1 green"], ["2", "A-K1 blue"]],
            "VB-1": cross,
            "VB-2": cross,
            "VB-3": [["A-K1 green", "A1"], ["A-K1 blue", "A2"], ["A-K1 white", "A1", "A2"]],
        },
        valves={"A1": "VB-3", "A2": "VB-3"},
    )
    assert said(yard, "A-K1 green") == [
        "A to VB-1: hot A1",
        "VB-1 to VB-2: hot A2",
        "VB-2 to VB-3: hot A1",
    ]
    assert yard.circuits["A1"].hot_at_valve == yard.circuits["A1"].hot_at_controller


def test_colors_change_where_a_cable_ends_and_a_tee_begins() -> None:
    yard = trace(
        {
            "A-K1": "white red blue: A, 60 ft, VB-1, 60 ft, VB-2",
            "A-K2": "black orange pink: VB-1, 40 ft, VB-3",
        },
        {
            "A": [["C", "A-K1 white"], ["1", "A-K1 red"], ["2", "A-K1 blue"]],
            "VB-1": [
                ["A-K1 red in", "A-K2 orange"],
                ["A-K1 white in", "A-K1 white out", "A-K2 black"],
            ],
            "VB-2": [["A-K1 blue", "A2"], ["A-K1 white", "A2"]],
            "VB-3": [["A-K2 orange", "A1"], ["A-K2 black", "A1"]],
        },
        valves={"A1": "VB-3", "A2": "VB-2"},
    )
    assert said(yard, "A-K1 red") == ["A to VB-1: hot A1", "VB-1 to VB-2: dead"]
    assert said(yard, "A-K2 orange") == ["VB-1 to VB-3: hot A1"]
    assert said(yard, "A-K2 black") == ["VB-1 to VB-3: common A"]
    # Nothing of it is used, so it may serve although no controller reaches it.
    assert said(yard, "A-K2 pink") == ["VB-1 to VB-3: spare"]
    assert yard.circuits["A1"].back_at_valve == {"A-K2 black"}
    assert yard.circuits["A1"].back_at_controller == {"A-K1 white"}
    expected = 30 + 2 * (0.060 + 0.040) * ohms_per_kft(18)
    assert yard.ohms("A1") == pytest.approx(expected, rel=WIRE_TABLE)


def test_a_common_is_dead_between_its_cut_and_where_it_is_fed_again() -> None:
    yard = trace(
        {
            "A-K1": "white red blue: A, 70 ft, VB-1, 70 ft, VB-2, 70 ft, VB-3",
            "A-K2": "white gray: A, 90 ft, VB-2",
        },
        {
            "A": [["C", "A-K1 white", "A-K2 white"], ["1", "A-K1 red"], ["2", "A-K1 blue"]],
            "VB-1": [["A-K1 white in", "A1"], ["A-K1 red in", "A1"]],
            "VB-2": [["A-K2 white", "A-K1 white out"]],
            "VB-3": [["A-K1 white", "A2"], ["A-K1 blue", "A2"]],
        },
        valves={"A1": "VB-1", "A2": "VB-3"},
    )
    assert said(yard, "A-K1 white") == [
        "A to VB-1: common A",
        "VB-1 to VB-2: dead",
        "VB-2 to VB-3: common A",
    ]
    assert yard.terminals["A", "C"] == {"A-K1 white", "A-K2 white"}
    assert yard.circuits["A2"].back_at_controller == {"A-K2 white"}
    assert yard.circuits["A2"].back_at_valve == {"A-K1 white"}


def test_a_second_controller_stands_half_way_along_a_cable() -> None:
    yard = trace(
        {"A-K1": "white brown red green: A, 50 ft, VB-1, 50 ft, B, 50 ft, VB-2"},
        {
            "A": [["C", "A-K1 white"], ["1", "A-K1 red"]],
            "B": [["C", "A-K1 brown out"], ["1", "A-K1 green out"]],
            "VB-1": [],
            "VB-2": [
                ["A-K1 white", "A1"],
                ["A-K1 red", "A1"],
                ["A-K1 brown", "B1"],
                ["A-K1 green", "B1"],
            ],
        },
        valves={"A1": "VB-2", "B1": "VB-2"},
    )
    assert said(yard, "A-K1 white") == ["A to VB-2: common A"]
    assert said(yard, "A-K1 brown") == ["A to B: spare", "B to VB-2: common B"]
    assert said(yard, "A-K1 green") == ["A to B: spare", "B to VB-2: hot B1"]
    assert yard.terminals["B", "C"] == {"A-K1 brown"}
    assert yard.circuits["B1"].hot_at_controller == {"A-K1 green"}


def test_a_box_is_shared_and_one_feeds_the_others_cable_from_it() -> None:
    yard = trace(
        {
            "A-K1": "white red tan pink: A, 50 ft, VB-1, 50 ft, VB-2",
            "B-K1": "white blue: B, 50 ft, VB-1",
        },
        {
            "A": [["C", "A-K1 white"], ["1", "A-K1 red"]],
            "B": [["C", "B-K1 white"], ["2", "B-K1 blue"]],
            "VB-1": [
                ["A-K1 white in", "A-K1 white out", "A1"],
                ["A-K1 red in", "A1"],
                ["B-K1 white", "A-K1 pink out"],
                ["B-K1 blue", "A-K1 tan out"],
            ],
            "VB-2": [["A-K1 tan", "B2"], ["A-K1 pink", "B2"]],
        },
        valves={"A1": "VB-1", "B2": "VB-2"},
    )
    assert said(yard, "A-K1 tan") == ["A to VB-1: spare", "VB-1 to VB-2: hot B2"]
    assert said(yard, "A-K1 pink") == ["A to VB-1: spare", "VB-1 to VB-2: common B"]
    assert said(yard, "A-K1 white") == ["A to VB-2: common A"]
    assert said(yard, "B-K1 white") == ["B to VB-1: common B"]


def test_a_third_conductor_in_a_joint_is_live_to_its_end() -> None:
    yard = trace(
        {"A-K1": "white red green gray: A, 50 ft, VB-1, 50 ft, VB-2"},
        {
            "A": [["C", "A-K1 white"], ["1", "A-K1 red"]],
            "VB-1": [
                ["A-K1 red in", "A-K1 green", "A1"],  # both sides of green
                ["A-K1 white", "A-K1 gray out", "A1"],  # gray onward only
            ],
            "VB-2": [],
        },
        valves={"A1": "VB-1"},
    )
    assert said(yard, "A-K1 green") == ["A to VB-2: hot A1"]
    assert said(yard, "A-K1 gray") == ["A to VB-1: spare", "VB-1 to VB-2: common A"]
    assert yard.terminals["A", "1"] == {"A-K1 red"}
    assert yard.circuits["A1"].hot_at_controller == {"A-K1 red"}  # green carries nothing
    assert yard.boxes["A"].capped == {End("A-K1 green", "A", "out"), End("A-K1 gray", "A", "out")}


def test_a_ring_of_the_common_is_fed_by_both_of_its_conductors() -> None:
    yard = trace(
        {
            "A-K1": "white red: A, 100 ft, VB-1",
            "A-K2": "white blue: A, 100 ft, VB-2",
            "A-K3": "black pink: VB-1, 200 ft, VB-2",
        },
        {
            "A": [["C", "A-K1 white", "A-K2 white"], ["1", "A-K1 red"]],
            "VB-1": [["A-K1 red", "A1"], ["A-K1 white", "A-K3 black", "A1"]],
            "VB-2": [["A-K2 white", "A-K3 black"]],
        },
        valves={"A1": "VB-1"},
    )
    assert said(yard, "A-K3 black") == ["VB-1 to VB-2: common A"]
    assert yard.circuits["A1"].back_at_controller == {"A-K1 white", "A-K2 white"}
    assert yard.circuits["A1"].back_at_valve == {"A-K1 white", "A-K3 black"}
    # Out on 100 ft; back on 100 ft beside 200 + 100 ft: 100 x 300 / 400 = 75 ft.
    expected = 30 + (0.100 + 0.075) * ohms_per_kft(18)
    assert yard.ohms("A1") == pytest.approx(expected, rel=WIRE_TABLE)


def test_a_master_valve_returns_by_its_own_wire_or_by_the_common() -> None:
    run = {"A-K1": "white red black gray: A, 50 ft, VB-1, 50 ft, VB-2"}
    valves = {"A1": "VB-1"}
    own = trace(
        run,
        {
            "A": [["C", "A-K1 white"], ["C", "A-K1 gray"], ["1", "A-K1 red"], ["MV", "A-K1 black"]],
            "VB-1": [["A-K1 white", "A1"], ["A-K1 red in", "A1"]],
            "VB-2": [["A-K1 black", "MV-A"], ["A-K1 gray", "MV-A"]],
        },
        valves=valves,
        master_valves={"MV-A": {"controllers": "A", "box": "VB-2", "return": "A-K1 gray"}},
    )
    assert said(own, "A-K1 gray") == ["A to VB-2: return MV-A"]
    assert {frozenset(joint.labels) for joint in own.boxes["VB-2"].joints} == {
        frozenset({("hot", "MV-A")}),
        frozenset({("return", "MV-A")}),
    }
    assert said(own, "A-K1 black") == ["A to VB-2: hot MV-A"]
    assert said(own, "A-K1 white") == ["A to VB-2: common A"]
    assert own.terminals["A", "C"] == {"A-K1 white", "A-K1 gray"}
    shared = trace(
        run,
        {
            "A": [["C", "A-K1 white"], ["1", "A-K1 red"], ["MV", "A-K1 black"]],
            "VB-1": [["A-K1 white", "A1"], ["A-K1 red in", "A1"]],
            "VB-2": [["A-K1 black", "MV-A"], ["A-K1 white", "MV-A"]],
        },
        valves=valves,
        master_valves={"MV-A": {"controllers": "A", "box": "VB-2"}},
    )
    assert said(shared, "A-K1 white") == ["A to VB-2: common A"]
    assert said(shared, "A-K1 gray") == ["A to VB-2: spare"]


def test_a_return_that_joins_the_common_on_the_way_is_its_own_only_so_far() -> None:
    yard = trace(
        {"A-K1": "white red black gray: A, 50 ft, VB-1, 50 ft, VB-2"},
        {
            "A": [["C", "A-K1 white"], ["1", "A-K1 red"], ["MV", "A-K1 black"]],
            "VB-1": [["A-K1 white in", "A-K1 gray out", "A1"], ["A-K1 red in", "A1"]],
            "VB-2": [["A-K1 black", "MV-A"], ["A-K1 gray", "MV-A"]],
        },
        valves={"A1": "VB-1"},
        master_valves={"MV-A": {"controllers": "A", "box": "VB-2", "return": "A-K1 gray"}},
    )
    assert said(yard, "A-K1 gray") == ["A to VB-1: spare", "VB-1 to VB-2: return MV-A"]
    assert said(yard, "A-K1 white") == ["A to VB-1: common A", "VB-1 to VB-2: dead"]


def test_a_spare_carries_the_common_on_from_a_box() -> None:
    yard = trace(
        {"A-K1": "white red tan: A, 50 ft, VB-1, 50 ft, VB-2"},
        {
            "A": [["C", "A-K1 white"], ["1", "A-K1 red"]],
            "VB-1": [["A-K1 white in", "A-K1 tan out"]],
            "VB-2": [["A-K1 tan", "A1"], ["A-K1 red", "A1"]],
        },
        valves={"A1": "VB-2"},
    )
    assert said(yard, "A-K1 white") == ["A to VB-1: common A", "VB-1 to VB-2: dead"]
    assert said(yard, "A-K1 tan") == ["A to VB-1: spare", "VB-1 to VB-2: common A"]
    assert yard.circuits["A1"].back_at_valve == {"A-K1 tan"}


def test_sensors_have_their_wires_and_their_contact_conducts() -> None:
    yard = trace(
        {
            "A-K1": "white red: A, 50 ft, VB-1",
            "A-F1": "red black: A, 50 ft, VB-2",
            "A-F2": "red black: VB-2, 50 ft, VB-3",
        },
        {
            "A": [
                ["C", "RAIN C side"],
                ["RAIN field side", "A-K1 white"],
                ["1", "A-K1 red"],
                ["SEN", "A-F1 red"],
                ["SEN", "A-F1 black"],
            ],
            "VB-1": [["A-K1 white", "A1"], ["A-K1 red", "A1"]],
            "VB-2": [["A-F1 red", "A-F2 red"], ["A-F1 black", "A-F2 black"]],
            "VB-3": [],
        },
        valves={"A1": "VB-1"},
        sensors={
            "RAIN": {"controllers": "A", "in common": ["A-K1 white"]},
            "FLOW": {"controllers": "A", "conductors": ["A-F1 red", "A-F2 red"]},
        },
    )
    assert said(yard, "A-K1 white") == ["A to VB-1: common A"]
    assert said(yard, "A-F1 black") == ["A to VB-2: sensor FLOW"]
    assert said(yard, "A-F2 red") == ["VB-2 to VB-3: sensor FLOW"]
    assert yard.terminals["A", "C"] == {"A-K1 white"}  # behind the contact
    assert yard.circuits["A1"].back_at_controller == {"A-K1 white"}


def test_a_terminal_on_which_nothing_hangs_is_named() -> None:
    yard = trace(
        {"A-K1": "white red tan: A, 50 ft, VB-1"},
        {
            "A": [["C", "A-K1 white"], ["1", "A-K1 red"], ["7", "A-K1 tan"]],
            "VB-1": [["A-K1 white", "A1"], ["A-K1 red", "A1"]],
        },
        valves={"A1": "VB-1"},
    )
    assert said(yard, "A-K1 tan") == ["A to VB-1: terminal A 7"]


def test_a_twin_in_two_boxes_reads_as_two_coils() -> None:
    yard = trace(
        {"A-K1": "white red: A, 100 ft, VB-1, 100 ft, VB-2"},
        {
            "A": [["C", "A-K1 white"], ["1", "A-K1 red"]],
            "VB-1": [["A-K1 white", "A1a"], ["A-K1 red", "A1a"]],
            "VB-2": [["A-K1 white", "A1b"], ["A-K1 red", "A1b"]],
        },
        valves={"A1": {"A1a": {"box": "VB-1"}, "A1b": {"box": "VB-2"}}},
    )
    assert said(yard, "A-K1 red") == ["A to VB-2: hot A1"]
    loop = 2 * 0.100 * ohms_per_kft(18)
    expected = loop + 1 / (1 / 30 + 1 / (30 + loop))
    assert yard.ohms("A1") == pytest.approx(expected, rel=WIRE_TABLE)


def test_two_home_runs_end_in_a_box_where_a_cable_begins() -> None:
    yard = trace(
        {
            "A-K1": "white red: A, 50 ft, VB-1",
            "A-K2": "black blue: A, 60 ft, VB-1",
            "A-K3": "white red blue: VB-1, 40 ft, VB-2",
        },
        {
            "A": [["C", "A-K1 white"], ["C", "A-K2 black"], ["1", "A-K1 red"], ["2", "A-K2 blue"]],
            "VB-1": [
                ["A-K2 black", "A-K3 white"],
                ["A-K1 red", "A-K3 red"],
                ["A-K2 blue", "A-K3 blue"],
            ],
            "VB-2": [["A-K3 white", "A1", "A2"], ["A-K3 red", "A1"], ["A-K3 blue", "A2"]],
        },
        valves={"A1": "VB-2", "A2": "VB-2"},
    )
    assert said(yard, "A-K1 white") == ["A to VB-1: common A"]  # live, though nothing uses it
    assert yard.terminals["A", "C"] == {"A-K1 white", "A-K2 black"}
    assert yard.circuits["A1"].back_at_controller == {"A-K2 black"}


def test_a_spare_goes_on_over_a_splice_and_what_is_cut_off_is_dead() -> None:
    yard = trace(
        {
            "A-K1": "white red tan: A, 50 ft, VB-1, 50 ft, VB-2",
            "A-K2": "white orange: VB-1, 50 ft, VB-3",
        },
        {
            "A": [["C", "A-K1 white"], ["1", "A-K1 red"]],
            "VB-1": [["A-K1 tan in", "A-K2 orange"], ["A-K1 red in", "A1"], ["A-K1 white", "A1"]],
            "VB-2": [],
            "VB-3": [],
        },
        valves={"A1": "VB-1"},
    )
    # All of tan is free, so both of its stretches are spares; red is used before VB-1.
    assert said(yard, "A-K1 tan") == ["A to VB-1: spare", "VB-1 to VB-2: spare"]
    assert said(yard, "A-K2 orange") == ["VB-1 to VB-3: spare"]
    assert said(yard, "A-K1 red") == ["A to VB-1: hot A1", "VB-1 to VB-2: dead"]


def test_one_conductor_has_two_uses_on_two_legs() -> None:
    yard = trace(
        {
            "A-K1": "white red blue: A, 50 ft, VB-1, 50 ft, VB-2",
            "A-K2": "white gray: A, 50 ft, VB-1",
        },
        {
            "A": [["C", "A-K1 white"], ["1", "A-K1 red"], ["2", "A-K2 gray"]],
            "VB-1": [["A-K1 red in", "A1"], ["A-K2 gray", "A-K1 red out"], ["A-K1 white", "A1"]],
            "VB-2": [["A-K1 red", "A2"], ["A-K1 white", "A2"]],
        },
        valves={"A1": "VB-1", "A2": "VB-2"},
    )
    assert said(yard, "A-K1 red") == ["A to VB-1: hot A1", "VB-1 to VB-2: hot A2"]


def test_singles_end_where_the_file_says_and_a_single_end_cuts() -> None:
    yard = trace(
        {},
        {
            "A": [["C", "A-S1 white"], ["1", "A-S1 red A1"], ["2", "A-S1 red A2"]],
            "VB-1": [["A-S1 red A1", "A1"], ["A-S1 white", "A1"], ["A-S1 orange SP in"]],
            "VB-2": [["A-S1 red A2", "A2"], ["A-S1 white", "A2"]],
        },
        valves={"A1": "VB-1", "A2": "VB-2"},
        cables={
            "A-S1": {
                "singles": [
                    {"color": "red", "gauge": "14 AWG", "flags": ["A1"], "to": "VB-1"},
                    {"color": "red", "gauge": "14 AWG", "flags": "A2 to A3", "to": "VB-2"},
                    {"color": "white", "gauge": "14 AWG", "to": "VB-2"},
                    {"color": "orange", "gauge": "14 AWG", "flags": ["SP"], "to": "VB-2"},
                ],
                "run": ["A", "30.48 m", "VB-1", "30.48 m", "VB-2"],
            }
        },
    )
    assert said(yard, "A-S1 red A1") == ["A to VB-1: hot A1"]
    assert said(yard, "A-S1 red A3") == ["A to VB-2: spare"]
    assert said(yard, "A-S1 orange SP") == ["A to VB-1: spare", "VB-1 to VB-2: spare"]
    assert yard.boxes["VB-1"].capped == {
        End("A-S1 orange SP", "VB-1", "in"),
        End("A-S1 orange SP", "VB-1", "out"),
    }
    expected = 30 + 4 * 0.100 * ohms_per_kft(14)  # 30.48 m are 100 ft
    assert yard.ohms("A2") == pytest.approx(expected, rel=WIRE_TABLE)


def test_the_sides_of_a_two_wire_path_are_told_apart() -> None:
    yard = Traced(
        json.dumps(
            {
                "controllers": {"D": {"terminals": ["PATH 1", "PATH 2"]}},
                "cables": {
                    "D-M": {
                        "gauge": "14 AWG",
                        "colors": ["red", "black", "blue"],
                        "run": ["D", "90 ft", "DX-1", "90 ft", "DX-2"],
                    }
                },
                "decoders": {"DC-1": {"box": "DX-1"}},
                "stations": {"D1": {"box": "DX-1", "decoder": "DC-1"}},
                "joints": {
                    "D": [["PATH 1", "D-M red"], ["PATH 2", "D-M black"]],
                    "DX-1": [["D-M red", "DC-1 path 1"], ["D-M black", "DC-1 path 2"]],
                    "DX-2": [],
                },
            }
        )
    )
    assert said(yard, "D-M red") == ["D to DX-2: path D 1"]
    assert said(yard, "D-M black") == ["D to DX-2: path D 2"]
    assert said(yard, "D-M blue") == ["D to DX-2: spare"]


def test_hots_tied_together_are_both() -> None:
    yard = trace(
        {"A-K1": "white red blue: A, 50 ft, VB-1"},
        {
            "A": [["C", "A-K1 white"], ["1", "2", "A-K1 red", "A-K1 blue"]],
            "VB-1": [["A-K1 white", "A1", "A2"], ["A-K1 red", "A1"], ["A-K1 blue", "A2"]],
        },
        valves={"A1": "VB-1", "A2": "VB-1"},
    )
    assert said(yard, "A-K1 red") == ["A to VB-1: hot A1 + hot A2"]


@pytest.mark.parametrize("awg", [18, 16, 14, 12])
def test_copper_by_the_rule_is_the_copper_of_the_wire_table(awg: int) -> None:
    per_kft = ohms_per_meter(awg) * 304.8
    assert per_kft == pytest.approx(ohms_per_kft(awg), rel=WIRE_TABLE)


# -- the generator ---------------------------------------------------------------------------------

FEATURES = {
    *("home run", "extension", "tee", "two home runs meet", "ring", "shared box"),
    *("1 controllers", "2 controllers", "controller half way", "foreign feed", "fed backwards"),
    *("single valve", "twin", "twin in two boxes", "pump relay"),
    *("master valve, own return", "master valve, shared common"),
    *("middle leg rides elsewhere", "color change inside a cable", "color change at a splice"),
    *("exchange of colors", "exchange that cancels", "two uses on two legs"),
    *("common cut and fed beyond", "common on a spare", "common not named"),
    *("common named by a station", "live stub on a hot", "live stub on a common"),
    *("spare that runs through", "spare promised", "spare over a splice", "idle terminal"),
    *("sensor with own wires", "sensor in the common", "bundle of singles"),
    *("single that ends on the way", "hot against the run", "joints carry the hot on"),
    "hot names every color",
}


def test_a_hundred_yards_have_every_feature() -> None:
    found = Counter(feature for seed in SEEDS for feature in random_yard(seed).features)
    assert found.keys() == FEATURES


def test_yards_are_as_large_as_real_ones() -> None:
    sizes = [len(Traced(random_yard(seed).text).loads) for seed in SEEDS]
    assert min(sizes) >= 5
    assert max(sizes) >= 20


def test_the_same_seed_makes_the_same_bytes_in_any_process() -> None:
    code = (
        "import hashlib; from tests.oracle.yards import random_yard; "
        "texts = ''.join(random_yard(seed).text for seed in range(20)); "
        "print(hashlib.sha256(texts.encode()).hexdigest())"
    )
    texts = "".join(random_yard(seed).text for seed in range(20))
    here = hashlib.sha256(texts.encode()).hexdigest()
    for hash_seed in ("1", "2"):
        there = subprocess.run(
            [sys.executable, "-c", code],
            cwd=Path(__file__).parents[2],
            env={**os.environ, "PYTHONHASHSEED": hash_seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout.strip()
        assert there == here


@for_each("seed", SEEDS)
def test_the_tracer_finds_what_the_generator_laid(seed: int) -> None:
    yard = random_yard(seed)
    laid: dict[tuple[str, int], frozenset[Label]] = {
        leg: frozenset({label} if label else ()) for leg, label in yard.labels.items()
    }
    assert Traced(yard.text).legs == laid


@for_each("seed", SEEDS)
def test_every_yard_is_sound(seed: int) -> None:
    """Each valve between its own hot and its controller's common, and no metal is two things."""
    traced = Traced(random_yard(seed).text)
    assert all(len(labels) <= 1 for labels in traced.legs.values())
    for load in traced.loads.values():
        for valve, box in load.valves.items():
            hot, back = traced.leads(load, valve, box)
            assert traced.labels_of(hot) == {("hot", load.id)}
            assert traced.labels_of(back) == {("common", load.controller)}
            circuit = traced.circuits[valve]
            assert all(circuit), f"{valve}: a side of its circuit has no conductor"
        assert traced.ohms(load.id) > load.coil_ohms / len(load.valves)


# -- the tracer itself -----------------------------------------------------------------------------


@pytest.mark.parametrize("module", ["tracer", "yards", "layout", "ground"])
def test_neither_tracer_nor_generator_knows_the_program(module: str) -> None:
    path = Path(__file__).with_name(f"{module}.py")
    names = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            names.add(node.module or "")
    allowed = {"networkx", "numpy", "yaml"} if module == "tracer" else {"tests"}
    outside = {name.split(".")[0] for name in names} - sys.stdlib_module_names
    assert outside <= allowed
    ours = {name for name in names if name.startswith("tests")}
    assert ours <= {f"tests.oracle.{other}" for other in ("ground", "layout")}


def test_one_end_moved_to_another_joint_changes_what_the_tracer_says() -> None:
    """The comparison with the generator can fail: a hot moved to the next terminal is seen."""
    yard = random_yard(0)
    lines = yard.text.splitlines()
    index = next(i for i, line in enumerate(lines) if line.startswith("  A: [["))
    joints: list[list[str]] = json.loads(lines[index].removeprefix("  A: "))
    first, second = [j for j in joints if j[0].isdigit()][:2]
    first[0], second[0] = second[0], first[0]
    lines[index] = "  A: " + json.dumps(joints)
    changed = Traced("\n".join(lines)).legs
    moved = {leg for leg, labels in Traced(yard.text).legs.items() if changed[leg] != labels}
    hots = {yard.labels[leg] for leg in moved}
    assert len(hots) == 2
    assert {role for role, *_ in hots} == {"hot"}
