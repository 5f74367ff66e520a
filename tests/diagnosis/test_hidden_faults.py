"""What good readings leave open: which faults no value of theirs would show, by hand."""

from __future__ import annotations

import math

from cardgen.diagnosis import HiddenFault, HiddenKind, diagnose
from cardgen.results import Kind, Measured
from tests.diagnosis.small_yard import TREE, as_built_of, measured, walk
from tests.jobs import edit

ALL = [f"A{number}" for number in range(1, 9)]


def left_open(readings: list[Measured], text: str = TREE) -> dict[HiddenKind, HiddenFault]:
    found = diagnose(as_built_of(text), readings)
    assert found.is_healthy
    return {each.kind: each for each in found.hidden}


def test_all_stations_have_neighbors_of_like_ohms() -> None:
    """Two valves in every box, so each has one of equal ohms."""
    found = left_open(walk({}))
    assert set(found[HiddenKind.SWAPPED].valves) == set(ALL)
    assert {*found} == {
        HiddenKind.SMALL,
        HiddenKind.SWAPPED,
        HiddenKind.RUNS,
        HiddenKind.GROUND,
    }


def test_what_is_small_does_not_show_and_what_is_not_does() -> None:
    """On the last station, the one whose ohms are known least."""
    ohms = left_open(walk({}))[HiddenKind.SMALL].ohms
    assert ohms is not None and 3 < ohms < 12
    assert diagnose(as_built_of(), walk({8: 41.5 + 0.4 * ohms})).is_healthy
    assert not diagnose(as_built_of(), walk({8: 41.5 + math.ceil(ohms) + 1})).is_healthy


def test_who_was_seen_to_run_is_not_swapped_and_runs() -> None:
    ran = [measured(name, Kind.WALK_TEST, 1.0, to=name) for name in ALL]
    found = left_open([*walk({}), *ran])
    assert not {HiddenKind.SWAPPED, HiddenKind.RUNS} & {*found}
    # Those that were not run may still be swapped among themselves: A6 and A8 differ by 3.8 ohms.
    some = left_open([*walk({}), *ran[::2]])
    assert set(some[HiddenKind.SWAPPED].valves) == {"A2", "A4", "A6", "A8"}
    assert set(some[HiddenKind.RUNS].valves) == {"A2", "A4", "A6", "A8"}


def test_insulation_was_measured() -> None:
    read = [*walk({}), measured("A1", Kind.INSULATION, 200.0)]
    assert HiddenKind.GROUND not in left_open(read)


def test_leads_of_latching_coils() -> None:
    text = edit(TREE, "supply: 24 V AC, resistance", "supply: 9 V DC latching, resistance")
    text = edit(text, ", inrush: 0.40 A, holding: 0.23 A, minimum: 19 V", "")
    text = edit(text, "supply: 24 V AC\n", "supply: 9 V DC latching\n")
    text = edit(
        text, "    coil: usual\n", "    coil: usual\n    polarity: {hot: red, common: black}\n"
    )
    found = left_open(walk({}), text)
    assert set(found[HiddenKind.POLARITY].valves) == set(ALL)
    assert HiddenKind.RUNS not in found  # a pulse that opens it shows both


def test_nothing_is_left_open_where_there_is_a_fault() -> None:
    assert diagnose(as_built_of(), walk({1: math.inf})).hidden == ()
