"""Check the jumpers between terminals: declared or not, and what runs together by them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cardgen.english_lists import english_list
from cardgen.facts import Facts
from cardgen.faults.circuit_faults import NOT_AS_JOINED
from cardgen.faults.terminal_faults import JUMPER, JUMPER_UNDECLARED, NO_SUCH_TERMINAL
from cardgen.job.job_parts import Controller
from cardgen.problems import Problem
from cardgen.wiring.wiring_parts import COMMON_TERMINAL, End, Load


def jumpers(facts: Facts) -> Iterator[Problem]:
    """Terminals that are linked: known where it is declared, suspicious where it is not."""
    for controller in facts.job.controllers.values():
        yield from _declared(facts, controller)
        sets = _sets(controller)
        for joint in facts.joints_at.get(controller.id, ()):
            linked = {e.side for e in joint.ends if e.of == controller.id and e.side.isdigit()}
            busy = [name for name in linked if _owners(facts, controller.id, [name])]
            if not joint.as_built or len(linked) < 2 or any(linked <= one for one in sets):
                continue
            if len(busy) < 2:  # several stations on one joint are told with their hots
                yield JUMPER_UNDECLARED.at(
                    joint.span,
                    terminals=english_list(sorted(linked, key=int)),
                    controller=controller.id,
                )


def _declared(facts: Facts, controller: Controller) -> Iterator[Problem]:
    strip = facts.strips[controller.id]
    for jumper in controller.jumpers:
        names = [name.value for name in jumper.value]
        unknown = [said for said in jumper.value if said.value not in strip]
        for said in unknown:
            yield NO_SUCH_TERMINAL.at(
                said.span,
                variant="jumper",
                terminal=said.value,
                controller=controller.id,
                terminals=english_list(dict.fromkeys(strip)),
            )
        if unknown or COMMON_TERMINAL in names:
            continue
        if controller.id in facts.job.joints and not _touching(facts, controller.id, names):
            if controller.id not in facts.wiring.reported:
                yield NOT_AS_JOINED.at(
                    jumper.span,
                    variant="jumper",
                    terminals=english_list(names),
                    controller=controller.id,
                )
            continue
        owners = _owners(facts, controller.id, names)
        yield JUMPER.at(
            jumper.span,
            variant="" if owners else "no station",
            terminals=english_list(names),
            controller=controller.id,
            stations=english_list(owners),
            run="run together" if len(owners) > 1 else "runs with each of them",
        )


def _touching(facts: Facts, controller: str, names: Iterable[str]) -> bool:
    ends = [End(controller, controller, name) for name in names]
    nets = {facts.network.net(end) if facts.network.knows(end) else None for end in ends}
    return len(nets) == 1 and None not in nets


def _owners(facts: Facts, controller: str, names: Iterable[str]) -> list[str]:
    """What hangs on these terminals."""
    ends = [End(controller, controller, name) for name in names]
    return [owner for end in ends for owner in facts.owners_on.get(end, ())]


def linked_on_purpose(facts: Facts, ends: Iterable[End]) -> bool:
    """Declared jumpers of one controller link all these terminals."""
    sides: dict[str, set[str]] = {}
    for end in ends:
        sides.setdefault(end.of, set()).add(end.side)
    if len(sides) != 1 or not sides.keys() <= facts.job.controllers.keys():
        return False
    ((controller, wanted),) = sides.items()
    linked = {min(wanted)}
    sets = _sets(facts.job.controllers[controller])
    while more := [one for one in sets if one & linked and not one <= linked]:
        linked.update(*more)
    return wanted <= linked


def _sets(controller: Controller) -> list[set[str]]:
    return [{name.value for name in jumper.value} for jumper in controller.jumpers]


def run_together(facts: Facts) -> Iterator[tuple[Load, ...]]:
    """The coils of each terminal, or of terminals that a jumper links on purpose.

    Where stations share metal by mistake nothing is given: that is a fault of its own.
    """
    done: set[str] = set()
    for owner, loads in facts.together.items():
        if owner in done:
            continue
        owners = {load.owner.id for load in loads}
        done |= owners
        ends = [load.hot_end for load in loads]
        if len(owners) == 1 or (len(set(ends)) == len(owners) and linked_on_purpose(facts, ends)):
            yield loads
