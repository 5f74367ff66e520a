"""Turn a Job into its Wiring: conductors, loads, and every joint, as built or made up as usual."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise

from cardgen.faults.conductor_faults import RUN_MISSES_BOX
from cardgen.job.job_parts import ConductorWords, Job, Single, Station
from cardgen.light_dataclass import replace
from cardgen.problems import Problem
from cardgen.wiring.conductor_catalog import Catalog, cut_to
from cardgen.wiring.loads import Loads
from cardgen.wiring.onward import carry_on
from cardgen.wiring.routes import route
from cardgen.wiring.usual import UsualMakeup
from cardgen.wiring.wiring_parts import (
    COMMON_TERMINAL,
    IN,
    OUT,
    Conductor,
    End,
    Hop,
    Joint,
    Landing,
    Load,
    Named,
    Route,
    Wiring,
)
from cardgen.wiring.written import CONTACT_SIDES, PATH_SIDES, WrittenMakeup


def make_up(job: Job) -> tuple[Wiring, tuple[Problem, ...]]:
    """The wiring, with the problems of names and joints; faults of circuits are found later."""
    catalog = Catalog(job)
    loads = Loads(job, catalog)
    written = WrittenMakeup(job, catalog, loads)
    as_built = tuple(written.joints())
    carry_on(loads.by_id, as_built, catalog.by_name, job.pigtails)
    commons = {c.id: _landings(c.common, loads) for c in job.controllers.values()}
    paths = {
        c.id: (_landings(c.path_1, loads), _landings(c.path_2, loads))
        for c in job.controllers.values()
        if c.path_1 or c.path_2
    }
    _shorten_singles(catalog, loads, commons, as_built)
    usual = UsualMakeup(job)
    served = _by_controller(loads.by_id.values())
    _join_hots(usual, loads)
    _join_returns(usual, loads.by_id.values())
    asked: set[str] = set()
    for controller in job.controllers:
        before = len(usual.problems)
        _join_common(usual, loads, served.get(controller, ()), controller, commons[controller])
        if len(usual.problems) > before:
            asked.add(controller)
        if controller in paths:
            _join_path(usual, job, controller, paths[controller])
    spares = dict(_spares(job, loads))
    _join_spares(usual, spares)
    for sensor in job.sensors.values():
        wires = _landings(sensor.conductors, loads)
        usual.like_with_like(wires)
        usual.end_of_stretches(wires)
    _join_jumpers(usual, job)
    wiring = Wiring(
        job=job,
        conductors=catalog.by_name,
        loads=loads.by_id,
        commons=commons,
        paths=paths,
        spares=spares,
        joints=tuple(_existing(catalog, (*as_built, *usual.joints()))),
        reported=frozenset(catalog.reported | loads.reported | written.reported),
        by_words=loads.by_words,
        asked=frozenset(asked),
        open_ends=frozenset(usual.open_ends),
    )
    problems = (*catalog.problems, *loads.problems, *usual.problems, *written.problems)
    return wiring, problems


def _landings(words: Iterable[ConductorWords], loads: Loads) -> tuple[Landing, ...]:
    """The stretches that words name; one from a place to the same place is none."""
    found = []
    for entry in words:
        for landing in map(_landing, loads.find_all([entry]) or ()):
            if landing.begins < landing.ends:
                found.append(landing)
            else:
                loads.problems.append(_no_stretch(landing))
    return tuple(found)


def _no_stretch(landing: Landing) -> Problem:
    conductor, at = landing.conductor, landing.places[0]
    return RUN_MISSES_BOX.at(
        landing.span,
        variant="no stretch",
        what=conductor.name,
        box=at,
        places=", ".join(conductor.places),
    )


def _landing(named: Named) -> Landing:
    c = named.conductor
    begins, ends = named.begins or 0, named.ends if named.ends is not None else len(c.places) - 1
    return Landing(
        conductor=c,
        begins=min(begins, ends),
        ends=max(begins, ends),
        span=named.span,
        source=c.places[begins] if named.begins is not None else "",
        target=c.places[ends] if named.ends is not None else "",
    )


def _shorten_singles(
    catalog: Catalog,
    loads: Loads,
    commons: dict[str, tuple[Landing, ...]],
    as_built: Iterable[Joint],
) -> None:
    """A single that serves only as a hot ends where it is used: nobody pulls a dead one onward.

    A joint written for it farther out shows that it was pulled as far as that, and one that holds
    its side onward and not the other, that it goes on.
    """
    last: dict[str, int] = {}
    for load in loads.by_id.values():
        for way in (load.hot, load.back):
            for hop in way.hops if way else ():
                last[hop.conductor.name] = max(last.get(hop.conductor.name, 0), hop.start, hop.end)
    for joint in as_built:
        for end in joint.ends:
            if end.of in last:
                index = catalog.by_name[end.of].places.index(end.at)
                goes_on = end.side == OUT and end._replace(side=IN) not in joint.ends
                last[end.of] = max(last[end.of], index + goes_on)
    shared = {la.conductor.name for landings in commons.values() for la in landings}
    lists = [spare.conductor for spare in loads.job.spares.values()]
    lists += [sensor.conductors for sensor in loads.job.sensors.values()]
    shared |= {one.conductor.name for words in lists for one in loads.find_all(words) or ()}
    for name, index in last.items():
        conductor = catalog.by_name[name]
        bundle = conductor.cable.singles
        if bundle and name not in shared and not any(_promised(s, conductor) for s in bundle):
            catalog.by_name[name] = cut_to(conductor, index)


def _existing(catalog: Catalog, joints: Iterable[Joint]) -> Iterator[Joint]:
    """A single that goes no further has no onward side, whatever a joint says of it."""
    known = catalog.by_name
    there = {end for conductor in known.values() for ends in conductor.ends for end in ends}
    for joint in joints:
        ends = tuple([end for end in joint.ends if end in there or end.of not in known])
        yield joint if len(ends) == len(joint.ends) else replace(joint, ends=ends)


def _promised(single: Single, conductor: Conductor) -> bool:
    """The job says how far this very single goes."""
    if single.to is None or single.color.value != conductor.insulation:
        return False
    if not single.flags:
        return not conductor.flag
    return any(conductor.flag in name.value for name in single.flags)


def _join_hots(usual: UsualMakeup, loads: Loads) -> None:
    """Valves of one station share their hot, so their leads are joined with it together."""
    leads: dict[str, dict[str, list[End]]] = defaultdict(lambda: defaultdict(list))
    ways: dict[str, Route] = {}
    known: dict[tuple[str, End], Route] = {}
    for load in loads.by_id.values():
        if load.hot is not None:
            leads[load.owner.id][load.box].append(load.hot_lead)
            ways[load.owner.id] = load.hot
        if load.known_in is not None:
            leads[load.owner.id][load.box].append(load.hot_lead)
        for part in load.known_parts:
            known[load.owner.id, part.begin] = part
    for owner, way in ways.items():
        usual.way(way, leads[owner])
    for (owner, begin), part in known.items():
        usual.known_part(part, leads[owner] if begin.of in loads.by_id else {})


def _join_returns(usual: UsualMakeup, loads: Iterable[Load]) -> None:
    for load in loads:
        if load.back is not None:
            usual.way(load.back, {load.box: [load.back_lead]})


def _by_controller(loads: Iterable[Load]) -> dict[str, list[Load]]:
    found: dict[str, list[Load]] = defaultdict(list)
    for load in loads:
        found[load.controller].append(load)
    return found


def _join_common(
    usual: UsualMakeup,
    loads: Loads,
    served: Iterable[Load],
    controller: str,
    landings: tuple[Landing, ...],
) -> None:
    terminal = End(controller, controller, COMMON_TERMINAL)
    ends = {la.conductor.name: terminal for la in landings if controller in la.places}
    for sensor in loads.job.sensors.values():
        if sensor.in_common and sensor.controllers[0].value == controller:
            usual.join(terminal, End(sensor.id, controller, CONTACT_SIDES[0]))
            field_side = End(sensor.id, controller, CONTACT_SIDES[1])
            behind = {one.conductor.name for one in loads.find_all(sensor.in_common) or ()}
            ends |= dict.fromkeys(behind & ends.keys(), field_side)
    leads: dict[str, list[tuple[End, str | None]]] = defaultdict(list)
    complete = len(landings) == len(loads.job.controllers[controller].common)
    usual.end_of_stretches(landings)
    landings = _relieved(landings)
    by_box: dict[str, list[Conductor]] = defaultdict(list)
    for landing in landings:
        for place in landing.places:
            by_box[place].append(landing.conductor)
    for load in served:
        if load.back is not None or load.decoder is not None:
            continue
        override = load.owner.common if isinstance(load.owner, Station) else ()
        if override:
            _join_own_common(usual, loads, load, override, landings)
        elif load.back_end.of == controller:
            leads[load.box].append((load.back_lead, _nearby(load, by_box[load.box])))
    before = len(usual.problems)
    usual.common(landings, ends, leads)
    if not complete:
        del usual.problems[before:]  # what is missing is reported, and may be what would tell


def _join_own_common(
    usual: UsualMakeup,
    loads: Loads,
    load: Load,
    words: Iterable[ConductorWords],
    landings: Iterable[Landing],
) -> None:
    """With the last of the conductors that its station names; what names none is reported."""
    found = loads.find_all(words)
    if found is None:
        loads.reported.add(load.owner.id)
    for own in map(_landing, (found or ())[-1:]):
        if taken := _ends_for(own, landings, load.box):
            usual.join(load.back_lead, *taken)


def _ends_for(own: Landing, landings: Iterable[Landing], box: str) -> tuple[End, ...]:
    """The ends of a station's own common in its box, as far as they belong to the common."""
    alike = [la for la in landings if la.conductor.name == own.conductor.name]
    return next((e for la in (*alike, own) if (e := la.ends_at(box))), ())


