"""One conductor with a use of its own on each stretch: `from` and `to` in the file.

Each expected way is what a finger finds that follows the copper, box by box, by hand.
"""

from __future__ import annotations

import pytest

from tests.checks.trench import found_in
from tests.jobs import examined
from tests.wiring.trench import job, joints, said, ways

K1 = "white, red, brown, yellow, green, blue"
YARD = f"""
cables:
  K1: {{gauge: 18 AWG, colors: [{K1}], run: [A, 80 ft, VB-1, 90 ft, VB-2, 70 ft, VB-3]}}
boxes: {{VB-1: {{kind: pull box}}, VB-2: {{kind: pull box}}, VB-3: {{kind: pull box}}}}
"""
FIRST = "stations:\n  A1: {area: a, box: VB-1, hot: K1 red}\n"
WHITE_OUT = "A - K1 white - VB-1 - K1 white - VB-2 - K1 white - VB-3"


def errors(text: str) -> list[str]:
    """All errors and warnings; notes are no matter here."""
    worst = [p for p in examined(text).problems if str(p.verdict) != "note"]
    return [one.split(maxsplit=1)[1] for one in found_in(text, tuple(worst))]


def test_the_remainder_of_a_hot_serves_another_station() -> None:
    text = job(
        f"{YARD}{FIRST}  A2: {{area: b, box: VB-3, hot: [K1 brown, K1 red from VB-1]}}\n"
        "spares: {SP-1: {conductor: K1 brown, from: VB-1}}\n"
    )
    assert errors(text) == []
    assert ways(text) == {
        "A1": "A - K1 red - VB-1 | A - K1 white - VB-1",
        "A2": f"A - K1 brown - VB-1 - K1 red - VB-2 - K1 red - VB-3 | {WHITE_OUT}",
    }


def test_both_words_for_one_box_say_the_same() -> None:
    hots = ("[K1 brown to VB-1, K1 red from VB-1]", "[K1 brown to VB-1, K1 red]")
    one, two = (job(f"{YARD}{FIRST}  A2: {{area: b, box: VB-3, hot: {hot}}}\n") for hot in hots)
    assert ways(one) == ways(two) != {}


def test_the_common_takes_over_the_remainder_of_a_hot() -> None:
    body = YARD + FIRST + "  A2: {area: b, box: VB-3, hot: K1 brown}\n"
    expected = {
        "A1": "A - K1 red - VB-1 | A - K1 white - VB-1",
        "A2": "A - K1 brown - VB-1 - K1 brown - VB-2 - K1 brown - VB-3 | "
        "A - K1 white - VB-1 - K1 red - VB-2 - K1 red - VB-3",
    }
    common = "[K1 white to VB-1, K1 red from VB-1]"
    written = "joints: {VB-1: [[K1 red in, A1], [K1 white in, A1, K1 red out]]}\n"
    for text in (job(body, common), job(body + written, common)):
        assert errors(text) == []
        assert ways(text) == expected


def test_a_common_rides_on_another_conductor_for_one_leg() -> None:
    body = f"{YARD}{FIRST}  A2: {{area: b, box: VB-3, hot: K1 brown}}\n"
    text = job(body, "[K1 white to VB-1, K1 red from VB-1 to VB-2, K1 white from VB-2]")
    assert errors(text) == []
    assert ways(text)["A2"].endswith(" | A - K1 white - VB-1 - K1 red - VB-2 - K1 white - VB-3")
    assert joints(text, "VB-2") == [{"K1 red in", "K1 white out"}]


RIDE = f"A - K1 yellow - VB-1 - K1 brown - VB-2 - K1 yellow - VB-3 | {WHITE_OUT}"
FREE = """\
spares:
  SP-1: {conductor: K1 brown, to: VB-1}
  SP-2: {conductor: K1 brown from VB-2}
  SP-3: {conductor: K1 yellow, from: VB-1, to: VB-2}
"""


@pytest.mark.parametrize(
    ("hot", "written"),
    [
        ("[K1 yellow to VB-1, K1 brown to VB-2, K1 yellow]", ""),
        ("[K1 yellow, K1 brown from VB-1, K1 yellow from VB-2]", ""),
        (
            "[K1 yellow, K1 brown, K1 yellow]",
            (
                "joints: {VB-1: [[K1 yellow in, K1 brown out]], "
                "VB-2: [[K1 brown in, K1 yellow out]]}\n"
            ),
        ),
    ],
)
def test_a_middle_leg_rides_on_another_conductor(hot: str, written: str) -> None:
    text = job(f"{YARD}stations: {{A1: {{area: a, box: VB-3, hot: {hot}}}}}\n{FREE}{written}")
    assert errors(text) == []
    assert ways(text) == {"A1": RIDE}


