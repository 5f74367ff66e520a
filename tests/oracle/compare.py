"""Hold the as-built model of a yard against the tracer: each difference in words."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator

from cardgen.asbuilt import AsBuilt, BuiltBox, ConductorMark, Role, Use
from cardgen.asbuilt.model.built_boxes import Member
from tests.oracle.tracer import IN, NOTHING, End, Label, Labels, Traced

FREE = (Role.SPARE, Role.DEAD)
# 1/58 ohm mm2/m (IEC 60028), which the tracer takes, and 0.017241 (NBS Handbook 100), which the
# program takes, are one part in 50 000 apart.
_OHMS_SHARE = 1e-4


def differences(traced: Traced, built: AsBuilt) -> list[str]:
    """What the model says of a yard and the tracer does not, and the other way round."""
    return [
        *_conductors(traced, built),
        *_spares(traced, built),
        *(line for box in built.boxes for line in _box(traced, box)),
        *_terminals(traced, built),
        *_valves(traced, built),
    ]


def apart(what: str, program: Iterable[object], metal: Iterable[object]) -> Iterator[str]:
    """What only one of them says, each as often as it does."""
    said, is_so = Counter(list(program)), Counter(list(metal))
    yield from (f"{what}: program only {each}" for each in (said - is_so).elements())
    yield from (f"{what}: metal only {each}" for each in (is_so - said).elements())


def labels_in(uses: Iterable[Use]) -> Labels:
    """Uses as the tracer writes them; what is free has none."""
    return frozenset(_label(use) for use in uses if use.role not in FREE)


def _label(use: Use) -> Label:
    return (str(use.role), use.of, *([use.side] if use.side else []))


# -- conductors and spares -------------------------------------------------------------------------


def _conductors(traced: Traced, built: AsBuilt) -> Iterator[str]:
    """Where each goes, and every stretch of it."""
    yield from apart(
        "conductor",
        ((c.name, c.places) for c in built.conductors),
        ((c.name, c.places) for c in traced.conductors.values()),
    )
    said = (
        (c.name, s.first, s.last, labels_in(s.uses), _kind(s.uses))
        for c in built.conductors
        for s in c.stretches
    )
    yield from apart("stretch", said, traced.stretches)


def _kind(uses: Iterable[Use]) -> str:
    return next((str(use.role) for use in uses if use.role in FREE), "used")


def _spares(traced: Traced, built: AsBuilt) -> Iterator[str]:
    said = ((s.conductor, s.first, s.last, s.dead) for s in built.spares)
    free = (s for s in traced.stretches if s.kind != "used")
    yield from apart(
        "spare", said, ((s.conductor, s.first, s.last, s.kind == "dead") for s in free)
    )


# -- boxes -----------------------------------------------------------------------------------------


def _box(traced: Traced, box: BuiltBox) -> Iterator[str]:
    metal = traced.boxes[box.id]
    yield from apart(
        f"joint in {box.id}",
        ((_members(joint.members), labels_in(joint.uses)) for joint in box.joints),
        (
            *((_ends(traced, joint.ends), joint.labels) for joint in metal.joints),
            *(
                (_ends(traced, (end, End(sensor, box.id, ""))), traced.labels_of(end))
                for end, sensor in at_sensors(traced, box.id)
            ),
        ),
    )
    yield from apart(
        f"passing in {box.id}",
        ((each.conductor, labels_in(each.uses)) for each in box.passing),
        ((name, found) for name in metal.passing if (found := _labels(traced, name, box.id))),
    )
    yield from apart(
        f"capped in {box.id}",
        ((each.conductor, each.toward, labels_in(each.uses)) for each in box.capped),
        ((e.of, toward(traced, e), traced.labels_of(e)) for e in capped(traced, box.id)),
    )
    yield from apart(
        f"free in {box.id}",
        ((each.conductor, each.first, each.last, each.dead) for each in box.spares),
        (
            (s.conductor, s.first, s.last, s.kind == "dead")
            for s in traced.stretches
            if s.kind != "used" and box.id in places_of(traced, s.conductor, s.first, s.last)
        ),
    )


def _members(members: Iterable[Member]) -> tuple[tuple[str, str], ...]:
    """Ends of conductors with the place that they come from, leads by what they belong to."""
    return tuple(sorted((m.conductor or m.lead, m.toward if m.mark else "") for m in members))


def _ends(traced: Traced, ends: Iterable[End]) -> tuple[tuple[str, str], ...]:
    return tuple(
        sorted((e.of, toward(traced, e) if e.of in traced.conductors else "") for e in ends)
    )


def _labels(traced: Traced, name: str, at: str) -> Labels:
    return traced.labels_of(End(name, at, IN))


def toward(traced: Traced, end: End) -> str:
    """The next place along a conductor."""
    places = traced.conductors[end.of].places
    return places[places.index(end.at) + (-1 if end.side == IN else 1)]


def places_of(traced: Traced, conductor: str, first: str, last: str) -> tuple[str, ...]:
    places = traced.conductors[conductor].places
    return places[places.index(first) : places.index(last) + 1]


def capped(traced: Traced, at: str) -> Iterator[End]:
    """Ends that need a cap."""
    held = {end for end, _ in at_sensors(traced, at)}
    yield from traced.boxes[at].capped - held


def at_sensors(traced: Traced, at: str) -> Iterator[tuple[End, str]]:
    """The ends of the wires of a sensor: there it is, and holds them."""
    for end in traced.boxes[at].capped:
        for role, of, *_ in traced.labels_of(end):
            if role == "sensor":
                yield end, of


# -- terminals and valves --------------------------------------------------------------------------


def _terminals(traced: Traced, built: AsBuilt) -> Iterator[str]:
    """Those of one name are one piece of metal."""
    for controller in built.controllers:
        said: dict[str, set[str]] = defaultdict(set)
        for terminal in controller.terminals:
            said[terminal.name] |= {wire.conductor for wire in terminal.wires}
        for name, wires in said.items():
            metal = traced.terminals.get((controller.id, name), NOTHING)
            yield from apart(f"terminal {name} of {controller.id}", wires, metal)


def _valves(traced: Traced, built: AsBuilt) -> Iterator[str]:
    yield from apart("valve", (v.id for v in built.valves), traced.circuits)
    for valve in built.valves:
        circuit = traced.circuits[valve.id]
        for what, mark, metal in (
            ("hot at the valve", valve.hot, circuit.hot_at_valve),
            ("hot at the controller", valve.hot_at_controller, circuit.hot_at_controller),
            ("return at the valve", valve.back, circuit.back_at_valve),
            ("back at the controller", valve.back_at_controller, circuit.back_at_controller),
        ):
            if _name(mark) not in metal:  # one of them, where the metal forks
                yield f"{valve.id}, {what}: program {_name(mark)}, metal {sorted(metal)}"
        ohms = traced.ohms(valve.station)
        said = valve.ohms.expected if valve.ohms else 0.0
        if abs(said - ohms) > _OHMS_SHARE * ohms:
            yield f"{valve.id}: program {said:.3f} ohms, metal {ohms:.3f}"


def _name(mark: ConductorMark | None) -> str:
    return " ".join(part for part in (mark.cable, mark.word, mark.flag) if part) if mark else ""
