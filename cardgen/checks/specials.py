"""Check master valves and pump start relays: what hangs on a controller beside its stations."""

from __future__ import annotations

import re
from collections.abc import Iterator

from cardgen.checks.reporting import error, note, warning
from cardgen.checks.terminals import short_of_volts
from cardgen.facts import Facts
from cardgen.job.model import MasterValve
from cardgen.lists import listed
from cardgen.problems import Problem, Verdict
from cardgen.units import METRES_PER_FOOT, beside
from cardgen.wiring.model import Leg, LoadKind

LEAST_RELAY_WIRE = 15 * METRES_PER_FOOT  # metres; common practice, no source


def master_valves(facts: Facts) -> Iterator[Problem]:
    """A master valve runs with every station: on MV, and apart from other controllers."""
    for valve in facts.job.master_valves.values():
        if valve.id not in facts.wiring.loads:
            continue
        if valve.terminal and valve.terminal.value.isdigit():
            yield error(
                "master-valve-on-station",
                valve.terminal.span,
                f"{valve.id} is on station terminal {valve.terminal.value}: "
                "it would open only with that station",
                "a master valve belongs on MV, which runs with every station",
            )
            continue
        if len({said.value for said in valve.controllers}) > 1:
            shared = _shared(valve)
            yield shared
            if shared.verdict is Verdict.ERROR:
                continue
        if valve.normally_open:
            yield _normally_open(facts, valve)
        else:
            yield note(
                "master-valve",
                valve.span,
                f"{valve.id} in '{valve.box.value}' runs with every station of "
                f"{listed(c.value for c in valve.controllers)}",
                "measured at the controller, the current is that of station and master valve",
            )


def _normally_open(facts: Facts, valve: MasterValve) -> Problem:
    """MV of most controllers is live while a station runs, which would shut the water off."""
    controller = facts.wiring.loads[valve.id].controller
    if valve.terminal is None and not valve.isolators:
        return warning(
            "normally-open-on-mv",
            valve.span,
            f"{valve.id} in '{valve.box.value}' is normally open and on MV of {controller}: "
            "if MV is live while stations run, it shuts their water off",
            f"if MV of {controller} is set up for a normally open valve, say so with "
            "'terminal: MV'; else name the terminal that is live only to shut the water off",
        )
    return note(
        "normally-open",
        valve.span,
        f"{valve.id} in '{valve.box.value}' is normally open: power closes it",
        "its tag says so",
    )


def _shared(valve: MasterValve) -> Problem:
    names = [said.value for said in valve.controllers]
    bare = [name for name in names if name not in {said.value for said in valve.isolators}]
    if bare:
        return error(
            "master-valve-tied",
            valve.controllers[1].span,
            f"{valve.id} is on {listed(names)} with no isolator for {listed(bare)}: "
            "it ties the controllers together",
            f"give each controller an isolating relay and write 'isolators: [{', '.join(names)}]'",
        )
    return note(
        "master-valve-shared",
        valve.span,
        f"{valve.id} in '{valve.box.value}' serves {listed(names)}, each through its own isolator",
        "its return is nobody's common: keep it apart",
    )


def stations_that_are_master_valves(facts: Facts) -> Iterator[Problem]:
    """A station whose area says that it is a master valve."""
    for station in facts.job.stations.values():
        if re.search(r"\bmaster\s+valve\b|\bMV\b", station.area.value, re.IGNORECASE):
            yield error(
                "master-valve-on-station",
                station.area.span,
                f"{station.id} is called '{station.area.value}' but is a station: "
                "it would open only in its own turn",
                "describe it under 'master valves'; it belongs on MV",
            )


def relays(facts: Facts) -> Iterator[Problem]:
    """A pump start relay: never the pump itself, not too near, not on the valves' common."""
    for relay in facts.job.relays.values():
        load = facts.wiring.loads.get(relay.id)
        if load is None or load.kind is not LoadKind.RELAY:
            continue
        yield note(
            "pump-relay",
            relay.span,
            f"{relay.id} in '{load.box}' starts a pump through a relay on {load.terminal} "
            f"of {load.controller}",
            "only the relay's coil is on the terminal; the pump side is for a licensed electrician",
        )
        if not relay.return_path and not short_of_volts(facts, relay.id):
            yield warning(
                "relay-shares-common",
                relay.span,
                f"{relay.id} returns on the common of the valves and may chatter",
                "give it a way back of its own: 'return: ...'",
            )
        circuit = facts.circuits.get(relay.id)
        wire = sum(s.length.metres for s in circuit.hot if isinstance(s, Leg)) if circuit else None
        if wire is not None and wire < LEAST_RELAY_WIRE - 1e-6:
            yield warning(
                "relay-too-near",
                relay.span,
                f"{relay.id} is {beside(wire / METRES_PER_FOOT, 15, 0)} ft of wire "
                f"from {load.controller}",
                "keep a relay 15 ft (4.6 m) or more away: its contacts disturb the controller",
            )
