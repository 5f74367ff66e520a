"""Two-wire paths and their decoders."""

from __future__ import annotations

import re

import pytest

from tests.checks.trench import assert_problems
from tests.jobs import edit


def stations(second: str) -> str:
    return f"""
stations:
  D1: {{area: gate trees, box: DX-1, decoder: DC-1}}
  D2:
    area: oak trees
    box: DX-2
    {second}
  D3: {{area: pine trees, box: DX-3, decoder: DC-3}}
"""


def decoders(second: str, more: str = "") -> str:
    return f"""
decoders:
  DC-1: {{box: DX-1, address: 201, to valve: 6 ft}}
  DC-2:
    box: DX-2
    {second}
  DC-3: {{box: DX-3, address: 203, to valve: 6 ft}}
{more}
"""


def test_a_station_without_a_decoder() -> None:
    text = stations("coil: usual").replace("D2:", "D2: # <- error station-without-decoder @ D2")
    assert_problems(text, "two-wire")


def test_two_stations_on_one_decoder() -> None:
    assert_problems(stations("decoder: DC-1 # <- error decoder-used-twice @ DC-1"), "two-wire")


def test_two_decoders_with_one_address() -> None:
    found = assert_problems(decoders("address: 201 # <- error address-twice @ 201"), "two-wire")
    assert found[0].sentence == "DC-1 and DC-2 both answer to address 201"


def test_a_decoder_that_drives_nothing() -> None:
    assert_problems(
        decoders(
            "address: 202",
            "  DC-4: {box: DX-3, address: 204} # <- note decoder-without-station @ DC-4",
        ),
        "two-wire",
    )


def test_a_decoder_on_a_controller_without_a_path() -> None:
    assert_problems("""
        decoders: {DC-1: {box: VB-1, address: 1}}
        stations:
          A1:
            area: front lawn
            box: VB-1
            hot: K1 red
            decoder: DC-1 # <- error decoder-without-path @ DC-1
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
    """)


def test_a_decoder_far_from_its_valve() -> None:
    assert_problems(
        decoders("address: 202\n    to valve: 21 ft # <- warning decoder-too-far @ 21 ft"),
        "two-wire",
    )


def test_a_decoder_as_far_from_its_valve_as_is_allowed() -> None:
    assert_problems(decoders("address: 202\n    to valve: 20 ft"), "two-wire")


def test_a_path_crossed_in_a_box() -> None:
    found = assert_problems(
        """
        joints:
          DX-2:
            - [M1 red, M2 black, DC-2 path 1] # <- error path-crossed @ [
            - [M1 black, M2 red, DC-2 path 2]
    """,
        "two-wire",
    )
    assert found[0].sentence == "in 'DX-2' the path of D is crossed: nothing beyond will answer"


TWO_PATHS = """
controllers:
  D:
    place: arboretum
    supply: two-wire
    stations: 8
    coil: usual
    path 1: [M1 red, M2 red]
    path 2: [M1 black, M2 black]
    path polarity: yes
  E:
    place: orchard
    supply: two-wire
    stations: 4
    coil: usual
    path 1: [N1 red, N2 red]
    path 2: [N1 black, N2 black]
    path polarity: yes
cables:
  M1: {gauge: 14 AWG, colors: [red, black], run: [D, 410 ft, DX-1]}
  M2: {gauge: 14 AWG, colors: [red, black], run: [DX-1, 300 ft, DX-2]}
  N1: {gauge: 14 AWG, colors: [red, black], run: [E, 100 ft, EX-1]}
  N2: {gauge: 14 AWG, colors: [red, black], run: [EX-1, 90 ft, EX-2]}
boxes: {DX-1: {}, DX-2: {}, EX-1: {}, EX-2: {}}
decoders:
  DC-1: {box: DX-1, address: 201, controller: D}
  DC-2: {box: DX-2, address: 202, controller: D}
  EC-1: {box: EX-1, address: 1, controller: E}
  EC-2: {box: EX-2, address: 2, controller: E}
stations:
  D1: {area: gate trees, box: DX-1, decoder: DC-1}
  D2: {area: oak trees, box: DX-2, decoder: DC-2}
  E1: {area: apple trees, box: EX-1, decoder: EC-1}
  E2: {area: pear trees, box: EX-2, decoder: EC-2}
joints:
  DX-1:
    - [M1 red, M2 black, DC-1 path 1] # <- error path-crossed @ [
    - [M1 black, M2 red, DC-1 path 2]
  EX-1:
    - [N1 red, N2 black, EC-1 path 1] # <- error path-crossed @ [
    - [N1 black, N2 red, EC-1 path 2]
"""


