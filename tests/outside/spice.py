"""Hand the network of a job to ngspice, a circuit simulator that shares no code with cardgen.

Nets become nodes, every leg of every conductor a resistor, every coil a resistor with an
inductor; joints and uncut conductors are one node, as they are in the ground.
"""

from __future__ import annotations

import math
import re
import subprocess
from collections.abc import Iterable

from cardgen.facts import Facts
from cardgen.trade.copper import resistance
from cardgen.wiring.wiring_parts import End, Leg, Load

MAINS_HERTZ = 60
RADIANS = 2 * math.pi * MAINS_HERTZ
CONTACT = 1e-6  # ohm; a closed contact
EARTH = 1e6  # ohm; from C to ground, through which nothing flows
AIR = 1e12  # ohm; from every node to ground, so that what hangs loose has a voltage


def ohms_by_ngspice(facts: Facts, loads: Iterable[Load]) -> dict[str, float]:
    """For each 1 A sent through the terminal and back from C: its volts are the ohms.

    One deck for all of them, as a process for each would take longer than solving it.
    """
    lines = [*_wires(facts), *_coils(facts, volts=None)]
    ends = {load.id: (_node(facts, load.hot_end), _node(facts, load.back_end)) for load in loads}
    backs = dict.fromkeys(back for _, back in ends.values())
    lines += [f"RE{number} {back} 0 {EARTH:g}" for number, back in enumerate(backs)]
    control, asked = [], {}
    for number, (name, (hot, back)) in enumerate(ends.items()):
        lines.append(f"I{number} {back} {hot} dc 0")
        asked[name] = _between(hot, back)
        solved = (f"alter i{number} dc = 1", "op", *_print(number, asked[name]), "destroy all")
        control += [*solved, f"alter i{number} dc = 0"]
    return _run(lines, control, asked)


def volts_by_ngspice(facts: Facts, on: Iterable[Load], volts: float) -> dict[str, float]:
    """Volts at each coil of `on` at 60 Hz while all of them are on."""
    on = list(on)
    lines = [*_wires(facts), *_coils(facts, volts=volts)]
    lines.append(f"V0 {_node(facts, on[0].back_end)} 0 ac 0")
    # Terminals that a jumper links are one node, and so one source.
    for number, node in enumerate(dict.fromkeys(_node(facts, load.hot_end) for load in on), 1):
        lines.append(f"V{number} {node} 0 ac {volts}")
    asked = {
        load.id: _between(_node(facts, load.hot_lead), _node(facts, load.back_lead)) for load in on
    }
    prints = [line for n, between in enumerate(asked.values()) for line in _print(n, between)]
    return _run(lines, [f"ac lin 1 {MAINS_HERTZ} {MAINS_HERTZ}", *prints], asked)


def _node(facts: Facts, end: End) -> str:
    return f"n{facts.network.net(end)}"


def _between(one: str, two: str) -> str:
    return f"abs(v({one})-v({two}))"


def _wires(facts: Facts) -> list[str]:
    lines = []
    edges = [
        edge for net, found in facts.network.edges.items() for edge in found if edge.one == net
    ]
    for number, edge in enumerate(edges):
        ohms = CONTACT
        if isinstance(edge.step, Leg):
            assert edge.step.length is not None and edge.step.conductor.gauge is not None
            per_meter = resistance(edge.step.conductor.gauge) / 1000
            ohms = per_meter * edge.step.length.meters
        if edge.one != edge.two:
            lines.append(f"RW{number} n{edge.one} n{edge.two} {ohms:.12g}")
    return lines


def _coils(facts: Facts, volts: float | None) -> list[str]:
    """Coils with their reactance at the rated `volts`, or bare resistances for direct current."""
    lines = []
    for number, load in enumerate(facts.wiring.loads.values()):
        if load.decoder is not None or load.coil is None:
            continue
        assert load.coil.resistance is not None
        one, two = _node(facts, load.hot_lead), _node(facts, load.back_lead)
        if volts is None or load.coil.holding is None:
            lines.append(f"RC{number} {one} {two} {load.coil.resistance:.12g}")
            continue
        reactance = math.sqrt((volts / load.coil.holding) ** 2 - load.coil.resistance**2)
        lines.append(f"RC{number} {one} m{number} {load.coil.resistance:.12g}")
        lines.append(f"LC{number} m{number} {two} {reactance / RADIANS:.12g}")
    return lines


def _print(number: int, asked: str) -> tuple[str, str]:
    return f"let a{number} = {asked}", f"print a{number}"


def _run(lines: list[str], control: list[str], asked: Iterable[str]) -> dict[str, float]:
    """Solve one deck in batch mode and take the numbers from what it prints."""
    whole = ["* a job", *lines, f".options rshunt={AIR:g}", ".control", *control, ".endc", ".end"]
    deck = "\n".join(whole)
    done = subprocess.run(
        ["ngspice", "-b"], input=deck + "\n", capture_output=True, text=True, check=False
    )
    found = dict(re.findall(r"^a(\d+) = ([-+0-9.eE]+)", done.stdout, re.MULTILINE))
    names = list(asked)
    assert len(found) == len(names), done.stdout[-2000:] + done.stderr[-2000:]
    return {name: float(found[str(n)]) for n, name in enumerate(names)}
