"""Find problems that say the same of several things, so that they can be told once."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Iterator, Sequence

from cardgen.light_dataclass import dataclass
from cardgen.problems import Problem

LEAST = 3  # two are read as quickly as one with a list


@dataclass(frozen=True, slots=True)
class Alike:
    """One of several alike, by its place among all, with the name in which it differs."""

    index: int
    name: str


def alike_problems(problems: Sequence[Problem]) -> dict[int, list[Alike]]:
    """By the place of the first: all of them; only what differs in one name is the same."""
    names = [[] if problem.also else _names_in_order(problem) for problem in problems]
    groups: dict[int, list[Alike]] = {}
    taken: set[int] = set()
    for rank in range(max(map(len, names), default=0)):
        alike: dict[Hashable, list[Alike]] = defaultdict(list)
        for index, problem in enumerate(problems):
            if index not in taken and rank < len(names[index]):
                name = names[index][rank]
                alike[_without(problem, name)].append(Alike(index, name))
        for members in alike.values():
            if len({each.name for each in members}) >= LEAST:
                groups[members[0].index] = members
                taken.update(each.index for each in members)
    return groups


def told_once(problems: Sequence[Problem]) -> Iterator[tuple[Problem, list[Alike]]]:
    """Those that differ, in their order, each with the others that are alike."""
    groups = alike_problems(problems)
    taken = {each.index for members in groups.values() for each in members}
    for index, problem in enumerate(problems):
        if index in groups or index not in taken:
            yield problem, groups.get(index, [])[1:]


def _names_in_order(problem: Problem) -> list[str]:
    """The names that its sentence has as words, from left to right."""
    places = ((next(_places(problem.sentence, name), -1), name) for name in problem.names)
    return [name for place, name in sorted(places) if place >= 0]


def _without(problem: Problem, name: str) -> Hashable:
    said = _cut_out(problem.sentence, name), _cut_out(problem.help, name)
    return problem.code, problem.verdict, problem.span.file, *said


def _cut_out(text: str, name: str) -> tuple[str, ...]:
    """The text between the places where it names it."""
    places = list(_places(text, name))
    starts = [0, *(place + len(name) for place in places)]
    return tuple(text[a:b] for a, b in zip(starts, [*places, len(text)], strict=True))


def _places(text: str, name: str) -> Iterator[int]:
    """Where a name stands in a text as a word of its own."""
    place = text.find(name) if name else -1
    while place >= 0:
        end = place + len(name)
        if not (_is_of_a_word(text[:place][-1:]) or _is_of_a_word(text[end : end + 1])):
            yield place
        place = text.find(name, end)


def _is_of_a_word(sign: str) -> bool:
    return sign.isalnum() or sign in ("_", "-")
