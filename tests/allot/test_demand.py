"""What each leg of cable needs and has, and what is said where it has too few."""

from __future__ import annotations

import pytest

from cardgen.allot import LegNeed, allot
from cardgen.allot.demand import Tracks
from tests.allot.test_choose import FORK, PLAIN, SPLICED, dedented
from tests.allot.yards import job, refused, sentences
from tests.jobs import examined, sample


def counts(leg: LegNeed) -> tuple[int, ...]:
    return leg.hots, leg.commons, leg.others, leg.spares, leg.needs, leg.has


def stations(box: str, number: int, first: int = 1) -> str:
    rows = (f"  A{n}: {{area: x, box: {box}}}\n" for n in range(first, first + number))
    return "".join(rows)


def test_what_the_legs_of_a_sound_job_need() -> None:
    legs = {(leg.cable.id, leg.end): counts(leg) for leg in allot(sample("quarry")).legs}
    # Hots of A1 to A8, common, the pair of the master valve, two listed spares.
    assert legs["A-K1", "SB-1"] == (8, 1, 2, 2, 13, 13)
    assert legs["A-S2", "MVB-1"] == (0, 0, 2, 0, 2, 2)
    assert legs["A-K2", "VB-5"] == (4, 1, 0, 2, 7, 9)


def test_a_single_is_in_the_legs_up_to_where_it_is_used() -> None:
    """Of a white and three reds, two reds end in the first box: nobody pulls a dead one onward."""
    text = job(PLAIN).replace(
        "{gauge: 18 AWG, colors: [white, red, blue, green],",
        "{singles: [{color: white, gauge: 14 AWG, count: 1},"
        " {color: red, gauge: 14 AWG, flags: [A1, A2, A3]}],",
    )
    text += "stations:\n" + "".join(
        f"  A{n}: {{area: x, box: VB-{box}, hot: K1 red A{n}}}\n"
        for n, box in ((1, 1), (2, 1), (3, 2))
    )
    legs = {leg.end: counts(leg) for leg in allot(text).legs}
    assert legs == {"VB-1": (3, 1, 0, 0, 4, 4), "VB-2": (1, 1, 0, 0, 2, 2)}


def test_the_cable_with_too_few_is_told_at_its_name() -> None:
    text = job(PLAIN) + "stations:\n" + stations("VB-2", 6)
    (problem,) = refused(text).problems
    assert problem.code == "conductors-short"
    assert problem.sentence == (
        "K1 between 'A' and 'VB-1' needs 7 conductors (6 hots, 1 common), it has 4"
    )
    assert problem.help == "lay a cable with 7 or more, or another one beside it"
    line = text.splitlines()[problem.span.line - 1]
    assert line[problem.span.column - 1 :].startswith("K1:")


def test_spares_that_are_asked_for_are_part_of_the_need() -> None:
    text = job(PLAIN).replace("place: front bed", "place: front bed, spares: 2")
    (problem,) = refused(text + "stations:\n" + stations("VB-1", 2)).problems
    assert "(2 hots, 1 common, 2 spares), it has 4" in problem.sentence
    assert problem.help.endswith("or reserve fewer spares")


def test_each_cable_that_is_short_is_told_once() -> None:
    text = job(SPLICED) + "stations:\n" + stations("VB-2", 4)
    assert sentences(text) == [
        (
            "conductors-short: K1 between 'A' and 'VB-1' needs 5 conductors (4 hots, 1 common), "
            "it has 4"
        ),
        (
            "conductors-short: K2 between 'SB-1' and 'VB-2' needs 5 conductors (4 hots, 1 common), "
            "it has 4"
        ),
    ]


def test_a_fork_lacks_only_what_it_lacks() -> None:
    text = FORK.replace(
        "K1: {gauge: 18 AWG, colors: [white, red, blue]",
        "K1: {gauge: 18 AWG, colors: [white, red, blue, tan, pink, green]",
    )
    text = job(text) + "stations:\n" + stations("VB-1", 3) + stations("VB-2", 1, first=4)
    assert sentences(text) == [
        (
            "conductors-short: K2 between 'SB-1' and 'VB-1' needs 4 conductors (3 hots, 1 common), "
            "it has 3"
        ),
    ]


def test_two_cables_side_by_side_are_both_filled_before_one_is_short() -> None:
    text = """
    controllers:
      A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
    cables:
      K1: {gauge: 18 AWG, colors: [white, red, blue], run: [A, 85 ft, VB-1]}
      K2: {gauge: 18 AWG, colors: [white, red], band: yellow tape, run: [A, 85 ft, VB-1]}
    boxes:
      VB-1: {place: front walk}
    stations:
    """
    assert sentences(job(dedented(text)).rstrip() + "\n" + stations("VB-1", 4)) == [
        (
            "conductors-short: K1 between 'A' and 'VB-1' needs 4 conductors (3 hots, 1 common), "
            "it has 3"
        ),
    ]


