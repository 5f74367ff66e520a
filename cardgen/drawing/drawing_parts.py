"""What the wiring drawing shows, in words and numbers: home runs, boxes, and what is in each."""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum

from cardgen.asbuilt import ConductorMark
from cardgen.light_dataclass import dataclass
from cardgen.problems import Span
from cardgen.words import Said, Words, apart


class LineKind(StrEnum):
    VALVE = "valve"
    RETURN = "return"
    COMMON = "common"
    PATH = "path"
    JOINT = "joint"
    SENSOR = "sensor"
    SPARE = "spare"
    NOTE = "note"


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxLine:
    """One thing in a box or controller.

    Attributes:
        marks: the conductors it is about; in a joint the one that comes from the controller.
        joined: in a joint, what it is joined with.
        source: what feeds it where that is no conductor, `decoder DC-201`.
        lands: the terminal or address at the controller.
        name: what it is, `valve A7`, `common A`, `spare SP-1`.
        text: what else must be known.
        what: as what an overview counts it, by its name in the catalogues; empty for no count.
    """

    span: Span
    kind: LineKind
    marks: tuple[ConductorMark, ...] = ()
    joined: tuple[ConductorMark, ...] = ()
    source: str = ""
    lands: str = ""
    name: str = ""
    text: str = ""
    what: str = ""


def as_text(*parts: Said) -> str:
    """`front walk · 10 in round`, without what is empty."""
    return apart(parts)


@dataclass(frozen=True, slots=True, kw_only=True)
class RunLeg:
    """A cable between two places.

    Attributes:
        inside: its conductors by gauge and whose hots are live in it, `26 × 14 AWG, 2 × 12 AWG,
            for A4 to A24`.
    """

    cable: str
    band: str
    length: str
    inside: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxOnRun:
    """A box on a run, what leads to it, what is in it, and the cables that begin there.

    Attributes:
        title: its id; for a controller with that word before it.
        about: where it is, and what kind of box.
    """

    span: Span
    title: Said
    about: str
    stretch: RunLeg
    lines: tuple[BoxLine, ...]
    branches: tuple[CableRun, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class CableRun:
    """One cable from where it begins outward."""

    span: Span
    cable: str
    stops: tuple[BoxOnRun, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class HomeRun:
    """A cable that leaves a controller, with all that hangs on it.

    Attributes:
        start: where it begins; title: that in words, `CONTROLLER A`.
        about: where that is, and its supply.
        lines: what lands there from this cable, and what concerns all of it.
        words: the languages in which all of it is said.
    """

    start: str
    title: Said
    about: str
    lines: tuple[BoxLine, ...]
    run: CableRun
    words: Words

    @property
    def runs(self) -> tuple[CableRun, ...]:
        """The cable itself and all its extensions, from the controller outward."""
        return tuple(_runs(self.run))

    @property
    def stops(self) -> tuple[BoxOnRun, ...]:
        return tuple(stop for run in self.runs for stop in run.stops)


def _runs(run: CableRun) -> Iterator[CableRun]:
    yield run
    for stop in run.stops:
        for branch in stop.branches:
            yield from _runs(branch)
