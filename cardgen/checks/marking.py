"""Check that what lies side by side can be told apart: cables, commons, names."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import combinations

from cardgen.address import record_spelling
from cardgen.english_lists import english_list
from cardgen.facts import Facts
from cardgen.faults.marking_faults import (
    ADDRESS_USED_TWICE,
    CABLES_LOOK_ALIKE,
    COMMONS_LOOK_ALIKE,
    NAMES_LOOK_ALIKE,
    SHARED_BOX,
)
from cardgen.problems import Also, Problem, Span
from cardgen.wiring.uses import Role, Use
from cardgen.wiring.wiring_parts import Conductor


def cables_look_alike(facts: Facts) -> Iterator[Problem]:
    """Two cables with the same colors come to one place and no band tells them apart."""
    palettes: dict[str, list[Conductor]] = {}
    for conductor in facts.wiring.conductors.values():
        palettes.setdefault(conductor.cable.id, []).append(conductor)
    unread = {
        stop.at
        for cable in facts.job.cables.values()
        if cable.id in facts.wiring.reported
        for stop in cable.run
    }
    for one, two in combinations(palettes, 2):
        first, second = palettes[one], palettes[two]
        if first[0].cable.band != second[0].cable.band:
            continue
        twins = _look(first) & _look(second)
        whole = _look(first) == _look(second)
        places = {s.at for s in first[0].cable.run}
        # Where a cable could not be read, nothing tells which of the others it feeds.
        shared = [s.at for s in second[0].cable.run if s.at in places - unread]
        bundles = bool(first[0].cable.singles and second[0].cable.singles)
        if shared and (whole or (bundles and twins)):
            if all(_go_on(facts, one, two, look) for look in twins) or _of_one_path(
                facts, one, two
            ):
                continue  # one goes on where the other ends: likes belong together anyway
            example = min(twins)
            yield CABLES_LOOK_ALIKE.at(
                second[0].cable.span,
                first=one,
                second=two,
                at=shared[0],
                conductor=example,
                also=(Also(span=first[0].cable.span, text=f"{one} is described here"),),
            )


def _go_on(facts: Facts, one: str, two: str, look: str) -> bool:
    names = [f"{cable} {look}" for cable in (one, two)]
    uses = [{u for s in facts.uses.stretches[name] for u in s.uses} for name in names]
    if uses[0] & uses[1] or facts.users.get(names[0], set()) & facts.users.get(names[1], set()):
        return True
    conductors = [facts.wiring.conductors[name] for name in names]
    runs = [c.cable.run for c in conductors]
    if runs[0][-1].at == runs[1][0].at and facts.free_throughout.issuperset(names):
        return True  # spares of a cable that goes on in the same colors
    ends = [c.ends_at(c.places[0])[0] for c in conductors]
    return facts.network.group(ends[0]) == facts.network.group(ends[1])


def _of_one_path(facts: Facts, one: str, two: str) -> bool:
    paths: list[set[Use]] = []
    for cable in (one, two):
        stretches = (s for c in facts.conductors_of[cable] for s in facts.uses.stretches[c.name])
        paths.append({use for s in stretches for use in s.uses if use.role is Role.PATH})
    return bool(paths[0] & paths[1])


def _look(conductors: Iterable[Conductor]) -> frozenset[str]:
    return frozenset(c.name.partition(" ")[2] for c in conductors)


def commons_look_alike(facts: Facts) -> Iterator[Problem]:
    """The commons of two controllers meet in a box and look the same."""
    told: set[tuple[str, str]] = set()
    by_place: dict[str, list[tuple[str, Conductor]]] = {}
    for stretches in facts.uses.stretches.values():
        for stretch in stretches:
            homes = [use.of for use in stretch.uses if use.role is Role.COMMON]
            if len(homes) == 1:  # commons that are joined are a fault of their own
                for place in stretch.places:
                    by_place.setdefault(place, []).append((homes[0], stretch.conductor))
    for box in facts.job.boxes.values():
        seen: dict[tuple[str, str, str], tuple[str, str]] = {}
        for controller, conductor in by_place.get(box.id, ()):
            look = (conductor.insulation.word, conductor.cable.band, conductor.flag)
            other, name = seen.setdefault(look, (controller, conductor.name))
            pair = (other, controller)
            if other != controller and name != conductor.name and pair not in told:
                told.add(pair)
                yield COMMONS_LOOK_ALIKE.at(
                    box.span, box=box.id, first=other, second=controller, color=look[0]
                )


def names_look_alike(facts: Facts) -> Iterator[Problem]:
    """Two names that a person reads as one: VB-3, VB3, vb-03, VB-l."""
    job = facts.job
    sections: tuple[tuple[str, Iterable[tuple[str, Span]]], ...] = (
        ("box", [(b.id, b.span) for b in job.boxes.values()]),
        ("station", [(s.id, s.span) for s in job.stations.values()]),
        ("cable", [(c.id, c.span) for c in job.cables.values()]),
        ("controller", [(c.id, c.span) for c in job.controllers.values()]),
    )
    for kind, names in sections:
        seen: dict[str, tuple[str, Span]] = {}
        for name, place in names:
            keys = _as_read(name)
            other, first = next((seen[key] for key in keys if key in seen), (name, place))
            seen |= {key: seen.get(key, (name, place)) for key in keys}
            if other == name or (kind == "station" and _on_one_terminal(facts, other, name)):
                continue  # that two stations share a terminal is told by itself
            address = record_spelling(name)
            same = kind == "box" and record_spelling(other) == address
            yield (ADDRESS_USED_TWICE if same else NAMES_LOOK_ALIKE).at(
                place,
                first=other,
                second=name,
                kind=kind,
                address=address,
                also=(Also(span=first, text=f"'{other}' is here"),),
            )


def _on_one_terminal(facts: Facts, one: str, two: str) -> bool:
    ends = [loads[0].hot_end for name in (one, two) if (loads := facts.loads_of.get(name))]
    return len(ends) == 2 and ends[0] == ends[1]


_SHAPES = str.maketrans("lIoO", "1100")
_PARTING_NOTHING = re.compile(r"(?<![0-9])[-._]|[-._](?![0-9])")
_LEADING_ZEROS = re.compile(r"(?<![0-9])0+(?=[0-9])")


def _as_read(name: str) -> tuple[str, str]:
    """What a hurried reader keeps of a name: by its sound, and by the shape of its letters."""
    shape = name.translate(_SHAPES)
    sound = _bare(name)
    return sound, sound if shape == name else _bare(shape)


def _bare(name: str) -> str:
    """Without case, leading zeros and separators, except where a separator parts two numbers."""
    folded = _PARTING_NOTHING.sub("", name.upper())
    return _LEADING_ZEROS.sub("", folded.replace(".", "-").replace("_", "-"))


def shared_boxes(facts: Facts) -> Iterator[Problem]:
    """Valves of two controllers lie in one box."""
    for box in facts.job.boxes.values():
        by_controller: dict[str, list[str]] = {}
        for load in facts.loads_in.get(box.id, ()):
            by_controller.setdefault(load.controller, []).append(load.id)
        if len(by_controller) > 1:
            parts = "; ".join(f"{c}: {english_list(ids)}" for c, ids in by_controller.items())
            yield SHARED_BOX.at(
                box.span, box=box.id, controllers=english_list(by_controller), valves=parts
            )