def test_two_hots_exchange_their_conductors_and_change_back() -> None:
    """Three takeovers on two conductors: which joint is meant is told by its side."""
    hots = ("red, K1 brown, K1 red, K1 brown", "brown, K1 red, K1 brown, K1 red")
    stations = "".join(
        f"  A{n}: {{area: a, box: VB-4, hot: [K1 {hot}]}}\n" for n, hot in enumerate(hots, 1)
    )
    exchanged = "[[K1 red in, K1 brown out], [K1 brown in, K1 red out]]"
    body = YARD.replace("VB-3]", "VB-3, 50 ft, VB-4]").replace("VB-3: {", "VB-4: {}, VB-3: {")
    text = job(
        f"{body}stations:\n{stations}joints:\n"
        + "".join(f"  VB-{n}: {exchanged}\n" for n in (1, 2, 3))
    )
    assert errors(text) == []
    assert {name: way.split(" | ")[0] for name, way in ways(text).items()} == {
        "A1": "A - K1 red - VB-1 - K1 brown - VB-2 - K1 red - VB-3 - K1 brown - VB-4",
        "A2": "A - K1 brown - VB-1 - K1 red - VB-2 - K1 brown - VB-3 - K1 red - VB-4",
    }


def test_fed_from_the_far_side() -> None:
    body = (
        YARD
        + "  K2: {gauge: 18 AWG, colors: [white, red, tan], run: [A, 50 ft, VB-3]}\n"
        + "stations:\n"
        "  A1: {area: a, box: VB-1, hot: K1 red}\n"
        "  A2: {area: b, box: VB-2, hot: [K2 red, K1 red from VB-3 to VB-2]}\n"
    )
    body = body.replace(body[body.index("boxes:") : body.index("  K2")], "")
    body += "boxes: {VB-1: {}, VB-2: {}, VB-3: {kind: splice box}}\n"
    text = job(body, "[K1 white to VB-1, K2 white, K1 white from VB-3 to VB-2]")
    assert errors(text) == []
    assert ways(text) == {
        "A1": "A - K1 red - VB-1 | A - K1 white - VB-1",
        "A2": "A - K2 red - VB-3 - K1 red - VB-2 | A - K2 white - VB-3 - K1 white - VB-2",
    }


def test_what_is_said_to_end_is_cut_though_nothing_takes_it_there() -> None:
    text = job(f"{YARD}{FIRST}".replace("K1 red", "K1 red to VB-2"), "K1 white to VB-2")
    assert joints(text, "VB-2") == [{"K1 red in"}, {"K1 white in"}]


def test_a_sensor_uses_a_conductor_only_as_far_as_it_hangs() -> None:
    text = job(
        f"{YARD}{FIRST}  A2: {{area: b, box: VB-3, hot: [K1 brown, K1 blue from VB-2]}}\n"
        "sensors: {RS-1: {kind: rain, controllers: A, contact: normally closed, "
        "conductors: [K1 green to VB-2, K1 blue to VB-2]}}\n"
        "spares: {SP-1: {conductor: K1 green from VB-2}}\n"
    )
    assert errors(text) == []
    assert ways(text)["A2"].startswith("A - K1 brown - VB-1 - K1 brown - VB-2 - K1 blue - VB-3 |")


def test_a_master_valve_goes_and_returns_on_stretches() -> None:
    text = job(
        f"{YARD}{FIRST}  A2: {{area: b, box: VB-3, hot: [K1 brown, K1 yellow from VB-1]}}\n"
        "master valves: {MV-1: {controllers: A, box: VB-1, hot: K1 yellow, "
        "return: [K1 blue to VB-1]}}\n"
        "spares: {SP-1: {conductor: K1 blue, from: VB-1}}\n"
    )
    assert errors(text) == []
    assert ways(text)["MV-1"] == "A - K1 yellow - VB-1 | A - K1 blue - VB-1"


def test_a_single_that_is_spare_beyond_its_valve_is_not_cut_short() -> None:
    text = job(
        """
        cables:
          S1:
            run: [A, 80 ft, VB-1, 90 ft, VB-2]
            singles:
              - {color: red, gauge: 14 AWG, flags: A1 to A3}
              - {color: white, gauge: 12 AWG}
        boxes: {VB-1: {}, VB-2: {}}
        stations:
          A1: {area: a, box: VB-1, hot: S1 red A1}
          A2: {area: b, box: VB-2, hot: S1 red A2}
        spares: {SP-1: {conductor: S1 red A1 from VB-1, to: VB-2}}
        """,
        "S1 white",
    )
    assert errors(text) == []
    wiring = examined(text).wiring
    assert wiring is not None
    assert wiring.conductors["S1 red A1"].places == ("A", "VB-1", "VB-2")


