"""Turn each controller into its strip: every terminal in its place, every wire on it once."""

from __future__ import annotations

from collections import Counter, defaultdict, deque
from collections.abc import Iterator
from functools import cached_property

from cardgen.asbuilt.connectors import held_by, in_words
from cardgen.asbuilt.free_ends import passing_and_capped
from cardgen.asbuilt.joints import made_joints
from cardgen.asbuilt.landing import LandingEnd, TerminalWires, landings
from cardgen.asbuilt.live_metal import LiveMetal
from cardgen.asbuilt.marks import mark, pigtails
from cardgen.asbuilt.metal import Metal, other_end, toward
from cardgen.asbuilt.model import built_controllers as model
from cardgen.asbuilt.model.built_boxes import BuiltJoint, Capped
from cardgen.asbuilt.model.built_conductors import Band
from cardgen.asbuilt.places import neighbors
from cardgen.electrics.loops import hot_to_hot
from cardgen.facts import Facts
from cardgen.job.job_parts import Controller
from cardgen.light_dataclass import replace
from cardgen.trade.copper import resistance
from cardgen.units import SupplyKind
from cardgen.wiring.uses import SENSOR_TERMINAL, Role
from cardgen.wiring.wiring_parts import COMMON_TERMINAL, Circuit, End, Leg
from cardgen.wiring.written import CONTACT_SIDES, PATH_SIDES


def controllers(
    facts: Facts, metal: Metal, live: LiveMetal, sensors: tuple[model.BuiltSensor, ...]
) -> Iterator[model.BuiltController]:
    """In the order of the file."""
    for controller in facts.job.controllers.values():
        supply, polarity = controller.supply.value, controller.polarity
        mine = tuple(sensor for sensor in sensors if controller.id in sensor.controllers)
        yield model.BuiltController(
            id=controller.id,
            where=controller.where or "",
            supply=str(supply),
            box=controller.box.value if controller.box else "",
            terminals=tuple(_Strip(facts, metal, controller, mine).terminals()),
            sensors=mine,
            neighbors=tuple(neighbors(facts.cables_at.get(controller.id, ()), controller.id)),
            supply_kind=str(supply.kind),
            volts=supply.volts,
            polarity=(polarity.hot, polarity.common) if polarity else (),
            between=tuple(_between(facts, controller)),
            pigtails=tuple(pigtails(facts.job, controller.id)),
            connectors=tuple(_connectors(facts, metal, controller)),
            capped=_capped(facts, metal, controller),
            stations=controller.stations.value,
            transformer=controller.transformer,
            fuse=controller.fuse,
            station_limit=controller.station_limit,
            total_limit=controller.total_limit,
            controllers=live.controllers(controller.id),
        )


NOTHING = TerminalWires(ends=(), pigtails=())


