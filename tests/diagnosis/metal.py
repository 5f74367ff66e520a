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
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

Part = tuple[str, ...]
Ends = tuple[str, str]

ANCHOR = 1e6  # ohms to earth from one node of each piece of metal; nothing flows there
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
    nodes = Joined(e for e in circuit.values() if e.ohms == 0)
    pieces = Joined(e for e in circuit.values() if not math.isinf(e.ohms))
    flowing = [ends for ends in asked if pieces[ends[0]] == pieces[ends[1]]]
    found = dict.fromkeys(asked, math.inf)
    found |= {ends: 0.0 for ends in flowing if nodes[ends[0]] == nodes[ends[1]]}
    measured = [ends for ends in flowing if nodes[ends[0]] != nodes[ends[1]]]
    if not measured:
        return found
    lines = [f"R{number} {line}" for number, line in enumerate(_resistors(circuit, nodes, celsius))]
    anchors = {pieces[one]: nodes[one] for one, _ in measured}
    lines += [f"RA{node} {node} 0 {ANCHOR:g}" for node in anchors.values()]
    control = []
    for number, (one, two) in enumerate((nodes[a], nodes[b]) for a, b in measured):
        control += [f"alter i{one} dc = 1", f"alter i{two} dc = -1", "op"]
        control += [f"let a{number} = v({one})-v({two})", f"print a{number}", "destroy all"]
        control += [f"alter i{one} dc = 0", f"alter i{two} dc = 0"]
    lines += [
        f"I{node} 0 {node} dc 0"
        for node in dict.fromkeys(nodes[end] for m in measured for end in m)
    ]
    values = _run([*lines, ".control", "set numdgt=10", *control, ".endc"])
    assert len(values) == len(measured), f"{len(values)} of {len(measured)} values"
    return found | dict(zip(measured, values, strict=True))


def _resistors(circuit: Circuit, nodes: Joined, celsius: float) -> Iterator[str]:
    """What conducts; of pieces that nothing is known of, a node to earth each."""
    for element in circuit.values():
        one, two = nodes[element.one], nodes[element.two]
        ohms = element.ohms * (1 + COPPER * (celsius - 20.0)) if element.copper else element.ohms
        if one != two and not math.isinf(ohms):
            yield f"{one} {two} {ohms:.12g}"


def _run(lines: Iterable[str]) -> list[float]:
    deck = "\n".join(["* a yard", *lines, ".end", ""])
    done = subprocess.run(
        ["ngspice", "-b"], input=deck, capture_output=True, text=True, check=False
    )
    found = re.findall(r"^a(\d+) = ([-+0-9.eE]+)", done.stdout, re.MULTILINE)
    assert [int(number) for number, _ in found] == list(range(len(found))), done.stderr[-2000:]
    return [float(value) for _, value in found]


class Joined:
    """Names of nodes, the same for all that the elements join."""

    def __init__(self, elements: Iterable[Element]) -> None:
        self._above: dict[str, str] = {}
        for element in elements:
            self._above[self._top(element.one)] = self._top(element.two)
        self._numbers: dict[str, int] = {}

    def __getitem__(self, name: str) -> str:
        return f"n{self._numbers.setdefault(self._top(name), len(self._numbers))}"

    def _top(self, name: str) -> str:
        while (above := self._above.get(name, name)) != name:
            name = above
        return name
