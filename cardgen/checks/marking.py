"""Check that what lies side by side can be told apart: cables, commons, names."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import combinations

from cardgen.checks.facts import Facts, error, listed, note, warning
from cardgen.problems import Also, Place, Problem
from cardgen.wiring.model import Conductor


def cables_look_alike(facts: Facts) -> Iterator[Problem]:
    """Two cables with the same colours come to one place and no band tells them apart."""
    palettes: dict[str, list[Conductor]] = {}
    for conductor in facts.wiring.conductors.values():
        palettes.setdefault(conductor.cable.id, []).append(conductor)
    for one, two in combinations(palettes, 2):
        first, second = palettes[one], palettes[two]
        if first[0].cable.band != second[0].cable.band:
            continue
        twins = _look(first) & _look(second)
        whole = _look(first) == _look(second)
        places = {s.at for s in first[0].cable.run}
        shared = [s.at for s in second[0].cable.run if s.at in places]
        bundles = bool(first[0].cable.singles and second[0].cable.singles)
        if shared and (whole or (bundles and twins)):
            if all(_one_metal(facts, one, two, look) for look in twins):
                continue  # a path that branches: likes are joined with likes anyway
            example = min(twins)
            yield warning(
                "cables-look-alike",
                second[0].cable.place,
                f"{one} and {two} both come to '{shared[0]}' and both hold '{example}'",
                "put a band of tape on one of them at every end and write it down: "
                "'band: yellow tape'",
                Also(place=first[0].cable.place, text=f"{one} is described here"),
            )


def _one_metal(facts: Facts, one: str, two: str, look: str) -> bool:
    ends = []
    for cable in (one, two):
        conductor = facts.wiring.conductors[f"{cable} {look}"]
        ends.append(conductor.ends_at(conductor.places[0])[0])
    return facts.network.group(ends[0]) == facts.network.group(ends[1])


def _look(conductors: Iterable[Conductor]) -> frozenset[str]:
    return frozenset(c.name.partition(" ")[2] for c in conductors)


def commons_look_alike(facts: Facts) -> Iterator[Problem]:
    """The commons of two controllers meet in a box and look the same."""
    for box in facts.job.boxes.values():
        seen: dict[tuple[str, str, str], str] = {}
        for controller, landings in facts.wiring.commons.items():
            for la in landings:
                if box.id not in la.conductor.places[la.begins :]:
                    continue
                look = (la.conductor.insulation.word, la.conductor.cable.band, la.conductor.flag)
                other = seen.setdefault(look, controller)
                if other != controller:
                    yield warning(
                        "commons-look-alike",
                        box.place,
                        f"in '{box.id}' the commons of {other} and {controller} are both {look[0]}",
                        f"band or stripe the common of {controller} at every end",
                    )


def names_look_alike(facts: Facts) -> Iterator[Problem]:
    """Two names that a person reads as one: VB-3, VB3, vb-03, VB-l."""
    job = facts.job
    sections: tuple[tuple[str, Iterable[tuple[str, Place]]], ...] = (
        ("box", [(b.id, b.place) for b in job.boxes.values()]),
        ("station", [(s.id, s.place) for s in job.stations.values()]),
        ("cable", [(c.id, c.place) for c in job.cables.values()]),
        ("controller", [(c.id, c.place) for c in job.controllers.values()]),
    )
    for kind, names in sections:
        seen: dict[str, tuple[str, Place]] = {}
        for name, place in names:
            other, first = seen.setdefault(_as_read(name), (name, place))
            if other == name:
                continue
            if kind == "box" and record_spelling(other) == record_spelling(name):
                yield error(
                    "address-used-twice",
                    place,
                    f"the boxes '{other}' and '{name}' would share the address "
                    f"'{record_spelling(name)}' in the job record",
                    "give one of them another name",
                    Also(place=first, text=f"'{other}' stands here"),
                )
            else:
                yield warning(
                    "names-look-alike",
                    place,
                    f"'{other}' and '{name}' are two {kind} names that read as one",
                    f"is it one {kind}? then write it one way; else name them further apart",
                    Also(place=first, text=f"'{other}' stands here"),
                )


def _as_read(name: str) -> str:
    folded = re.sub(r"[-._]", "", name.upper().replace("O", "0"))
    folded = re.sub(r"(?<=\d)[IL]|[IL](?=\d)", "1", folded)
    return re.sub(r"(?<!\d)0+(?=\d)", "", folded)


def record_spelling(name: str) -> str:
    """A name as it stands in an address: capitals, digits, '-' and '.' only."""
    return name.upper().replace("_", "-")


def shared_boxes(facts: Facts) -> Iterator[Problem]:
    """Valves of two controllers lie in one box."""
    for box in facts.job.boxes.values():
        by_controller: dict[str, list[str]] = {}
        for load in facts.loads_in.get(box.id, ()):
            by_controller.setdefault(load.controller, []).append(load.id)
        if len(by_controller) > 1:
            parts = "; ".join(f"{c}: {listed(ids)}" for c, ids in by_controller.items())
            yield note(
                "shared-box",
                box.place,
                f"'{box.id}' holds valves of {listed(by_controller)} ({parts})",
                "each keeps its own common; their commons must not touch",
            )
