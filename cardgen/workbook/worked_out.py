"""Turn a job as built into the sheets that are worked out: conductors, readings to expect."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt import AsBuilt, BuiltValve
from cardgen.cards.expected import (
    BOUND,
    at_controller,
    coil_alone,
    milliamperes,
    volts_at_valve,
)
from cardgen.cards.use_words import uses_in_words
from cardgen.words import Words, printed

# They are for reading; what is changed in them is not taken back.
WORKED_OUT = ("conductors", "readings")
_CONDUCTORS = ("conductor", "gauge", "from", "to", "serves")
_READINGS = (
    *("valve", "area", "box", "controller", "terminal"),
    *("ohms at the controller", "ohms at the coil", "volts", "milliamperes"),
)


def worked_out_sheets(asbuilt: AsBuilt, words: Words) -> dict[str, list[list[str]]]:
    conductors, readings = WORKED_OUT
    return {
        conductors: [list(_CONDUCTORS), *_conductors(asbuilt, words)],
        readings: [list(_READINGS), *(_reading(valve) for valve in asbuilt.in_order)],
    }


def _conductors(asbuilt: AsBuilt, words: Words) -> Iterator[list[str]]:
    """A row for each stretch that serves one thing."""
    for conductor in asbuilt.conductors:
        for stretch in conductor.stretches:
            serves = ", ".join(printed(text) for text in uses_in_words(words, stretch.uses))
            gauge = conductor.mark.gauge
            yield [conductor.name, gauge, stretch.first, stretch.last, serves]


def _reading(valve: BuiltValve) -> list[str]:
    read = (at_controller(valve), coil_alone(valve), volts_at_valve(valve), milliamperes(valve))
    place = (valve.id, valve.area, valve.box, valve.controller, valve.terminal)
    return [*place, *(text.replace(BOUND, " ") for text in read)]