def _relieved(landings: Iterable[Landing]) -> tuple[Landing, ...]:
    """Where a spare of the same cable takes over a common, the one before it ends unless said.

    This is how a broken common is mended, so the usual make-up trusts it no farther.
    """
    landings = tuple(landings)
    starts: dict[str, list[int]] = defaultdict(list)
    for landing in landings:
        if landing.begins and landing.source == landing.places[0]:
            starts[landing.conductor.cable.id].append(landing.begins)
    return tuple(
        replace(landing, ends=min(later))
        if not landing.target
        and (later := [n for n in starts[landing.conductor.cable.id] if n > landing.begins])
        else landing
        for landing in landings
    )


def _nearby(load: Load, commons: list[Conductor]) -> str | None:
    """Of the commons in its box the one in the cable that brings the hot, if there is one.

    None where that is not known: nobody is asked.
    """
    cable = _bringing(load)
    found = next((conductor.name for conductor in commons if conductor.cable.id == cable), None)
    if found or load.hot_unknown:
        return found
    # A hot that does not get here is spoken of already, so this is not the place to ask.
    return commons[0].name if commons and load.hot and load.hot.fault else ""


def _bringing(load: Load) -> str:
    """The cable by which its hot comes to its box."""
    if load.known_in:
        return load.known_in.hops[0].conductor.cable.id
    for hop in load.hot.hops if load.hot else ():
        if load.box in (hop.conductor.places[index] for index in hop.indices):
            return hop.conductor.cable.id
    return ""


