"""Stage 5: turn everything found so far into problems, by one list of checks of one shape."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from cardgen.checks import (
    boxes,
    circuits,
    coils,
    color_changes,
    commons,
    conductors,
    currents,
    dead,
    directions,
    jumpers,
    known_parts,
    latching,
    marking,
    not_known,
    paper,
    sensor_wires,
    sensors,
    sizes,
    spares,
    specials,
    terminals,
    two_wire,
    ways_apart,
)
from cardgen.facts import Facts
from cardgen.problems import Problem

Check = Callable[[Facts], Iterator[Problem]]

# A tuple, so that nothing can be added to it while the program runs.
CHECKS: tuple[Check, ...] = (
    directions.runs_toward_the_controller,
    conductors.conductors_used_twice,
    conductors.conductors_written_twice,
    conductors.spares_in_use,
    conductors.spares_listed_twice,
    conductors.spares_that_stop_short,
    conductors.spares_not_carried_on,
    conductors.spares_cut,
    conductors.spares_tied,
    conductors.home_runs_without_spare,
    spares.spares_too_few,
    conductors.hots_told_apart_by_flags,
    color_changes.color_changes,
    marking.cables_look_alike,
    marking.commons_look_alike,
    marking.names_look_alike,
    marking.shared_boxes,
    circuits.circuit_faults,
    commons.commons_missing,
    dead.dead_stretches,
    dead.joints_of_one_end,
    ways_apart.ways_apart,
    commons.several_commons,
    commons.common_rings,
    commons.commons_on_spares,
    terminals.terminals_that_are_not_there,
    terminals.terminals_used_twice,
    jumpers.jumpers,
    terminals.twins,
    terminals.devices,
    currents.overloads,
    currents.transformers,
    terminals.volts,
    specials.master_valves,
    specials.stations_that_are_master_valves,
    specials.relays,
    sensors.sensors,
    sensor_wires.sensor_wires_not_joined,
    sensors.jumpers_without_sensor,
    boxes.boxes_without_valves,
    boxes.boxes_too_small,
    boxes.joints_without_box,
    boxes.connectors,
    sizes.units_mixed,
    sizes.legs_out_of_scale,
    sizes.odd_gauges,
    coils.impossible_coils,
    latching.coils_on_wrong_supply,
    latching.coils_unknown,
    latching.supply_tolerance,
    latching.polarity,
    latching.runs_too_long,
    two_wire.decoders,
    two_wire.decoder_wires,
    two_wire.decoder_outputs,
    two_wire.paths,
    known_parts.known_parts_not_joined,
    not_known.not_known,
    paper.private_words,
    paper.starter_values,
    paper.changes_ahead,
)


def check(facts: Facts) -> tuple[Problem, ...]:
    """All problems that the checks find."""
    return tuple(problem for one in CHECKS for problem in one(facts))


__all__ = ["CHECKS", "check"]
