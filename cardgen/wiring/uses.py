"""Say of every leg of every conductor what it is, by what metal joins it with.

```
1 --- red ----------.----- red ------        leg 1: hot of A1        leg 2: nothing (cut in VB-1)
                   [A1]
C --- white --------+----- white ----        leg 1, leg 2: common of A
7 --- green ------------------------         both legs: terminal 7, on which nothing hangs
```
What the file says of a conductor plays no part, but for the wires of sensors: their contacts are
no part of the network.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from enum import StrEnum

from cardgen.job.job_parts import Sensor
from cardgen.light_dataclass import dataclass
from cardgen.owners import Owner, OwnerKind
from cardgen.wiring.maybe_hots import maybe_hots
from cardgen.wiring.network import Network
from cardgen.wiring.wiring_parts import (
    COMMON_TERMINAL,
    IN,
    OUT,
    Circuit,
    Conductor,
    End,
    Leg,
    Wiring,
)
from cardgen.wiring.written import PATH_SIDES

SENSOR_TERMINAL = "SEN"


class Role(StrEnum):
    """What a stretch of a conductor is; SPARE and DEAD touch nothing that is in use.

    MAYBE_HOT touches nothing either: it may be a hot that the file says is not known.
    """

    HOT = "hot"
    RETURN = "return"
    COMMON = "common"
    PATH = "path"
    SENSOR = "sensor"
    TERMINAL = "terminal"
    MAYBE_HOT = "maybe hot"
    SPARE = "spare"
    DEAD = "dead"


_OWNER_KINDS = {
    Role.HOT: OwnerKind.STATION,
    Role.RETURN: OwnerKind.STATION,
    Role.COMMON: OwnerKind.COMMON,
    Role.PATH: OwnerKind.PATH,
    Role.SENSOR: OwnerKind.SENSOR,
    Role.TERMINAL: OwnerKind.TERMINAL,
    Role.MAYBE_HOT: OwnerKind.UNKNOWN,
    Role.SPARE: OwnerKind.SPARE,
    Role.DEAD: OwnerKind.SPARE,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """One thing that a stretch serves.

    Attributes:
        of: the station, master valve or relay of a hot, of what may be one, or of a return; the
            controller of a common, a path or a terminal; the sensor; the spare by the name on its
            flag; empty where dead.
        side: of a path `1` or `2`; of a terminal on which nothing hangs its name.
    """

    role: Role
    of: str = ""
    side: str = ""

    @property
    def owner(self) -> Owner:
        """Whose it is: a hot and a return of one station have the same."""
        kind = _OWNER_KINDS[self.role]
        sided = kind in (OwnerKind.PATH, OwnerKind.TERMINAL)
        return Owner(kind, self.of, self.side if sided else "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """Legs of one conductor in a row that are one piece of metal and serve the same.

    Attributes:
        start, end: indices of its places, `end` beyond `start`.
        uses: empty where it is joined with nothing that is in use.
    """

    conductor: Conductor
    start: int
    end: int
    uses: tuple[Use, ...]

    @property
    def first(self) -> str:
        return self.conductor.places[self.start]

    @property
    def last(self) -> str:
        return self.conductor.places[self.end]

    @property
    def places(self) -> tuple[str, ...]:
        return self.conductor.places[self.start : self.end + 1]

    @property
    def ends(self) -> tuple[End, End]:
        """The end at its first place and the one at its last."""
        name = self.conductor.name
        return End(name, self.first, OUT), End(name, self.last, IN)

    @property
    def whole(self) -> bool:
        """It is all of its conductor."""
        return self.start == 0 and self.end == len(self.conductor.legs)


class Uses:
    """What every leg of a wiring is."""

    def __init__(self, wiring: Wiring, network: Network, circuits: Iterable[Circuit]) -> None:
        self.wiring, self.network = wiring, network
        on_controllers = [end for end in network.ends if end.of in wiring.job.controllers]
        self._terminals = {network.net(end) for end in on_controllers}
        self._of_group: dict[int, dict[Use, None]] = defaultdict(dict)
        for end, use in self._anchors(on_controllers):
            self._of_group[network.group(end)][use] = None
        for group, owners in maybe_hots(wiring, network, self._of_group.keys()).items():
            self._of_group[group] = {Use(role=Role.MAYBE_HOT, of=owner): None for owner in owners}
        self._returns = _own_returns(circuits)
        self.stretches: dict[str, tuple[Stretch, ...]] = {
            name: tuple(self._stretches(conductor)) for name, conductor in wiring.conductors.items()
        }
        self._by_leg = {
            name: tuple(s for s in stretches for _ in range(s.start, s.end))
            for name, stretches in self.stretches.items()
        }

    def of_end(self, end: End) -> tuple[Use, ...]:
        """What an end touches; of a conductor's end the use of its leg."""
        conductor = self.wiring.conductors.get(end.of)
        if conductor is None:
            return tuple(self._of_group.get(self.network.group(end), ()))
        return self.stretch_at(end).uses

    def stretch_at(self, end: End) -> Stretch:
        """The stretch that a conductor's end belongs to."""
        return self._by_leg[end.of][self.wiring.conductors[end.of].leg_of(end)]

    def of_leg(self, conductor: str, leg: int) -> tuple[Use, ...]:
        return self._by_leg[conductor][leg].uses

    # -- what gives metal its use ----------------------------------------------------------------

    def _anchors(self, on_controllers: Sequence[End]) -> Iterator[tuple[End, Use]]:
        """Terminals with what hangs on them, isolators, wires of sensors."""
        owners = self._owners()
        job = self.wiring.job
        isolated = [end for end in owners if end.of not in job.controllers]
        for end in (*on_controllers, *isolated):
            yield from ((end, Use(role=Role.HOT, of=owner)) for owner in owners.get(end, ()))
        for end in on_controllers:
            if end not in owners:
                yield from ((end, use) for use in self._of_terminal(end))
        for load in self.wiring.loads.values():
            if load.known_in is not None:
                yield load.known_in.begin, Use(role=Role.HOT, of=load.owner.id)
            if load.back_end.of not in job.controllers:
                yield load.back_end, Use(role=Role.RETURN, of=load.owner.id)
        for sensor in job.sensors.values():
            for named in sensor.conductors:
                name = self.wiring.by_words.get(named.value)
                if name is not None:
                    places = self.wiring.conductors[name].places
                    first = named.begins if named.begins in places[:-1] else places[0]
                    yield End(name, first, OUT), Use(role=Role.SENSOR, of=sensor.id)

    def _owners(self) -> dict[End, list[str]]:
        found: dict[End, list[str]] = defaultdict(list)
        for load in self.wiring.loads.values():
            if load.decoder is None and load.owner.id not in found[load.hot_end]:
                found[load.hot_end].append(load.owner.id)
        return dict(found)

    def _of_terminal(self, end: End) -> Iterator[Use]:
        if end.side == COMMON_TERMINAL:
            yield Use(role=Role.COMMON, of=end.of)
        elif end.side.lower() in PATH_SIDES:
            yield Use(role=Role.PATH, of=end.of, side=end.side[-1])
        else:
            sensors = [s.id for s in self.wiring.job.sensors.values() if on_terminals(s, end.of)]
            if end.side == SENSOR_TERMINAL and sensors:
                yield from (Use(role=Role.SENSOR, of=sensor) for sensor in sensors)
            else:
                yield Use(role=Role.TERMINAL, of=end.of, side=end.side)

    # -- stretches -------------------------------------------------------------------------------

    def _stretches(self, conductor: Conductor) -> Iterator[Stretch]:
        if not conductor.legs:
            return  # it ends where it begins, which is told by itself
        start = 0
        uses = self._leg(conductor, 0)
        for index in range(1, len(conductor.legs)):
            following = self._leg(conductor, index)
            if following != uses or self._is_cut(conductor, index):
                yield Stretch(conductor=conductor, start=start, end=index, uses=uses)
                start, uses = index, following
        yield Stretch(conductor=conductor, start=start, end=len(conductor.legs), uses=uses)

    def _leg(self, conductor: Conductor, index: int) -> tuple[Use, ...]:
        own = self._returns.get((conductor.name, index))
        group = self.network.group(conductor.ends[index][-1])
        found = self._of_group.get(group, {})
        if own is None:
            return tuple(found)
        return (*(use for use in found if use.role is not Role.COMMON), *own)

    def _is_cut(self, conductor: Conductor, index: int) -> bool:
        """Here its metal ends, or it is on a terminal: what leaves that is a wire of its own."""
        one, two = map(self.network.net, conductor.ends[index])
        return one in self._terminals or one != two


def on_terminals(sensor: Sensor, controller: str) -> bool:
    """It is on the sensor terminals of that controller, not in the common."""
    return not sensor.in_common and any(named.value == controller for named in sensor.controllers)


def _own_returns(circuits: Iterable[Circuit]) -> dict[tuple[str, int], tuple[Use, ...]]:
    """The legs by which only coils with a return of their own go back to C."""
    own: dict[tuple[str, int], dict[Use, None]] = defaultdict(dict)
    shared: list[Circuit] = []
    for circuit in circuits:
        if circuit.load.back is None:
            shared.append(circuit)
        elif circuit.load.back_end.side == COMMON_TERMINAL:  # an isolator touches nothing else
            use = Use(role=Role.RETURN, of=circuit.load.owner.id)
            for leg in _back_legs(circuit):
                own[leg][use] = None
    if own:
        for circuit in shared:
            for leg in _back_legs(circuit):
                own.pop(leg, None)
    return {leg: tuple(uses) for leg, uses in own.items()}


def _back_legs(circuit: Circuit) -> Iterator[tuple[str, int]]:
    for step in circuit.back:
        if isinstance(step, Leg):
            yield step.conductor.name, step.number
