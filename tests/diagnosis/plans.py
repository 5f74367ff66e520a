"""A random yard as a plan: cables that branch, what each carries, where each valve sits."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass, field

from tests.outside import tables

OHMS_PER_FOOT = {
    f"{awg} AWG": tables.number(
        "awg_resistance",
        "value",
        awg=str(awg),
        construction="solid",
        quantity="resistance",
        unit="ohm/kft",
        basis="wire table",
    )
    / 1000
    for awg in (18, 16, 14, 12)
}
COLORS = (
    *("red", "blue", "green", "yellow", "orange", "brown", "black", "pink", "violet", "gray"),
    *("tan", "light-blue", "gold", "turquoise", "silver"),
)
COMMON = "white"
PER_HOME_RUN = 24


@dataclass(slots=True, kw_only=True)
class PlannedValve:
    """Attributes:
    station: of a twin both have the same.
    hots: its conductors, from the terminal on; each begins where the one before is left.
    """

    id: str
    station: str
    controller: str
    terminal: str
    box: str
    coil: str
    is_master: bool = False
    hots: list[str] = field(default_factory=list)

    @property
    def cable(self) -> str:
        """The one that comes to its box."""
        return self.hots[-1].split(maxsplit=1)[0]


@dataclass(slots=True, kw_only=True)
class PlannedCable:
    """A cable, or a bundle of singles, from the controller outward; its common is white.

    Attributes:
        feet: of each leg.
        hots: its conductors in use by the station.
        is_link: only a common, which closes a ring.
    """

    id: str
    controller: str
    places: list[str]
    feet: list[float]
    gauge: str
    common_gauge: str
    is_bundle: bool
    hots: dict[str, str] = field(default_factory=dict)
    is_link: bool = False

    @property
    def common(self) -> str:
        return f"{self.id} {COMMON}"

    def gauge_of(self, conductor: str) -> str:
        return self.common_gauge if conductor == self.common else self.gauge


@dataclass(slots=True, kw_only=True)
class Plan:
    """Attributes:
    coils: ohms of each kind.
    sensors: by controller the one whose contact is in its common.
    boxes: in the order in which they were dug; written: those whose joints the file tells.
    """

    seed: int
    cables: dict[str, PlannedCable] = field(default_factory=dict)
    valves: dict[str, PlannedValve] = field(default_factory=dict)
    coils: dict[str, float] = field(default_factory=dict)
    sensors: dict[str, str] = field(default_factory=dict)
    controllers: list[str] = field(default_factory=list)
    boxes: list[str] = field(default_factory=list)
    written: list[str] = field(default_factory=list)
    features: set[str] = field(default_factory=set)

    def of(self, controller: str) -> Iterator[PlannedValve]:
        return (v for v in self.valves.values() if v.controller == controller)

    def commons(self, controller: str) -> list[PlannedCable]:
        return [cable for cable in self.cables.values() if cable.controller == controller]


def random_plan(seed: int, stations: int | None = None) -> Plan:
    """5 to 120 stations if nothing is said."""
    return _Planner(seed, stations).plan


class _Planner:
    def __init__(self, seed: int, stations: int | None) -> None:
        self.random = rng = random.Random(f"yard {seed}")
        self.plan = Plan(seed=seed)
        self.reached: set[tuple[str, str]] = set()  # controller and box of another
        count = stations or round(5 * 24 ** rng.random())
        self.plan.coils = {"usual": rng.choice([24.0, 28.0, 30.0, 36.0])}
        if self.chance(0.3):
            self.plan.coils["other"] = rng.choice([19.0, 45.0, 60.0])
            self.plan.features.add("two kinds of coils")
        shares = [count]
        if count >= 12 and self.chance(0.5):
            parts = rng.choice([2, 2, 3])
            shares = [len(range(n, count, parts)) for n in range(parts)]
            self.plan.features.add("several controllers")
        for name, share in zip("ABC", shares, strict=False):
            self._controller(name, share)
        self.plan.written += [
            box for box in self.plan.boxes if box not in self.plan.written and self.chance(0.2)
        ]

    def chance(self, share: float) -> bool:
        return self.random.random() < share

    def _controller(self, name: str, count: int) -> None:
        self.plan.controllers.append(name)
        if self.chance(0.3):
            self.plan.sensors[name] = f"RAIN-{name}"
            self.plan.features.add("sensor")
        stations = [f"{name}{n}" for n in range(1, count + 1)]
        runs = max(-(-count // PER_HOME_RUN), self.random.choice([1, 1, 2, 2, 3]))
        runs = min(runs, count)
        if self.chance(0.3):
            stations.append(f"MV-{name}")
            self.plan.features.add("master valve")
        for number in range(runs):
            self._branch(name, [], name, stations[number::runs])
        if runs > 1:
            self.plan.features.add("several home runs")
            if self.chance(0.25):
                self._close_ring(name)

    def _branch(self, controller: str, above: list[str], start: str, stations: list[str]) -> None:
        """One cable with its valves, and the cables that leave its boxes.

        Args:
            above: the cables that lead to `start`.
        """
        per_box = self.random.choice([1, 2, 2, 3, 4])
        own, handed_on = stations, []
        if len(above) < 2 and len(stations) >= 4 and self.chance(0.5):
            cut = self.random.randint(1, len(stations) - 1)
            own, handed_on = stations[:cut], stations[cut:]
        groups = [own[n : n + per_box] for n in range(0, len(own), per_box)]
        boxes = [self._box(controller) for _ in groups]
        cable = self._cable(controller, [start, *boxes], len(stations))
        for station in stations:
            before = [self.plan.cables[name].hots[station] for name in above]
            cable.hots[station] = self._conductor(cable, station)
            if station in own:
                box = next(b for b, g in zip(boxes, groups, strict=True) if station in g)
                self._valves(station, box, [*before, cable.hots[station]], cable)
        if handed_on:
            self.plan.features.add("tree" if not above else "middle legs")
            leaves = self.random.choice(boxes)
            self._branch(controller, [*above, cable.id], leaves, handed_on)

    def _box(self, controller: str) -> str:
        """A new one, or one of another controller."""
        others = [
            valve.box
            for valve in self.plan.valves.values()
            if valve.controller != controller and (controller, valve.box) not in self.reached
        ]
        if others and self.chance(0.25):
            self.plan.features.add("shared boxes")
            box = self.random.choice(others)
            self.reached.add((controller, box))
            return box
        self.plan.boxes.append(f"VB-{len(self.plan.boxes) + 1}")
        return self.plan.boxes[-1]

    def _cable(self, controller: str, places: list[str], hots: int) -> PlannedCable:
        gauge = self.random.choice(["18 AWG", "18 AWG", "16 AWG", "14 AWG"])
        thicker = [g for g in OHMS_PER_FOOT if g <= gauge]
        is_bundle = hots > len(COLORS) - 1 or self.chance(0.3)
        name = f"{controller}-K{len(self.plan.cables) + 1}"
        cable = PlannedCable(
            id=name,
            controller=controller,
            places=places,
            feet=[round(40 * 12 ** self.random.random()) for _ in places[1:]],
            gauge=gauge,
            common_gauge=self.random.choice(thicker) if is_bundle else gauge,
            is_bundle=is_bundle,
        )
        self.plan.cables[name] = cable
        return cable

    def _conductor(self, cable: PlannedCable, station: str) -> str:
        if cable.is_bundle:
            return f"{cable.id} red {station}"
        return f"{cable.id} {COLORS[len(cable.hots)]}"

    def _valves(self, station: str, box: str, hots: list[str], cable: PlannedCable) -> None:
        """One, or the two of a twin, in one box or in two of the cable."""
        is_master = station.startswith("MV")
        boxes = [box]
        if not is_master and self.chance(0.06):
            self.plan.features.add("twin")
            onward = cable.places[cable.places.index(box) :][:2]
            boxes = [box, self.random.choice(onward)]
        coil = self.random.choice(list(self.plan.coils))
        for letter, at in zip("ab", boxes, strict=False):
            name = station if len(boxes) == 1 else f"{station}{letter}"
            self.plan.valves[name] = PlannedValve(
                id=name,
                station=station,
                controller=cable.controller,
                terminal="MV" if is_master else station[1:],
                box=at,
                coil=coil,
                is_master=is_master,
                hots=hots,
            )

    def _close_ring(self, controller: str) -> None:
        """A common between the last boxes of two home runs."""
        ends = [c for c in self.plan.commons(controller) if c.places[0] == controller]
        one, two = (cable.places[-1] for cable in ends[:2])
        link = self._cable(controller, [one, two], 1)
        link.is_link, link.is_bundle, link.common_gauge = True, False, link.gauge
        self.plan.written += [box for box in (one, two) if box not in self.plan.written]
        self.plan.features.add("ring")
