"""Conductors as they lie: how each looks, what each stretch of it is, cables, spares."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol, TypeVar

from cardgen.light_dataclass import dataclass, replace
from cardgen.units import Length
from cardgen.wiring.uses import Role, Use

S = TypeVar("S", bound="HasMark")


@dataclass(frozen=True, slots=True, kw_only=True)
class ConductorMark:
    """How one conductor is shown: in words, as a letter code, and as a swatch.

    Attributes:
        cable: id of the cable, `A-K1`.
        word: the color in words as the job writes it, `light-blue`, `white/black`.
        code: letter code, `GN`, `WH/BU`; no two colors have the same.
        base: color name of the insulation, one of `cardgen.trade.colors.COLORS`.
        stripe: color name of the tracer stripe, empty without one.
        band: what tells this cable from a like one, `yellow tape`; empty without.
        flag: text on the conductor's own flag, for singles of one color; empty without.
        gauge: `18 AWG` or `1.5 mm2`; empty where it is not known.
    """

    cable: str
    word: str
    code: str
    base: str
    stripe: str = ""
    band: str = ""
    flag: str = ""
    gauge: str = ""

    def __hash__(self) -> int:
        return hash((self.cable, self.word, self.flag))  # nearly all that tells two apart

    @property
    def look(self) -> tuple[str, str]:
        """What the eye tells apart: ground and tracer."""
        return self.base, self.stripe


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """What is expected, and between what an honest meter reads."""

    expected: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltStretch:
    """One piece of metal of a conductor that serves one thing from end to end.

    Attributes:
        first, last: in the order of the cable's run; `through` what lies between.
        meters: from the one to the other; None where some leg is not known.
        uses: what it is there, by metal; of a free one SPARE with its name, or DEAD.
        fed_from_last: what it is comes to it from its last place.
        fed_at: the place between them at which it comes to it; empty where it is one of the two.
        onward_first, onward_last: the conductors by which the same comes there, at the end where it
            is fed, and in which it goes on at the other.
        open_at: its ends at which nobody knows how it goes on.
    """

    first: str
    last: str
    through: tuple[str, ...]
    meters: float | None
    uses: tuple[Use, ...]
    fed_from_last: bool = False
    fed_at: str = ""
    onward_first: tuple[ConductorMark, ...] = ()
    onward_last: tuple[ConductorMark, ...] = ()
    open_at: tuple[str, ...] = ()

    @property
    def places(self) -> tuple[str, ...]:
        return self.first, *self.through, self.last


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltConductor:
    """One conductor of a cable, with the places it passes and the meters before each but the first.

    Attributes:
        name: as the job names it, `A-K1 red`; no two have one name.
        legs: those meters; None where they are not known.
    """

    name: str
    mark: ConductorMark
    places: tuple[str, ...]
    legs: tuple[float | None, ...]
    stretches: tuple[BuiltStretch, ...]

    def at(self, place: str, *, onward: bool) -> BuiltStretch | None:
        """The stretch that leaves a place onward, or comes to it; None where there is none."""
        index = self.places.index(place) if place in self.places else -1
        for stretch in self.stretches:
            first, last = self.places.index(stretch.first), self.places.index(stretch.last)
            if first <= index < last if onward else first < index <= last:
                return stretch
        return None


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltStop:
    """A place on a run and the leg that leads to it (nothing for the first).

    `length` is empty, and `meters` None, where they are not known.
    """

    at: str
    length: str
    meters: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltCable:
    """A cable, or a bundle of singles; its run is written from the controller outward.

    `reels` are the lengths on which it is sold, shortest first; empty where the job says none.
    """

    id: str
    band: str
    shielded: bool
    bundle: bool
    run: tuple[BuiltStop, ...]
    reels: tuple[Length, ...] = ()

    @property
    def places(self) -> tuple[str, ...]:
        return tuple(stop.at for stop in self.run)


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltSpare:
    """A stretch that nothing uses.

    Attributes:
        id: the name on its flag; first, last: how far it goes; through: what lies between.
        passes: whether it goes through one box uncut; of the list of all spares it means nothing.
        loop: ohms at `first`, tied to the common at `last`; None where no common is at both.
        joined: places where an end of it is in a joint.
        listed: the job lists it as a spare; promised: the box to which.
        dead: a left-over of a conductor that is used elsewhere, and that no controller reaches.
    """

    id: str
    mark: ConductorMark
    first: str
    last: str
    passes: bool
    reserved_for: str
    loop: Band | None = None
    joined: tuple[str, ...] = ()
    conductor: str = ""
    through: tuple[str, ...] = ()
    promised: str = ""
    listed: bool = False
    dead: bool = False

    @property
    def use(self) -> Use:
        return Use(role=Role.DEAD if self.dead else Role.SPARE, of=self.id)

    @property
    def places(self) -> tuple[str, ...]:
        return self.first, *self.through, self.last


class HasMark(Protocol):
    """What is shown by the look of a conductor."""

    @property
    def mark(self) -> ConductorMark: ...


def in_use(uses: Iterable[Use]) -> tuple[Use, ...]:
    """Without what is spare or dead."""
    return tuple(use for use in uses if use.role not in (Role.SPARE, Role.DEAD))


def told_apart_by_flags(found: Iterable[S]) -> list[list[S]]:
    """Together what has conductors that only their flags tell apart; any other by itself."""
    groups: dict[object, list[S]] = {}
    for number, each in enumerate(found):
        key = replace(each.mark, flag="") if each.mark.flag else number
        groups.setdefault(key, []).append(each)
    return list(groups.values())
