"""Random jobs that are right: trees of cables with color changes, tees, twins, spares and all.

A home run starts at its controller and branches at splice boxes, at most twice:

A ---[A-K1]--- VB-1 --- SB-2 ---[A-S1]--- VB-3 --- VB-4
                         `-----[A-K2]--- VB-5
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field
from typing import Any

from hypothesis import strategies as st

from tests.property.cables import Laid, Layer, Order
from tests.property.plan import Metal, Piece, Plan

_COIL = {"supply": "24 V AC", "resistance": "30 ohm", "inrush": "0.40 A", "holding": "0.23 A"}
_RELAY = {"supply": "24 V AC", "resistance": "45 ohm", "inrush": "0.60 A", "holding": "0.35 A"}
_DROP = 3.9  # volts that may be lost on the way to a coil of 20 V


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """What a random job should be like; `written`, `sharing`... are chances from 0 to 1.

    Attributes:
        written: that a box is written out as built.
        specials: that a controller has master valve, relay, sensor.
    """

    seed: int = 0
    stations: int = 10
    controllers: int = 1
    written: float = 0.3
    splices: float = 0.6
    sharing: float = 0.2
    twins: float = 0.1
    specials: float = 0.4
    split: float = 0.15
    metric: bool = False
    two_wire: bool = False


def wishes(most: int = 40) -> st.SearchStrategy[Wish]:
    """Every kind of job, simplest first: one controller, few stations, nothing special."""
    chance = st.sampled_from((0.0, 0.3, 1.0))
    return st.builds(
        Wish,
        seed=st.integers(0, 10**6),
        stations=st.integers(1, most),
        controllers=st.integers(1, 3),
        written=chance,
        splices=chance,
        sharing=chance,
        twins=st.sampled_from((0.0, 0.2)),
        specials=chance,
        split=st.sampled_from((0.0, 0.3)),
        metric=st.booleans(),
        two_wire=st.booleans(),
    )


def plans(most: int = 40) -> st.SearchStrategy[Plan]:
    """Random jobs that are right."""
    return wishes(most).map(random_plan)


def random_plan(wish: Wish) -> Plan:
    """The job for a wish; the same wish makes the same job."""
    return _Maker(wish).plan


@dataclass(slots=True, kw_only=True)
class _Rider:
    """What rides in a home run: a coil or two with their hot and perhaps a return of their own."""

    metals: list[Metal]
    valves: list[str]
    entry: dict[str, Any]
    keys: tuple[str, ...] = ("hot",)
    placed: dict[str, str] = field(default_factory=dict)  # box by valve


@dataclass(slots=True, kw_only=True)
class _HomeRun:
    """One way out of a controller with its common; `split`: the common lies in another cable."""

    controller: str
    common: Metal
    amperes: float
    split: bool = False
    boxes: list[str] = field(default_factory=list)


class _Maker:
    def __init__(self, wish: Wish) -> None:
        self.wish, self.random = wish, random.Random(wish.seed)
        self.boxes_of: dict[str, set[str]] = {}  # by controller
        self.closed: dict[str, set[str]] = {}  # boxes where a second common would be unclear
        self.plan = Plan(
            sections={
                "job": {
                    "code": "RAND-1",
                    "site": "Random Court",
                    "revision": 3,
                    "date": "2026-03-14",
                },
                "record": {"address": "https://jobs.example.com", "key": "7Q2F9KX4M3T8"},
                "palettes": {},
                "coils": {
                    "usual": {**_COIL, "minimum": "20 V"},
                    "relay": {**_RELAY, "minimum": "20 V"},
                },
                "connectors": self._connectors(),
                "controllers": {},
                "cables": {},
                "boxes": {},
                "stations": {},
                "master valves": {},
                "relays": {},
                "decoders": {},
                "sensors": {},
                "spares": {},
                "joints": {},
            }
        )
        self.layer = Layer(self.plan, self.random, wish.metric)
        left = wish.stations
        for number, name in enumerate("ABC"[: wish.controllers]):
            after = wish.controllers - number - 1
            count = max(1, self.random.randint(1, max(1, left - after)) if after else left)
            left -= count
            self._controller(name, count)
        if wish.two_wire:
            self._two_wire("D")
        self._write_out()

    # -- controllers ---------------------------------------------------------------------------

    def _controller(self, name: str, count: int) -> None:
        strip = count + self.random.randint(0, 4)
        numbers = self.random.sample(range(1, strip + 1), count)
        self.boxes_of[name], self.closed[name] = set(), set()
        entry: dict[str, Any] = {
            "place": f"wall {name}",
            "supply": "24 V AC",
            "stations": strip,
            "terminals": ["C", f"1 to {strip}", "MV", "PUMP", "SEN", "SEN"],
            "coil": "usual",
            "common": [],
        }
        self._section("controllers")[name] = entry
        riders = [self._station(name, number) for number in numbers]
        special = self.random.random() < self.wish.specials
        shares_common = False
        if special:
            shares_common = self.random.random() < 0.5
            riders.append(self._master_valve(name, own_return=not shares_common))
        if special and self.random.random() < 0.5:
            self._relay(name)
        contact = "RAIN-" + name if special and self.random.random() < 0.4 else ""
        while riders:
            size = self.random.randint(1, 14)
            amperes = (0.8 if self.wish.twins else 0.4) + 0.23 * shares_common
            self._home_run(name, riders[:size], amperes, contact)
            riders = riders[size:]
        if contact:
            self._sensor(name, contact)

    def _station(self, controller: str, number: int) -> _Rider:
        name = self.random.choice([f"{controller}{number}"] * 3 + [f"{controller}-{number:02d}"])
        entry: dict[str, Any] = {"area": f"lawn {controller} {number}"}
        if self.random.random() < 0.1:
            name = f"rose-{controller}{number}"
            entry |= {"controller": controller, "terminal": number}
        self._section("stations")[name] = entry
        twin = self.random.random() < self.wish.twins
        hot = Metal(owner=name, kind="hot", start=(controller, str(number)))
        valves = [f"{name}a", f"{name}b"] if twin else [name]
        return _Rider(metals=[hot], valves=valves, entry=entry)

    def _master_valve(self, controller: str, own_return: bool) -> _Rider:
        name = f"MV-{controller}"
        isolated = own_return and controller == "B" and self.random.random() < 0.5
        on = ["A", "B"] if isolated else [controller]
        entry: dict[str, Any] = {"controllers": on}
        if isolated:
            entry["isolators"] = on
        if self.random.random() < 0.3:
            entry |= {"normally open": "yes", "live only to close": "yes"}
        self._section("master valves")[name] = entry
        home = "A" if isolated else controller
        ends = (f"{name} hot", f"{name} return") if isolated else ("MV", "C")
        metals = [Metal(owner=name, kind="hot", start=(home, ends[0]))]
        keys: tuple[str, ...] = ("hot",)
        if own_return:
            metals.append(Metal(owner=name, kind="return", start=(home, ends[1])))
            keys = ("hot", "return")
        rider = _Rider(metals=metals, valves=[name], entry=entry, keys=keys)
        if isolated:  # it leaves A, while the home runs at hand leave B
            self._pair(home, rider, self.random.randint(20, 300))
            return self._nothing()
        return rider

    @staticmethod
    def _nothing() -> _Rider:
        return _Rider(metals=[], valves=[], entry={})

    def _relay(self, controller: str) -> None:
        name = f"PUMP-{controller}"
        entry: dict[str, Any] = {"controller": controller, "terminal": "PUMP", "coil": "relay"}
        self._section("relays")[name] = entry
        metals = [
            Metal(owner=name, kind="hot", start=(controller, "PUMP")),
            Metal(owner=name, kind="return", start=(controller, "C")),
        ]
        rider = _Rider(metals=metals, valves=[name], entry=entry, keys=("hot", "return"))
        self._pair(controller, rider, self.random.randint(20, 300))

    def _pair(self, controller: str, rider: _Rider, feet: int) -> None:
        """A cable for this coil alone."""
        places = (controller, self._new_box())
        laid = self.layer.lay(
            Order(
                controller=controller,
                places=places,
                legs=[feet],
                gauges=("14 AWG", "14 AWG"),
                flags=rider.valves * 2,
                common="",
            )
        )
        self._ride(rider, laid, 1)
        self._serve(rider, [laid.places[1]], None)

    def _sensor(self, controller: str, name: str) -> None:
        commons = [
            m
            for m in self.plan.metals
            if m.kind == "common" and m.start == (controller, name + " field side")
        ]
        self._section("sensors")[name] = {
            "kind": "rain",
            "controllers": controller,
            "contact": "normally closed",
            "in common": [
                p.conductor for m in commons for p in m.pieces if p.places[0] == controller
            ],
        }
        contact = Metal(owner=name, kind="contact", start=(controller, "C"))
        contact.leads.append((controller, name + " C side"))
        self.plan.metals.append(contact)

    # -- home runs -----------------------------------------------------------------------------

    def _home_run(self, name: str, riders: list[_Rider], amperes: float, contact: str) -> None:
        riders = [r for r in riders if r.metals]
        if not riders:
            return
        terminal = f"{contact} field side" if contact else "C"
        number = sum(m.kind == "common" for m in self.plan.metals)
        common = Metal(owner=f"COM-{name}-{number}", kind="common", start=(name, terminal))
        split = self.random.random() < self.wish.split
        run = _HomeRun(controller=name, common=common, amperes=amperes, split=split)
        for rider in riders:
            self.plan.metals.extend(rider.metals)
        self.plan.metals.append(common)
        drop = _DROP / 2 if split else _DROP
        self._branch(run, name, riders, 2 if split else 0, drop)
        if split:
            self._common_from_the_far_end(run, drop)

    def _common_from_the_far_end(self, run: _HomeRun, drop: float) -> None:
        places = (run.controller, *reversed(run.boxes))
        self.closed[run.controller] |= set(run.boxes)
        laid = self.layer.lay(
            Order(
                controller=run.controller,
                places=places,
                legs=self.layer.legs(len(places) - 1, "12 AWG", "12 AWG", drop, run.amperes),
                gauges=("12 AWG", "12 AWG"),
                flags=[],
                common=run.common.owner,
            )
        )
        self._carry_common(run, laid)

    def _branch(
        self, run: _HomeRun, start: str, riders: list[_Rider], depth: int, drop: float
    ) -> None:
        """A cable from `start` with its boxes, and what goes on from them."""
        places = (start, *(self._box(run) for _ in range(self.random.randint(1, 4))))
        onward = self._partings(run, places, riders, depth)
        part = 0.5 if onward else 1.0
        laid = self.layer.lay(self._order(run, places, riders, drop * part))
        leaving = {id(r): index for index, some in onward.items() for r in some}
        for rider in riders:
            index = leaving.get(id(rider))
            stops = self._stops(rider, laid, index)
            last = index if index is not None else max(laid.places.index(s) for s in stops)
            self._ride(rider, laid, last)
            self._serve(rider, stops, run.common)
        if not run.split:
            self._carry_common(run, laid)
        for index, some in onward.items():
            self.closed[run.controller].add(places[index])
            self._branch(run, places[index], some, depth + 1, drop * (1 - part))
        self._spares(laid)

    def _order(
        self, run: _HomeRun, places: tuple[str, ...], riders: list[_Rider], drop: float
    ) -> Order:
        """Conductors for all riders, in gauges and lengths that lose no more than `drop` volts."""
        hot = self.random.choice(["18 AWG", "18 AWG", "16 AWG", "14 AWG"])
        back = self.random.choice([hot, "14 AWG", "12 AWG"])
        thinnest_back = hot if any(len(rider.metals) > 1 for rider in riders) else back
        return Order(
            controller=run.controller,
            places=places,
            legs=self.layer.legs(len(places) - 1, hot, thinnest_back, drop, run.amperes),
            gauges=(hot, back),
            flags=[f for r in riders for f in ([r.metals[0].owner] * len(r.metals))],
            common="" if run.split else run.common.owner,
        )

    def _partings(
        self, run: _HomeRun, places: tuple[str, ...], riders: list[_Rider], depth: int
    ) -> dict[int, list[_Rider]]:
        """By index of a splice box, who goes on from there in another cable."""
        if depth >= 2 or self.random.random() >= self.wish.splices:
            return {}
        mine = [
            m.pieces
            for m in self.plan.metals
            if m.kind == "common"
            and m.start
            and m.start[0] == run.controller
            and m is not run.common
        ]
        busy = {place for pieces in mine for piece in pieces for place in piece.places}
        free = [i for i in range(1, len(places)) if places[i] not in busy]
        chosen = self.random.sample(free, min(len(free), self.random.randint(1, 2)))
        going = self.random.sample(riders, self.random.randint(1, len(riders)))
        shares: dict[int, list[_Rider]] = {index: [] for index in chosen}
        for rider in going if chosen else ():
            shares[self.random.choice(chosen)].append(rider)
        return {index: some for index, some in shares.items() if some}

    def _stops(self, rider: _Rider, laid: Laid, leaves: int | None) -> list[str]:
        """The boxes on this cable where coils of this rider are."""
        left = len(rider.valves) - len(rider.placed)
        if leaves is not None:
            early = left == 2 and self.random.random() < 0.3
            return [self.random.choice(laid.places[1 : leaves + 1])] if early else []
        return [self.random.choice(laid.places[1:]) for _ in range(left)]

    def _ride(self, rider: _Rider, laid: Laid, last: int) -> None:
        for metal, key in zip(rider.metals, rider.keys, strict=True):
            words = laid.hots.pop(0)
            reach = last if laid.singles else laid.last
            metal.pieces.append(Piece(conductor=words, places=laid.places, last=last, reach=reach))
            rider.entry.setdefault(key, []).append(words)
        if rider.metals[0] not in self.plan.metals:
            self.plan.metals.extend(rider.metals)

    def _serve(self, rider: _Rider, stops: list[str], common: Metal | None) -> None:
        for box in stops:
            valve = rider.valves[len(rider.placed)]
            rider.placed[valve] = box
            back = rider.metals[1] if len(rider.metals) > 1 else common
            assert back
            rider.metals[0].leads.append((box, valve))
            back.leads.append((box, valve))
            self.plan.backs[valve] = back
        if len(rider.valves) == 1:
            rider.entry.update(("box", box) for box in rider.placed.values())
        else:
            rider.entry["valves"] = {v: {"box": box} for v, box in rider.placed.items()}

    def _carry_common(self, run: _HomeRun, laid: Laid) -> None:
        run.common.pieces.append(_whole(laid.common, laid))
        self._section("controllers")[run.controller]["common"].append(laid.common)

    # -- boxes and cables ----------------------------------------------------------------------

    def _new_box(self) -> str:
        name = f"VB-{len(self._section('boxes')) + 1}"
        kind = self.random.choice([{}, {}, {"kind": "splice box"}, {"size": "10 in round"}])
        self._section("boxes")[name] = {"place": f"spot {name[3:]}", **kind}
        return name

    def _box(self, run: _HomeRun) -> str:
        """A box of its own or, where that is clear, one in which others are already."""
        known = [b for b in self._section("boxes") if b not in run.boxes]
        known = [b for b in known if b not in self.closed[run.controller]]
        if run.split:
            known = [b for b in known if b not in self.boxes_of[run.controller]]
        shared = known and self.random.random() < self.wish.sharing
        name = self.random.choice(known) if shared else self._new_box()
        run.boxes.append(name)
        self.boxes_of[run.controller].add(name)
        return name

    def _spares(self, laid: Laid) -> None:
        """One spare is listed, or all are left unsaid."""
        if self.random.random() < 0.5:
            return
        words, spares = laid.spares[0], self._section("spares")
        name = f"SP-{len(spares) + 1}"
        spares[name] = {"conductor": [words], "to": laid.places[-1]}
        metal = Metal(owner=name, kind="spare", start=None)
        metal.pieces.append(_whole(words, laid))
        self.plan.metals.append(metal)

    # -- the rest ------------------------------------------------------------------------------

    def _two_wire(self, name: str) -> None:
        """A path with a tee and a decoder in every box."""
        boxes = [self._new_box() for _ in range(5)]
        runs = {f"{name}-M": [name, *boxes[:3]], f"{name}-E": [boxes[2], *boxes[3:]]}
        for number, (cable, places) in enumerate(runs.items()):
            run = [places[0]]
            for place in places[1:]:
                run += ["30 m" if self.wish.metric else "100 ft", place]
            self._section("cables")[cable] = {
                "gauge": "14 AWG",
                "colors": ["red", "black"],
                "band": f"path {number}",
                "run": run,
            }
        self._section("controllers")[name] = {
            "place": "arboretum",
            "supply": "two-wire",
            "stations": 8,
            "coil": "usual",
            "path 1": [f"{cable} red" for cable in runs],
            "path 2": [f"{cable} black" for cable in runs],
        }
        for number, box in enumerate(boxes, 1):
            self._section("decoders")[f"DC-{number}"] = {"box": box, "address": 200 + number}
            self._section("stations")[f"{name}{number}"] = {
                "area": f"tree {number}",
                "box": box,
                "decoder": f"DC-{number}",
            }

    def _connectors(self) -> dict[str, Any]:
        """None described, or one that takes all that this job can need."""
        takes = " + ".join(f"0-20 x {awg} AWG" for awg in (18, 16, 14, 12))
        described = not self.wish.twins and self.random.random() < 0.5
        return {"large": {"takes": takes}} if described else {}

    def _write_out(self) -> None:
        plan, two_wire = self.plan, set()
        for decoder in self._section("decoders").values():
            two_wire.add(decoder["box"])
        for place in [*self._section("boxes"), *self.boxes_of]:
            if place in two_wire or self.random.random() >= self.wish.written:
                continue
            joints = plan.joints_at(place)
            for joint in joints:
                self.random.shuffle(joint)
            self.random.shuffle(joints)
            if joints:
                self._section("joints")[place] = joints

    def _section(self, name: str) -> dict[str, Any]:
        section: dict[str, Any] = self.plan.sections[name]
        return section


def _whole(words: str, laid: Laid) -> Piece:
    """A conductor in use from one end of its cable to the other."""
    return Piece(conductor=words, places=laid.places, last=laid.last, reach=laid.last)