def test_a_second_path_is_looked_at_behind_one_that_is_crossed() -> None:
    assert_problems(TWO_PATHS, "two-wire")


@pytest.mark.parametrize(
    "path_2",
    ["    path 2: M2 black\n", ""],
    ids=["only the second cable is named", "the other side is not named at all"],
)
def test_a_path_that_no_cable_brings_home_reaches_no_decoder(path_2: str) -> None:
    """The path behind it is looked at all the same."""
    text = edit(TWO_PATHS, "[M1 red, M2 red]", "M2 red")
    text = edit(text, "    path 2: [M1 black, M2 black]\n", path_2)
    text = re.sub(r"  DX-1:\n( .*\n){2}", "", text)
    text = edit(text, "  DC-1:", "  DC-1: # <- error path-stops @ DC-1\n   ")
    text = edit(text, "  M2:", "  M2: # <- warning cables-look-alike @ M2\n   ")
    found = assert_problems(text, "two-wire")
    (stops,) = (problem for problem in found if problem.code == "path-stops")
    assert stops.sentence == ("the path of D does not reach 'DX-1': DC-1 and DC-2 will not answer")


def test_a_path_with_a_wrong_name_is_told_by_the_name_alone() -> None:
    text = TWO_PATHS.replace(
        "path 1: [M1 red, M2 red]", "path 1: [M9 red, M2 red] # <- error unknown-name @ M9 red"
    )
    text = re.sub(r"  DX-1:\n( .*\n){2}", "", text)
    assert_problems(text, "two-wire")


def test_a_decoder_crossed_on_the_path() -> None:
    assert_problems(
        """
        joints:
          DX-2:
            - [M1 red, M2 red, DC-2 path 2] # <- error path-crossed @ [
            - [M1 black, M2 black, DC-2 path 1]
    """,
        "two-wire",
    )


def test_a_path_crossed_where_that_does_not_matter() -> None:
    assert_problems(
        """
        controllers:
          D:
            place: arboretum
            supply: two-wire
            stations: 8
            coil: usual
            path 1: [M1 red, M2 red]
            path 2: [M1 black, M2 black]
        joints:
          DX-2:
            - [M1 red, M2 red, DC-2 path 2]
            - [M1 black, M2 black, DC-2 path 1]
    """,
        "two-wire",
    )


def test_the_two_sides_of_a_path_joined() -> None:
    assert_problems(
        """
        joints:
          DX-2:
            - [M1 red, M2 red, M1 black, DC-2 path 1] # <- error path-shorted @ [
            - [M2 black, DC-2 path 2]
    """,
        "two-wire",
    )


def test_a_path_cut_on_one_side() -> None:
    found = assert_problems(
        """
        joints:
          DX-2: # <- error path-stops @ DX-2
            - [M1 red, DC-2 path 1]
            - [M1 black, M2 black, DC-2 path 2]
    """,
        "two-wire",
    )
    assert found[0].sentence == "the path of D stops in 'DX-2': DC-3 will not answer"


def test_a_decoder_left_out_of_the_joints() -> None:
    found = assert_problems(
        """
        joints:
          DX-2: # <- error path-stops @ DX-2
            - [M1 red, M2 red]
            - [M1 black, M2 black]
    """,
        "two-wire",
    )
    assert found[0].sentence.endswith("DC-2 will not answer")


def test_decoder_outputs_joined() -> None:
    found = assert_problems(
        """
        boxes: {DX-1: {}, DX-2: {}, DX-3: {kind: splice box}}
        stations:
          D1: {area: gate trees, box: DX-1, decoder: DC-1}
          D2: {area: oak trees, box: DX-2, decoder: DC-2}
          D3: {area: pine trees, box: DX-2, decoder: DC-3}
        decoders:
          DC-1: {box: DX-1, address: 201}
          DC-2: {box: DX-2, address: 202}
          DC-3: {box: DX-2, address: 203}
        joints:
          DX-2:
            - [M1 red, M2 red, DC-2 path 1, DC-3 path 1]
            - [M1 black, M2 black, DC-2 path 2, DC-3 path 2]
            - [D2, D3] # <- error decoder-outputs-joined @ [
    """,
        "two-wire",
    )
    assert found[0].sentence == "in 'DX-2' the outputs of D2 and D3 are joined"