def _join_path(
    usual: UsualMakeup,
    job: Job,
    controller: str,
    sides: tuple[tuple[Landing, ...], tuple[Landing, ...]],
) -> None:
    for landings, side in zip(sides, PATH_SIDES, strict=True):
        terminal = End(controller, controller, side.upper())
        ends = {la.conductor.name: terminal for la in landings if controller in la.places}
        leads: dict[str, list[End]] = defaultdict(list)
        for decoder in job.decoders.values():
            if decoder.controller is None or decoder.controller.value == controller:
                leads[decoder.box.value].append(End(decoder.id, decoder.box.value, side))
        usual.path(landings, ends, leads)


def _spares(job: Job, loads: Loads) -> Iterator[tuple[str, tuple[Hop, ...]]]:
    """Spares of several conductors, with the stretch of each."""
    for spare in job.spares.values():
        found = loads.find_all(spare.conductor)
        if not found or len(found) < 2:
            continue
        first, last = _landing(found[0]).places[0], _landing(found[-1]).places[-1]
        begin, goals = End(spare.id, first, "start"), [last]
        as_built = route(found, begin, goals, spare.id, loads.together)
        way = route(found, begin, goals, spare.id) if as_built.fault else as_built
        yield spare.id, way.hops


def _join_spares(usual: UsualMakeup, spares: Mapping[str, tuple[Hop, ...]]) -> None:
    """A spare of several conductors is joined where they meet."""
    for hops in spares.values():
        for before, after in pairwise(hops):
            usual.join(before.arrival(before.end), after.departure)


def _join_jumpers(usual: UsualMakeup, job: Job) -> None:
    for controller in job.controllers.values():
        for jumper in controller.jumpers:
            usual.join(*(End(controller.id, controller.id, t.value) for t in jumper.value))
