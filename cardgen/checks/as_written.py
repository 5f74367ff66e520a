"""Compare what is written as a hot, a return or a common with what metal makes of it.

hot: [K1 red, K2 blue]      K1 red ---.--- K2 blue          A1's valve works, on K2 green:
joints: [K1 red, K2 green]            `--- K2 green ---[A1]  the record names the wrong one
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from cardgen.english_lists import english_list
from cardgen.facts import Facts
from cardgen.faults.circuit_faults import NOT_AS_JOINED
from cardgen.job.job_parts import ConductorWords, Station
from cardgen.light_dataclass import dataclass
from cardgen.owners import station
from cardgen.problems import Problem, Span
from cardgen.wiring.uses import Role, Use
from cardgen.wiring.wiring_parts import COMMON_TERMINAL, End, Landing, Leg, Load, Step


@dataclass(frozen=True, slots=True, kw_only=True)
class _Slip:
    """A conductor that is written as part of a way and is none of it.

    Attributes:
        role: `hot`, `return` or `common`.
        uses: what it serves by metal.
        traced: the way as it is, conductor by conductor.
        box: where joints as built lead another way; empty if it is nowhere.
    """

    owner: str
    role: str
    name: str
    span: Span
    uses: tuple[Use, ...]
    traced: tuple[str, ...]
    box: str


def not_as_joined(facts: Facts, reported: set[str]) -> Iterator[Problem]:
    """The circuits work, and the record names other conductors than the joints."""
    slips = [slip for owner in facts.loads_of for slip in _of_owner(facts, owner, reported)]
    reported |= {slip.owner for slip in slips}
    hots = {slip.owner: slip for slip in slips if slip.role == "hot"}
    while hots:
        owner, slip = next(iter(hots.items()))
        chain = [hots.pop(owner)]
        while (other := _hot_of(chain[-1])) in hots:
            chain.append(hots.pop(other))
        yield _told(chain)
    for slip in slips:
        if slip.role != "hot":
            yield _told([slip])
    yield from _commons(facts, reported)


# -- hots and returns ----------------------------------------------------------------------------


def _of_owner(facts: Facts, owner: str, reported: set[str]) -> Iterator[_Slip]:
    """The first wrong conductor of each of its ways, if all of its coils work."""
    loads = facts.loads_of[owner]
    if owner in reported or any(load.id not in facts.circuits for load in loads):
        return
    first = loads[0].owner
    circuits = [facts.circuits[load.id] for load in loads]
    backs = [circuit.back for circuit in circuits]
    yield from _of_way(facts, loads[0], "hot", first.hot or (), [c.hot for c in circuits])
    if isinstance(first, Station):
        yield from _of_way(facts, loads[0], "common", first.common, backs)
    else:
        yield from _of_way(facts, loads[0], "return", first.return_path, backs)


def _of_way(
    facts: Facts,
    load: Load,
    role: str,
    words: Sequence[ConductorWords],
    ways: Iterable[tuple[Step, ...]],
) -> Iterator[_Slip]:
    legs = sorted(([s for s in way if isinstance(s, Leg)] for way in ways), key=len, reverse=True)
    traced = tuple(dict.fromkeys(leg.conductor.name for way in legs for leg in way))
    written = [facts.wiring.by_words.get(named.value) for named in words]
    end = load.hot_end if role == "hot" else load.back_end
    for named, name in zip(words, written, strict=True):
        if name is not None and name not in traced and name not in _in_rings(facts, end):
            parts = next((leg.start for leg in legs[0] if leg.conductor.name not in written), "")
            yield _Slip(
                owner=load.owner.id,
                role=role,
                name=name,
                span=named.span,
                uses=_uses(facts, name, load.owner.id),
                traced=traced,
                box=parts if parts in facts.job.joints else "",
            )
            return


def _in_rings(facts: Facts, end: End) -> set[str]:
    """What may carry it beside the shortest way, where metal goes round."""
    group = facts.network.group(end)
    if group not in facts.network.rings():
        return set()
    # A ring that no joint shows is only what the usual make-up does with too many names.
    shown = {end.of for joint in facts.wiring.joints if joint.as_built for end in joint.ends}
    steps = (edge.step for edge in facts.network.edges_of([group]))
    return {step.conductor.name for step in steps if isinstance(step, Leg)} & shown


def _uses(facts: Facts, name: str, owner: str) -> tuple[Use, ...]:
    """What it serves where it is given to this owner, or anywhere if it is given nowhere."""
    legs = [c.leg for c in facts.written if (c.conductor, c.owner) == (name, station(owner))]
    every = range(len(facts.wiring.conductors[name].legs))
    return tuple(dict.fromkeys(u for leg in legs or every for u in facts.uses.of_leg(name, leg)))


def _hot_of(slip: _Slip) -> str:
    """Whose hot its conductor is."""
    return next((use.of for use in slip.uses if use.role is Role.HOT), "")


def _told(chain: Sequence[_Slip]) -> Problem:
    first = chain[0]
    boxes = dict.fromkeys(f"'{slip.box}'" for slip in chain if slip.box)
    looks = (("several",) if len(chain) > 1 else ()) + (("in a box",) if boxes else ())
    return NOT_AS_JOINED.at(
        first.span,
        variant=" ".join(looks),
        conductor=first.name,
        role=first.role,
        owner=first.owner,
        truth=_truth(first),
        others="".join(f", {slip.name} of {slip.owner} is {_truth(slip)}" for slip in chain[1:]),
        boxes=english_list(boxes),
        records=english_list(f"'{s.role}: {_list(s.traced)}' for {s.owner}" for s in chain),
        both="both" if len(chain) == 2 else "them",
    )


def _list(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"[{', '.join(names)}]"


def _truth(slip: _Slip) -> str:
    """What metal makes of it."""
    own = {"hot": Role.HOT, "return": Role.RETURN, "common": Role.COMMON}[slip.role]
    for use in slip.uses:
        if use.role is own and use.of == slip.owner:
            return "not on the way to its valve"
        if use.role is own and own is not Role.COMMON:
            return f"that of {use.of}"
        if use.role in (Role.HOT, Role.RETURN):
            return f"the {use.role} of {use.of}"
        if use.role is Role.COMMON and own is Role.COMMON:
            return "not on the return of its valve"
        return use.owner.words
    return "joined with nothing that is in use"


# -- commons -------------------------------------------------------------------------------------


def _commons(facts: Facts, reported: set[str]) -> Iterator[Problem]:
    for controller, landings in facts.wiring.commons.items():
        served = [
            load
            for load in facts.loads_on.get(controller, ())
            if load.back is None and load.decoder is None
        ]
        faulty = any(load.owner.id in reported or load.id not in facts.circuits for load in served)
        terminal = End(controller, controller, COMMON_TERMINAL)
        if not served or faulty or not facts.network.knows(terminal):
            continue
        if len([u for u in facts.uses.of_end(terminal) if u.role is Role.COMMON]) > 1:
            continue  # joined commons are told by themselves
        for la in landings:
            if not facts.wiring.reported & {la.conductor.cable.id, *la.conductor.places}:
                yield from _common(facts, controller, la)


def _common(facts: Facts, controller: str, la: Landing) -> Iterator[Problem]:
    name = la.conductor.name
    legs = range(la.begins, len(la.conductor.legs))
    found = tuple(dict.fromkeys(u for leg in legs for u in facts.uses.of_leg(name, leg)))
    if any(_is_common(facts, use, controller) for use in found):
        return
    truth = "joined with nothing that is in use"
    if found:
        use = found[0]
        truth = f"the {use.role} of {use.of}" if use.role in _COILS else use.owner.words
    yield NOT_AS_JOINED.at(
        la.span, variant="common", conductor=name, controller=controller, truth=truth
    )


_COILS = (Role.HOT, Role.RETURN)


def _is_common(facts: Facts, use: Use, controller: str) -> bool:
    """A return of a coil of its own on C is as good."""
    if use.role is Role.RETURN:
        return any(load.controller == controller for load in facts.loads_of.get(use.of, ()))
    return use.role is Role.COMMON and use.of == controller