def test_a_box_without_a_cable() -> None:
    text = job(PLAIN).replace("VB-2: {", "VB-3: {place: far}\n  VB-2: {")
    found = sentences(text + "stations:\n" + stations("VB-3", 1))
    assert found == ["hot-without-way: no cable leads from A to 'VB-3', so A1 gets no hot"]


def test_a_common_that_carries_a_sensor_and_a_path_are_counted() -> None:
    legs = allot(sample("heron")).legs
    path = [counts(leg) for leg in legs if leg.cable.id == "D-M"]
    assert set(path) == {(0, 0, 2, 0, 2, 2)}


def test_a_job_with_other_errors_is_not_touched() -> None:
    text = job(PLAIN).replace("85 ft", "85") + "stations:\n" + stations("VB-1", 1)
    found = refused(text)
    assert [p.code for p in found.problems] == ["unit-missing"]
    assert found.legs == ()


def test_all_ways_with_the_fewest_splices_are_found() -> None:
    """From A to VB-1 by SB-1 or by SB-2; by both there is one splice more, to PB-3 none."""
    read = examined(
        job(PLAIN[: PLAIN.index("cables:")]) + "cables:\n"
        "  K1: {gauge: 18 AWG, colors: [white, red], run: [A, 9 ft, PB-3, 9 ft, SB-1]}\n"
        "  K2: {gauge: 18 AWG, colors: [white, red], run: [SB-1, 9 ft, VB-1]}\n"
        "  K3: {gauge: 18 AWG, colors: [white, red], run: [A, 9 ft, SB-2]}\n"
        "  K4: {gauge: 18 AWG, colors: [white, red], run: [VB-1, 9 ft, SB-2]}\n"
        "  K5: {gauge: 18 AWG, colors: [white, red], run: [SB-1, 9 ft, SB-2]}\n"
        "boxes: {PB-3: {}, SB-1: {}, SB-2: {}, VB-1: {}}\n"
    ).job
    assert read is not None
    tracks = Tracks(read)
    assert tracks.to("A", "VB-1") == [
        (("K1", 0), ("K1", 1), ("K2", 0)),
        (("K3", 0), ("K4", 0)),
    ]
    assert tracks.to("A", "PB-3") == [(("K1", 0),)]
    assert tracks.to("A", "SB-9") == []


def test_boxes_that_one_cable_alone_passes_are_not_gone_on_from(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Of all boxes of the first cable only SB-1 is a fork, so that two places are tried."""
    passed = ", ".join(f"9 ft, VB-{number}" for number in range(2, 9))
    boxes = ", ".join(f"VB-{number}: {{}}" for number in range(1, 9))
    read = examined(
        job(PLAIN[: PLAIN.index("cables:")]) + "cables:\n"
        f"  K1: {{gauge: 18 AWG, colors: [white, red], run: [A, {passed}, 9 ft, SB-1]}}\n"
        "  K2: {gauge: 18 AWG, colors: [white, red], run: [SB-1, 9 ft, VB-1]}\n"
        f"boxes: {{SB-1: {{}}, {boxes}}}\n"
    ).job
    assert read is not None
    monkeypatch.setattr("cardgen.allot.demand.MOST_TRIED", 2)
    assert Tracks(read).to("A", "VB-1") == [(*(("K1", leg) for leg in range(8)), ("K2", 0))]


def test_the_spares_of_a_box_are_counted_where_they_have_room() -> None:
    """Three for VB-1: K1 has room for two beside hot and common; K2 for the third, K3 for none."""
    text = (
        job(PLAIN[: PLAIN.index("cables:")]) + "cables:\n"
        "  K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 9 ft, VB-1]}\n"
        "  K2: {gauge: 18 AWG, colors: [pink, red, blue, tan], run: [A, 9 ft, VB-1]}\n"
        "  K3: {gauge: 18 AWG, colors: [gray, black], run: [A, 9 ft, VB-1]}\n"
        "boxes: {VB-1: {spares: 3}}\n"
        "stations: {A1: {area: lawn, box: VB-1}}\n"
    )
    assert {leg.cable.id: counts(leg) for leg in allot(text).legs} == {
        "K1": (1, 1, 0, 2, 4, 4),
        "K2": (0, 0, 0, 1, 1, 4),
        "K3": (0, 0, 0, 0, 0, 2),
    }