def ring(begin: str, mark: str, extra: str = "path polarity: yes") -> str:
    return f"""
controllers:
  D: # <- {mark}
    place: arboretum
    supply: two-wire
    stations: 8
    coil: usual
    path 1:
      - M1 red # <- note path-ring @ M1 red
      - M2 red
      - M3 red
    path 2: [M1 black, M2 black, M3 black]
    {extra}
cables:
  M1: {{gauge: 14 AWG, colors: [red, black], run: [D, 410 ft, DX-1, 380 ft, DX-2]}}
  M2: {{gauge: 14 AWG, colors: [red, black], run: [DX-2, 300 ft, DX-3]}}
  M3: {{gauge: 14 AWG, colors: [red, black], run: [{begin}, 300 ft, DX-3]}}
"""


def test_a_path_that_is_a_ring() -> None:
    assert_problems(ring("D", "").replace(" # <- \n", "\n"), "two-wire")


def test_a_path_goes_on_through_a_box_without_a_decoder() -> None:
    """Two cables that meet in a splice box, and nothing else: no joint need be written."""
    assert_problems(
        """
        controllers:
          D:
            place: arboretum
            supply: two-wire
            stations: 8
            coil: usual
            path 1: [M1 red, M2 red]
            path 2: [M1 black, M2 black]
            path polarity: yes
        cables:
          M1: {gauge: 14 AWG, colors: [red, black], run: [D, 410 ft, DX-1, 380 ft, SB-1]}
          M2: {gauge: 14 AWG, colors: [red, black], run: [SB-1, 300 ft, DX-2]}
        boxes: {DX-1: {place: gate}, SB-1: {place: bed, kind: splice box}, DX-2: {place: oaks}}
        stations:
          D1: {area: gate trees, box: DX-1, decoder: DC-1}
          D2: {area: oak trees, box: DX-2, decoder: DC-2}
        decoders:
          DC-1: {box: DX-1, address: 201, to valve: 6 ft}
          DC-2: {box: DX-2, address: 202, to valve: 6 ft}
    """,
        "two-wire",
    )


def test_a_path_with_a_tee() -> None:
    assert_problems(
        """
        controllers:
          D:
            place: arboretum
            supply: two-wire
            stations: 8
            coil: usual
            path 1: [M1 red, M2 red]
            path 2: [M1 black, M2 black]
            path polarity: yes
        cables:
          M1: {gauge: 14 AWG, colors: [red, black], run: [D, 410 ft, DX-1, 380 ft, DX-2]}
          M2: {gauge: 14 AWG, colors: [red, black], run: [DX-1, 300 ft, DX-3]}
    """,
        "two-wire",
    )


def test_a_path_without_a_surge_unit_where_one_is_due() -> None:
    found = assert_problems(
        ring("D", "warning surge-unit-missing @ D", "surge interval: 600 ft"), "two-wire"
    )
    assert found[0].sentence.startswith("'DX-2' is 790 ft (241 m) and 2 decoders of path beyond")


def test_a_path_with_enough_surge_units() -> None:
    text = ring("D", "", "surge interval: 600 ft").replace(" # <- \n", "\n")
    assert_problems(text + "surge units: [DX-1, DX-2, DX-3]\n", "two-wire")


def test_more_decoders_than_one_surge_unit_serves() -> None:
    text = ring("D", "warning surge-unit-missing @ D", "surge decoders: 1")
    found = assert_problems(text, "two-wire")
    assert found[0].sentence.startswith("'DX-2' is ")


def test_a_decoder_as_far_from_a_surge_unit_as_is_allowed() -> None:
    """410 and 380 ft of path are just the interval."""
    text = ring("D", "", "surge interval: 790 ft").replace(" # <- \n", "\n")
    assert_problems(text, "two-wire")


def test_one_side_of_a_path_that_is_not_listed_to_its_end() -> None:
    assert_problems(
        """
        controllers:
          D:
            place: arboretum
            supply: two-wire
            stations: 8
            coil: usual
            path 1: [M1 red, M2 red]
            path 2: M1 black
        decoders:
          DC-1: {box: DX-1, address: 201}
          DC-2: {box: DX-2, address: 202}
          DC-3: {box: DX-3, address: 203} # <- error path-stops @ DC-3
    """,
        "two-wire",
    )
