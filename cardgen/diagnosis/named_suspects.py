"""Name what is kept: one suspect for each fault alone and each two, or two faults side by side.

Where any of several faults goes with any of several others, all pairs would be a long list that
says little: each fault is then one suspect, with those of which one goes with it.

```
kept   f1+g1 f1+g2 f2+g1 f2+g2 f3+g1        told   f1, f2, f3, each with one of g1, g2
```
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass

from cardgen.diagnosis.diagnosed import Suspect
from cardgen.diagnosis.evidence import Evidence
from cardgen.diagnosis.hypothesis import Hypothesis
from cardgen.diagnosis.meanwhile import at_rest, to_read_again
from cardgen.diagnosis.search import Weighed, what_and_where

_SIDES = 2
_Group = dict[int, tuple[int, int]]  # by index of what is kept, which of its parts is on each side


@dataclass(frozen=True, slots=True)
class NamedSuspects:
    """Attributes:
    of: by index of what is kept, the indices of the suspects that tell it.
    """

    suspects: tuple[Suspect, ...]
    of: tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True)
class _NamedEntry:
    """What becomes one suspect: what is kept by index, and on which side of a group."""

    kept: tuple[int, ...]
    parts: tuple[Hypothesis, ...]
    group: int = -1
    side: int = 0


def named(found: Sequence[Weighed], evidence: Sequence[Evidence]) -> NamedSuspects:
    weights = [math.exp(each.log - found[0].log) for each in found]
    entries = _entries(found)
    suspects = []
    for entry in entries:
        faults = sorted((part.fault for part in entry.parts), key=lambda f: -len(f.valves))
        suspects.append(
            Suspect(
                faults=tuple(faults),
                share=sum(weights[index] for index in entry.kept) / sum(weights),
                meanwhile=at_rest(entry.parts, evidence),
                again=to_read_again(entry.parts, evidence),
                beside=tuple(_beside(entries, entry)),
            )
        )
    of = (tuple(n for n, e in enumerate(entries) if k in e.kept) for k in range(len(found)))
    return NamedSuspects(tuple(suspects), tuple(of))


def _beside(entries: Sequence[_NamedEntry], entry: _NamedEntry) -> Iterator[int]:
    """Of the other side of its group those that were kept with it."""
    for number, other in enumerate(entries):
        is_other_side = other.group == entry.group and other.side != entry.side
        if entry.group >= 0 and is_other_side and not set(other.kept).isdisjoint(entry.kept):
            yield number


def _entries(found: Sequence[Weighed]) -> list[_NamedEntry]:
    """In the order of the likeliest of each; one side of a group after the other."""
    group_of = {index: n for n, group in enumerate(_groups(found)) for index in group}
    groups = _groups(found)
    done: set[int] = set()
    entries: list[_NamedEntry] = []
    for index, each in enumerate(found):
        if index not in group_of:
            entries.append(_NamedEntry((index,), each.parts))
        elif group_of[index] not in done:
            number = group_of[index]
            done.add(number)
            entries += _sides(found, number, groups[number])
    return entries


def _sides(
    found: Sequence[Weighed], number: int, group: dict[int, tuple[int, int]]
) -> list[_NamedEntry]:
    entries = []
    for side in range(_SIDES):
        kept: dict[Hashable, list[int]] = defaultdict(list)
        for index, sides in group.items():
            kept[what_and_where(found[index].parts[sides[side]])].append(index)
        for indices in kept.values():
            part = found[indices[0]].parts[group[indices[0]][side]]
            entries.append(_NamedEntry(tuple(indices), (part,), number, side))
    return entries


def _groups(found: Sequence[Weighed]) -> list[_Group]:
    """Pairs that hang together, where that makes fewer suspects than there are pairs."""
    groups = []
    pairs = {n: each for n, each in enumerate(found) if len(each.parts) == _SIDES}
    while pairs:
        first = next(iter(pairs))
        group = _around(pairs, first)
        pairs = {n: each for n, each in pairs.items() if n not in group}
        kinds = {
            (side, what_and_where(found[n].parts[at]))
            for n, sides in group.items()
            for side, at in enumerate(sides)
        }
        names = {what for _, what in kinds}
        if len(names) == len(kinds) <= len(group):  # none is on both sides
            groups.append(group)
    return groups


def _around(pairs: dict[int, Weighed], first: int) -> _Group:
    """All pairs that share a fault with it, or with one that does, from side to side."""
    side_of: dict[Hashable, int] = {what_and_where(pairs[first].parts[0]): 0}
    group: _Group = {}
    is_growing = True
    while is_growing:
        is_growing = False
        for number, pair in pairs.items():
            one, two = map(what_and_where, pair.parts)
            if number in group or not {one, two} & side_of.keys():
                continue
            at_one = side_of.get(one, 1 - side_of.get(two, 0))
            side_of.setdefault(one, at_one)
            side_of.setdefault(two, 1 - at_one)
            group[number] = (0, 1) if at_one == 0 else (1, 0)
            is_growing = True
    return group
