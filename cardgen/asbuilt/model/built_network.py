"""The wiring as a network of ohms: what a solver needs to know how a fault would be measured.

```
terminal 3 --node 7-- leg, 1.2 ohms --node 8-- leg, 0.9 --node 9--[coil of A3]--node 4-- ... C
```
A *node* is a number for all ends that touch each other: in one connector, on one terminal, or of a
conductor that passes uncut.  All ohms are of direct current at 20 C.
"""

from __future__ import annotations

from cardgen.light_dataclass import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class NetworkConductor:
    """Attributes:
    name: of a `BuiltConductor`, whose places and meters say where each leg is.
    ohms: of each leg; None where they cannot be known.
    nodes: of each leg that of its start and that of its end: two for each leg.
    """

    name: str
    ohms: tuple[float | None, ...]
    nodes: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NetworkLink:
    """A closed contact or a pigtail.

    Attributes:
        sensor: whose contact it is; empty for a pigtail.
        name: of the pigtail; empty for a contact.
    """

    at: str
    one: int
    two: int
    ohms: float
    sensor: str = ""
    name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class NetworkCoil:
    """One coil, and between which nodes a meter at the controller measures it.

    Attributes:
        hot, back: the nodes of its leads, by what they are joined to.
        hot_end, back_end: of its terminal and of C; of an isolator's outputs where it has those.
        ohms, holding: of the coil, and amperes on alternating current; None where not known.
        is_measured: ohms between `hot_end` and `back_end` mean something: no decoder, no device.
    """

    valve: str
    hot: int
    back: int
    hot_end: int
    back_end: int
    ohms: float | None
    holding: float | None
    is_measured: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class NetworkTerminal:
    controller: str
    name: str
    node: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltNetwork:
    conductors: tuple[NetworkConductor, ...]
    links: tuple[NetworkLink, ...]
    coils: tuple[NetworkCoil, ...]
    terminals: tuple[NetworkTerminal, ...]
