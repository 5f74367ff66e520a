"""A yard as the ground has it: ohms between ends, and what a meter between two of them shows.

```
terminal =splice= leg =splice= lead =[coil]= lead =splice= leg ... contact = C
```
Nothing of the program under test has a part in it: ngspice solves it, one deck for many values.
A part of no ohms is one node, one of infinite ohms is not there.
"""

from __future__ import annotations

import math
import re
import subprocess
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

Part = tuple[str, ...]
Ends = tuple[str, str]

AIR = 1e10  # ohms from each node to earth, so that what hangs loose has a voltage
OPEN = 5e6  # from here on it is air; what is put in is never above some thousands
COPPER = 0.00393  # for each degree from 20 C; IEC 60028, 1925


@dataclass(frozen=True, slots=True)
class Element:
    """What lies between two nodes, in ohms at 20 C; `copper` is warmed, a wet splice is not."""

    one: str
    two: str
    ohms: float = 0.0
    copper: bool = False


Circuit = Mapping[Part, Element]


def added(circuit: Circuit, part: Part, ohms: float) -> dict[Part, Element]:
    """With a bad spot in series with a part; infinite where it is broken."""
    element = circuit[part]
    if math.isinf(ohms):
        return {**circuit, part: replace(element, ohms=ohms)}
    between = f"bad spot {part}"
    return {
        **circuit,
        part: replace(element, two=between),
        ("bad spot", *part): Element(between, element.two, ohms),
    }


def bridged(circuit: Circuit, one: str, two: str, ohms: float) -> dict[Part, Element]:
    """With metal between two nodes."""
    return {**circuit, ("touch", one, two): Element(one, two, max(ohms, 1e-3))}


def split(circuit: Circuit, part: Part, share: float) -> tuple[dict[Part, Element], str]:
    """With a node in a part, after that share of its ohms."""
    element, middle = circuit[part], f"inside {part}"
    first = replace(element, two=middle, ohms=share * element.ohms)
    rest = replace(element, one=middle, ohms=(1 - share) * element.ohms)
    return {**circuit, part: first, (*part, "rest"): rest}, middle


def moved(circuit: Circuit, part: Part, *, one: str) -> dict[Part, Element]:
    """With the first end of a part on another node."""
    return {**circuit, part: replace(circuit[part], one=one)}


def ohms_of(circuit: Circuit, wanted: Iterable[Ends], celsius: float = 20.0) -> dict[Ends, float]:
    """Ohms between each two nodes, all else lifted; infinite where nothing flows."""
    asked = list(dict.fromkeys(wanted))
    nodes = _Nodes(circuit)
    lines = []
    for number, element in enumerate(circuit.values()):
        one, two = nodes[element.one], nodes[element.two]
        ohms = element.ohms * (1 + COPPER * (celsius - 20.0)) if element.copper else element.ohms
        if one != two and not math.isinf(ohms):
            lines.append(f"R{number} {one} {two} {ohms:.12g}")
    ends = dict.fromkeys(nodes[end] for pair in asked for end in pair)
    lines += [f"I{node} 0 {node} dc 0" for node in ends]
    control = [".control", "set numdgt=10"]
    for number, (one, two) in enumerate((nodes[a], nodes[b]) for a, b in asked):
        if one == two:
            control.append(f"echo a{number} = 0")
            continue
        control += [f"alter i{one} dc = 1", f"alter i{two} dc = -1", "op"]
        control += [f"let a{number} = v({one})-v({two})", f"print a{number}", "destroy all"]
        control += [f"alter i{one} dc = 0", f"alter i{two} dc = 0"]
    deck = ["* a yard", *lines, f".options rshunt={AIR:g}", *control, ".endc", ".end"]
    found = _run("\n".join(deck) + "\n")
    assert len(found) == len(asked), f"{len(found)} of {len(asked)} values"
    return {ends: _shown(found[number]) for number, ends in enumerate(asked)}


def _shown(ohms: float) -> float:
    return math.inf if ohms > OPEN else ohms


def _run(deck: str) -> dict[int, float]:
    done = subprocess.run(["ngspice", "-b"], input=deck, capture_output=True, text=True, check=False)
    found = re.findall(r"^a(\d+) = ([-+0-9.eE]+)", done.stdout, re.MULTILINE)
    assert found, done.stdout[-2000:] + done.stderr[-2000:]
    return {int(number): float(value) for number, value in found}


class _Nodes:
    """Numbers of nodes, the same for all that parts of no ohms join."""

    def __init__(self, circuit: Circuit) -> None:
        self._above: dict[str, str] = {}
        for element in circuit.values():
            if element.ohms == 0:
                self._above[self._top(element.one)] = self._top(element.two)
        self._numbers: dict[str, int] = {}

    def __getitem__(self, name: str) -> str:
        return f"n{self._numbers.setdefault(self._top(name), len(self._numbers))}"

    def _top(self, name: str) -> str:
        while (above := self._above.get(name, name)) != name:
            name = above
        return name
