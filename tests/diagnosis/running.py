"""Volts and milliamperes of a yard while stations run, by ngspice at 60 Hz.

Each coil is its ohms with an inductor, so that on 24 V it takes its holding current.
"""

from __future__ import annotations

import math
import re
import subprocess
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tests.diagnosis.ground import common_end, hot_end
from tests.diagnosis.metal import Circuit, Joined
from tests.diagnosis.plans import PlannedValve

SUPPLY = 24.0
HERTZ = 60
AIR = 1e9  # ohms to earth from every node, so that what hangs loose has a voltage


@dataclass(frozen=True, slots=True)
class Running:
    """Attributes:
    volts: by valve at the leads of its coil.
    milliamperes: by valve in its hot at the controller; in all: at C.
    """

    volts: dict[str, float]
    milliamperes: dict[str, float]
    in_all: float


def running(
    circuit: Circuit,
    on: Sequence[PlannedValve],
    holding: float = 0.2,
    asked: Sequence[PlannedValve] = (),
) -> Running:
    """These stations on, all others lifted; their C is one.

    Args:
        asked: whose volts are wanted; those of `on` if none.
    """
    whose = asked or on
    nodes = Joined(e for e in circuit.values() if e.ohms == 0)
    lines = list(_parts(circuit, nodes, holding))
    lines.append(f"VC {nodes[common_end(on[0].controller)]} 0 ac 0")
    lines += [f"VH{n} {nodes[hot_end(valve)]} 0 ac {SUPPLY}" for n, valve in enumerate(on)]
    wanted = {f"volts {v.id}": _across(nodes, v) for v in whose}
    wanted |= {f"amperes {v.id}": f"abs(i(vh{n}))" for n, v in enumerate(on)}
    found = _solved(lines, {**wanted, "all": "abs(i(vc))"})
    return Running(
        {v.id: found[f"volts {v.id}"] for v in whose},
        {v.id: 1000 * found[f"amperes {v.id}"] for v in on},
        1000 * found["all"],
    )


def _across(nodes: Joined, valve: PlannedValve) -> str:
    return f"abs(v({nodes[f'{valve.id} lead 1']})-v({nodes[f'{valve.id} lead 2']}))"


def _parts(circuit: Circuit, nodes: Joined, holding: float) -> Iterator[str]:
    for number, (part, element) in enumerate(circuit.items()):
        one, two = nodes[element.one], nodes[element.two]
        if one == two or math.isinf(element.ohms):
            continue
        if part[0] != "coil" or element.ohms > SUPPLY / holding:
            yield f"R{number} {one} {two} {element.ohms:.12g}"
            continue
        reactance = math.sqrt((SUPPLY / holding) ** 2 - element.ohms**2)
        yield f"R{number} {one} inside{number} {element.ohms:.12g}"
        yield f"L{number} inside{number} {two} {reactance / (2 * math.pi * HERTZ):.12g}"


def _solved(lines: Sequence[str], asked: dict[str, str]) -> dict[str, float]:
    prints = [f"let a{n} = {what}\nprint a{n}" for n, what in enumerate(asked.values())]
    control = [".control", f"ac lin 1 {HERTZ} {HERTZ}", *prints, ".endc", ".end", ""]
    deck = "\n".join(["* a yard", *lines, f".options rshunt={AIR:g}", *control])
    done = subprocess.run(
        ["ngspice", "-b"], input=deck, capture_output=True, text=True, check=False
    )
    found = re.findall(r"^a\d+ = ([-+0-9.eE]+)", done.stdout, re.MULTILINE)
    assert len(found) == len(asked), done.stdout[-2000:] + done.stderr[-2000:]
    return dict(zip(asked, map(float, found), strict=True))