@pytest.mark.parametrize(
    ("station", "rest", "found"),
    [
        (  # two uses on one leg
            "box: VB-2, hot: [K1 brown, K1 red from VB-1]",
            "  A3: {area: c, box: VB-3, hot: [K1 blue, K1 red from VB-1]}\n",
            ["error conductor-used-twice @ K1 red from VB-1"],
        ),
        (
            "box: VB-2, hot: [K1 brown, K1 red from VB-1]",
            "spares: {SP-1: {conductor: K1 red from VB-1}}\n",
            ["error spare-in-use @ K1 red from VB-1"],
        ),
        (
            "box: VB-2, hot: K1 brown",
            (
                "spares: {SP-1: {conductor: K1 red from VB-1}, "
                "SP-2: {conductor: K1 red, from: VB-2}}\n"
            ),
            ["warning spare-listed-twice @ K1 red"],
        ),
        (
            "box: VB-2, hot: K1 brown",
            (
                "spares: {SP-1: {conductor: K1 red, from: VB-1, to: VB-2}, "
                "SP-2: {conductor: K1 red, from: VB-2}}\n"
            ),
            [],
        ),
        (  # the joint beyond is no matter of the spare
            "box: VB-3, hot: [K1 brown, K1 green from VB-2]",
            (
                "spares: {SP-1: {conductor: K1 green, to: VB-2}}\n"
                "joints: {VB-2: [[K1 brown in, K1 green out]]}\n"
            ),
            [],
        ),
        (
            "box: VB-3, hot: [K1 brown, K1 green from VB-2]",
            (
                "spares: {SP-1: {conductor: K1 green}}\n"
                "joints: {VB-2: [[K1 brown in, K1 green out]]}\n"
            ),
            ["error spare-in-use @ K1 green"],
        ),
        (
            "box: VB-2, hot: K1 brown",
            "spares: {SP-1: {conductor: K1 green, from: A, to: VB-3}}\n",
            [],
        ),
    ],
)
def test_uses_are_compared_leg_by_leg(station: str, rest: str, found: list[str]) -> None:
    text = job(f"{YARD}{FIRST}  A2: {{area: b, {station}}}\n{rest}")
    assert errors(text) == found


@pytest.mark.parametrize(
    ("hot", "sentence"),
    [
        ("[K1 yellow, K1 brown]", "K1 brown runs beside K1 yellow from 'A' on"),
        (
            "[K1 yellow to VB-2, K1 brown from VB-1]",
            "K1 yellow ends in 'VB-2', and K1 brown begins in 'VB-1'",
        ),
        (
            "[K1 yellow from A to VB-3, K1 brown]",
            "A1's hot has arrived in 'VB-3' on K1 yellow: K1 brown carries nothing",
        ),
        (
            "[K1 yellow, K1 brown from A]",
            "K1 yellow carries nothing: in 'A' K1 brown takes over at once",
        ),
    ],
)
def test_what_would_be_dropped_is_told(hot: str, sentence: str) -> None:
    text = job(f"{YARD}stations: {{A1: {{area: a, box: VB-3, hot: {hot}}}}}\n")
    assert said(text) == [f"hot-unclear: {sentence}"]


@pytest.mark.parametrize(
    ("body", "found"),
    [
        ("A1: {area: a, box: VB-3, hot: K1 red from VB-9}", "unknown-name @ K1 red from VB-9"),
        ("A1: {area: a, box: VB-3, hot: K1 red to VB-9}", "unknown-name @ K1 red to VB-9"),
        (
            "A1: {area: a, box: VB-3, hot: [K1 red, K1 brown from PB-1]}",
            "run-misses-box @ K1 brown from PB-1",
        ),
        ("A1: {area: a, box: VB-3, hot: K1 red to VB-1}", "hot-stops @ K1 red to VB-1"),
        ("A1: {area: a, box: VB-3, hot: K1 red from VB-1}", "hot-stops @ K1 red from VB-1"),
    ],
)
def test_a_stretch_that_is_none(body: str, found: str) -> None:
    text = job(f"{YARD}stations:\n  {body}\n").replace(
        "boxes: {", "boxes: {PB-1: {kind: pull box}, "
    )
    assert errors(text) == [f"error {found}"]


@pytest.mark.parametrize(
    ("spare", "found"),
    [
        ("from: VB-9", "error unknown-name @ VB-9"),
        ("from: PB-1", "warning spare-stops-short @ PB-1"),
    ],
)
def test_a_spare_from_where_it_is_not(spare: str, found: str) -> None:
    text = job(f"{YARD}{FIRST}spares: {{SP-1: {{conductor: K1 green, {spare}}}}}\n")
    text = text.replace("boxes: {", "boxes: {PB-1: {kind: pull box}, ")
    assert errors(text) == [found]
