"""The rows of a worked table of ohms: what is wrong, what is read, what may be said of it.

The figures were worked out by hand for the tree in `trade_yard.py`: coil and wire in series, 6.385
ohms for each 1,000 ft of 18 AWG (wire table); what each row means is common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from cardgen.diagnosis import FaultKind
from tests.diagnosis.ground import circuit_of
from tests.diagnosis.metal import Circuit, Element, added, bridged, moved, split
from tests.diagnosis.sites import Injected
from tests.diagnosis.trade_yard import COMMON, PLAN, hot

OL = math.inf
SOUND = circuit_of(PLAN)
B2_TO_B3 = ("leg", COMMON, "B2", "B3")
AT_430 = (430 - 350) / 250  # feet from the controller, on the leg from 350 to 600


def bad(part: tuple[str, ...], ohms: float) -> Circuit:
    return added(SOUND, part, ohms)


def touch(one: str, two: str) -> Circuit:
    circuit, first = split(SOUND, ("leg", one, "B2", "B3"), AT_430)
    circuit, second = split(circuit, ("leg", two, "B2", "B3"), AT_430)
    return bridged(circuit, first, second, 0.0)


def coil(name: tuple[str, ...], ohms: float) -> Circuit:
    first = SOUND["coil", "A5"]
    return {**SOUND, name: Element(first.one, first.two, ohms, copper=True)}


def at_strip(conductor: str, terminal: str) -> Callable[[Circuit], Circuit]:
    return lambda circuit: moved(circuit, ("splice", conductor, "A", "out"), one=f"A:{terminal}")


def exchanged(one: str, to: str, other: str, back: str) -> Circuit:
    return at_strip(other, back)(at_strip(one, to)(SOUND))


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """Attributes:
    walk: ohms of stations 1 to 8 at the controller; between: of hots, by `5-6`.
    kind, start, end, conductors, valves: as `Injected` has them.
    first: the kinds of which the likeliest suspect must be one.
    places: at most so many are kept.
    """

    circuit: Circuit
    walk: str
    between: Mapping[str, float] = field(default_factory=dict)
    kind: str = ""
    start: str = ""
    end: str = ""
    conductors: tuple[str, ...] = ()
    valves: tuple[str, ...] = ()
    first: tuple[FaultKind, ...] = ()
    places: int = 1

    @property
    def values(self) -> dict[str, float]:
        return {f"A{n}": float(v.replace("OL", "inf")) for n, v in enumerate(self.walk.split(), 1)}

    @property
    def injected(self) -> Injected:
        return Injected(
            kind=self.kind,
            circuit=self.circuit,
            start=self.start,
            end=self.end or self.start,
            conductors=self.conductors,
            valves=self.valves,
        )


OPENS = (FaultKind.OPEN, FaultKind.CUT)
ROWS = {
    "healthy": Row(
        circuit=SOUND,
        walk="32.6 32.6 34.5 34.5 37.7 37.7 41.5 41.5",
        between={"5-6": 67.7, "1-5": 67.7},
    ),
    "common open B2 to B3": Row(
        circuit=bad(B2_TO_B3, OL),
        walk="32.6 32.6 34.5 34.5 OL OL OL OL",
        between={"5-6": 67.7, "5-7": 71.5, "1-5": OL},
        kind="common open",
        start="B2",
        end="B3",
        conductors=(COMMON,),
        first=OPENS,
        places=2,  # the common, or the whole cable
    ),
    "common open before B1": Row(
        circuit=bad(("leg", COMMON, "A", "B1"), OL),
        walk="OL OL OL OL OL OL OL OL",
        between={"1-2": 62.6, "1-8": 71.5},
        kind="common open",
        start="A",
        end="B1",
        conductors=(COMMON,),
        first=OPENS,
        places=2,
    ),
    "common splice +60 between B2 and B3": Row(
        circuit=bad(B2_TO_B3, 60),
        walk="32.6 32.6 34.5 34.5 97.7 97.7 101.5 101.5",
        between={"5-6": 67.7},
        kind="common resistive",
        start="B2",
        end="B3",
        conductors=(COMMON,),
        first=(FaultKind.RESISTIVE,),
    ),
    "hot 4 splice +60": Row(
        circuit=bad(("splice", hot(4), "B2", "in"), 60),
        walk="32.6 32.6 34.5 94.5 37.7 37.7 41.5 41.5",
        between={"4-5": 127.7, "3-5": 67.7},
        kind="hot resistive",
        start="B2",
        conductors=(hot(4),),
        valves=("A4",),
        first=(FaultKind.RESISTIVE, FaultKind.WRONG_COIL),
        places=3,  # its hot, whole to its box; its common's lead; its coil
    ),
    "coil 5 open": Row(
        circuit=bad(("coil", "A5"), OL),
        walk="32.6 32.6 34.5 34.5 OL 37.7 41.5 41.5",
        between={"5-6": OL},
        kind="coil open",
        start="B3",
        conductors=(hot(5), COMMON),
        valves=("A5",),
        first=(FaultKind.OPEN, FaultKind.COIL_OPEN),
        places=2,
    ),
    "hot 5 open": Row(
        circuit=bad(("leg", hot(5), "A", "B1"), OL),
        walk="32.6 32.6 34.5 34.5 OL 37.7 41.5 41.5",
        between={"5-6": OL},
        kind="hot open",
        start="A",
        end="B1",
        conductors=(hot(5),),
        valves=("A5",),
        first=(FaultKind.OPEN, FaultKind.COIL_OPEN),
        places=2,
    ),
    "coil 5 shorted to 2 ohms": Row(
        circuit=coil(("coil", "A5"), 2.0),
        walk="32.6 32.6 34.5 34.5 9.7 37.7 41.5 41.5",
        between={"5-6": 39.7},
        kind="coil low",
        start="B3",
        conductors=(hot(5), COMMON),
        valves=("A5",),
        first=(FaultKind.COIL_LOW, FaultKind.HOT_ON_COMMON),
        places=4,  # or a touch with a few ohms, in any of the three legs
    ),
    "hot 6 on common at 430 ft": Row(
        circuit=touch(hot(6), COMMON),
        walk="32.6 32.6 34.5 34.5 37.6 5.5 41.5 41.5",
        kind="hot on common",
        start="B2",
        end="B3",
        conductors=(hot(6), COMMON),
        valves=("A6",),
        first=(FaultKind.HOT_ON_COMMON,),
        places=4,  # any of the three legs; or the value is misread
    ),
    "hots 5 and 7 touch at 430 ft": Row(
        circuit=touch(hot(5), hot(7)),
        walk="32.6 32.6 34.5 34.5 23.0 37.7 23.0 41.4",
        between={"5-7": 5.5},
        kind="hots touch",
        start="B2",
        end="B3",
        conductors=(hot(5), hot(7)),
        valves=("A5", "A7"),
        first=(FaultKind.HOTS_TOUCH,),
        places=3,
    ),
    "second coil on 5": Row(
        circuit=coil(("coil", "A5", "second"), 30.0),
        walk="32.6 32.6 34.5 34.5 22.7 37.7 41.5 41.5",
        between={"5-6": 52.7},
        kind="second coil",
        start="B3",
        conductors=(hot(5), COMMON),
        valves=("A5",),
        first=(FaultKind.SECOND_COIL, FaultKind.COIL_LOW),
        places=4,
    ),
    "common and hot 3 exchanged": Row(
        circuit=exchanged(COMMON, "3", hot(3), "C"),
        walk="64.5 64.5 34.5 64.5 67.7 67.7 71.5 71.5",
        kind="common exchanged",
        start="A",
        valves=("A3",),
        first=(FaultKind.COMMON_EXCHANGED,),
    ),
    "valve 5 between hots 5 and 6": Row(
        circuit=moved(SOUND, ("lead", "A5", "back"), one="joint B3 hot A6"),
        walk="32.6 32.6 34.5 34.5 67.7 37.7 41.5 41.5",
        between={"5-6": 37.7},
        kind="between two hots",
        start="B3",
        valves=("A5", "A6"),
        first=(FaultKind.WRONG_RETURN,),
        places=4,
    ),
    "terminals 1 and 8 exchanged": Row(
        circuit=exchanged(hot(1), "8", hot(8), "1"),
        walk="41.5 32.6 34.5 34.5 37.7 37.7 41.5 32.6",
        kind="exchanged",
        start="A",
        valves=("A1", "A8"),
        first=(FaultKind.EXCHANGED,),
    ),
}