class _Strip:
    """The terminals of one controller with what is landed on them."""

    def __init__(
        self,
        facts: Facts,
        metal: Metal,
        controller: Controller,
        sensors: tuple[model.BuiltSensor, ...],
    ) -> None:
        self.facts, self.metal, self.controller, self.sensors = facts, metal, controller, sensors
        self.landed = landings(facts, controller.id)

    def terminals(self) -> Iterator[model.Terminal]:
        if self.controller.supply.value.kind is SupplyKind.TWO_WIRE:
            yield from self._paths()
            yield from self._addresses()
            return
        seen: Counter[str] = Counter()
        for name in self.facts.strips[self.controller.id]:
            # A name that stands twice on the strip is one piece of metal: its wires are told once,
            # where the job says so on the second, else on the first.
            seen[name] += 1
            landed = self.landed.get((name, seen[name]), NOTHING)
            wires = tuple(map(self._wire, landed.ends))
            if name == COMMON_TERMINAL:
                yield self._common(wires, landed)
            elif name == SENSOR_TERMINAL:
                found = tuple(s.id for s in self.sensors if not s.in_common)
                use = "sensor" if found else "empty"
                yield model.Terminal(
                    name=name, use=use, owners=found, wires=wires, pigtails=landed.pigtails
                )
            else:
                owners = tuple(self.facts.owners_landed.get((self.controller.id, name), ()))
                use = "station" if owners else "empty"
                linked = tuple(self._linked(name))
                yield model.Terminal(
                    name=name,
                    use=use,
                    owners=owners,
                    wires=wires,
                    linked=linked,
                    pigtails=landed.pigtails,
                )

    def _common(self, wires: tuple[model.Landed, ...], landed: TerminalWires) -> model.Terminal:
        """C: what comes to it goes into one connector, and from there a pigtail to the terminal.

        That the pigtail is as thick as the thickest of them: common practice, no source.  Where
        the job says a pigtail nothing is assumed.
        """
        common = model.Terminal(
            name=COMMON_TERMINAL, use="common", wires=wires, pigtails=landed.pigtails
        )
        if not common.takes_pigtail or common.contacts:
            return common  # how thick the lead of a sensor is, nothing says
        conductors = [self.facts.wiring.conductors[each.end.of] for each in landed.ends]
        gauges = [c.gauge for c in conductors if c.gauge is not None]
        if len(gauges) < len(conductors):
            return common
        pigtail = min(gauges, key=resistance)
        held = held_by(self.facts, Counter((*gauges, pigtail)))
        counts = in_words(Counter(sorted(gauges, key=lambda gauge: (gauge.system, gauge.size))))
        return replace(
            common,
            counts=counts,
            held=held.id,
            rating=held.rating,
            pigtail_gauge=str(pigtail),
        )

    def _wire(self, landed: LandingEnd) -> model.Landed:
        end, by, behind = landed
        conductor, uses = self.facts.wiring.conductors[end.of], self.metal.uses(end)
        onward = toward(conductor, end)
        ring = any(use.role is Role.COMMON for use in uses) and self._closes(end)
        back = self._returning.get((end.of, onward), ())
        return model.Landed(
            mark=mark(conductor),
            uses=uses,
            conductor=end.of,
            toward=onward,
            serves=() if ring else tuple(dict.fromkeys(back)),
            ring=ring,
            by=by,
            behind=behind,
        )

    def _closes(self, end: End) -> bool:
        """Some other way leads back to this terminal: no station is its own."""
        network = self.facts.network
        far = other_end(self.facts.wiring.conductors[end.of], end)
        home, queue = network.net(end), deque([network.net(far)])
        seen = set(queue)
        while queue:
            net = queue.popleft()
            for edge in network.edges.get(net, ()):
                further, step = edge.traveled_from(net)
                if isinstance(step, Leg) and _leg(step) == (end.of, {end.at, far.at}):
                    continue
                if further == home:
                    return True
                if further not in seen:
                    seen.add(further)
                    queue.append(further)
        return False

    @cached_property
    def _returning(self) -> dict[tuple[str, str], list[str]]:
        """By the conductor on which it comes back, and from where, whose coils do."""
        found: dict[tuple[str, str], list[str]] = defaultdict(list)
        for circuit in self.facts.returning_to.get(self.controller.id, ()):
            if circuit.load.back is None:
                found[_first(circuit)].append(circuit.load.owner.id)
        return found

    def _linked(self, terminal: str) -> Iterator[str]:
        for jumper in self.controller.jumpers:
            names = [name.value for name in jumper.value]
            if terminal in names:
                yield from (name for name in names if name != terminal)

    def _paths(self) -> Iterator[model.Terminal]:
        for side in PATH_SIDES:
            landed = self.landed.get((side.upper(), 1), NOTHING)
            for each in landed.ends:
                wires = (self._wire(each),)
                yield model.Terminal(name=side, use="path", wires=wires, pigtails=landed.pigtails)

    def _addresses(self) -> Iterator[model.Terminal]:
        for owner, loads in self.facts.loads_of.items():
            decoder = loads[0].decoder
            if loads[0].controller == self.controller.id and decoder is not None:
                name = str(decoder.address.value)
                yield model.Terminal(name=name, use="address", owners=(owner,))


def _connectors(facts: Facts, metal: Metal, controller: Controller) -> Iterator[BuiltJoint]:
    """The joints on no terminal with a pigtail, or with the lead of a contact and a wire."""
    for joint in facts.joints_at.get(controller.id, ()):
        on_terminal = any(end.of == controller.id for end in joint.ends)
        pigtail = any(end.of in facts.job.pigtails for end in joint.ends)
        contact = any(end.side in CONTACT_SIDES for end in joint.ends) and len(joint.ends) > 1
        if not on_terminal and (pigtail or contact):
            yield from made_joints(facts, metal, [joint])


def _capped(facts: Facts, metal: Metal, controller: Controller) -> tuple[Capped, ...]:
    """Every end in no joint; a wire of a sensor is on SEN."""
    at = controller.id
    present = facts.conductors_at.get(at, ())
    landed = {end for joint in facts.joints_at.get(at, ()) for end in joint.ends}
    for conductor in present:
        ends = conductor.ends_at(at)
        landed |= {e for e in ends if any(u.role is Role.SENSOR for u in metal.uses(e))}
    return passing_and_capped(metal, present, at, landed)[1]


def _first(circuit: Circuit) -> tuple[str, str]:
    """The conductor on which it comes back to the controller, and from where."""
    legs = (step for step in circuit.back if isinstance(step, Leg))
    return next(((leg.conductor.name, leg.end) for leg in legs), ("", ""))


def _leg(step: Leg) -> tuple[str, set[str]]:
    return step.conductor.name, {step.start, step.end}


def _between(facts: Facts, controller: Controller) -> Iterator[model.Between]:
    """For each box the first two stations that meet on its common: reads well while it is lost."""
    by_box: dict[str, list[Circuit]] = {}
    for circuit in facts.circuits_of.get(controller.id, ()):
        load = circuit.load
        single = len(facts.loads_of[load.owner.id]) == 1 and not getattr(load.owner, "device", None)
        if load.back is None and single:
            by_box.setdefault(load.box, []).append(circuit)
    for box, circuits in by_box.items():
        band = hot_to_hot(circuits[0], circuits[1], facts.network) if len(circuits) > 1 else None
        if band is not None:
            yield model.Between(
                box=box,
                valves=(circuits[0].load.id, circuits[1].load.id),
                ohms=Band(expected=band[0], low=band[1], high=band[2]),
            )
