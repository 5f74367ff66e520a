"""What is kept of a yard, and what a file that does not say it means."""

from __future__ import annotations

from dataclasses import fields, is_dataclass

from cardgen.asbuilt import AsBuilt, as_built
from cardgen.asbuilt.model import as_built as as_built_model
from cardgen.asbuilt.model import built_boxes, built_conductors, built_controllers, built_valves
from tests.checks.bases import completed
from tests.jobs import examined

PLAIN = """\
boxes: {VB-1: {place: front walk}, VB-2: {place: front bed}}
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, blue, green, tan]
    run: [A, 85 ft, VB-1, 60 ft, VB-2]
"""


def built(snippet: str) -> AsBuilt:
    found = examined(completed(snippet))
    assert found.facts is not None
    return as_built(found.facts)


# What a published file lacks is read as its default, and what is so is not written: whoever
# changes one of these changes what such files say.
SAID_OF_NOTHING = {
    "AsBuilt": {"decoders": 0},
    "BuiltBox": {"surge_unit": False, "where_unknown": False},
    "BuiltController": {"stations": 0},
    "BuiltSpare": {"listed": False, "dead": False},
    "BuiltStretch": {"fed_from_last": False},
    "BuiltValve": {"line_voltage": False, "hot_unknown": False},
    "Capped": {"stops": False},
    "Landed": {"ring": False},
    "Member": {"feeds": False, "pigtail": False, "joint": 0},
    "OwnerFinding": {"is_open": True},
}


def test_what_a_published_file_does_not_say_is_read_as_it_was_meant() -> None:
    found: dict[str, dict[str, object]] = {}
    for module in (as_built_model, built_boxes, built_conductors, built_controllers, built_valves):
        for kind in vars(module).values():
            for field in fields(kind) if is_dataclass(kind) else ():
                if isinstance(field.default, int):
                    found.setdefault(kind.__name__, {})[field.name] = field.default
    assert found == SAID_OF_NOTHING


def test_the_wires_of_a_sensor_are_on_its_terminals_and_not_capped() -> None:
    sensor = "sensors:\n  RAIN: {kind: rain, controllers: A, conductors: [K1 green, K1 tan]}\n"
    capped = [
        [each.conductor for each in built(text).controllers[0].capped]
        for text in (PLAIN, PLAIN + sensor)
    ]
    assert capped == [["K1 green", "K1 tan"], []]


def test_the_connectors_of_a_controller_are_those_on_no_terminal() -> None:
    pigtail = """\
pigtails: {PT-1: {at: A, gauge: 18 AWG}}
joints:
  A:
    - [C, PT-1]
    - [PT-1, K1 white, K1 green]
    - [1, K1 red]
    - [2, K1 blue]
"""
    found = [built(text).controllers[0].connectors for text in (PLAIN, PLAIN + pigtail)]
    assert [[len(joint.members) for joint in joints] for joints in found] == [[], [3]]
