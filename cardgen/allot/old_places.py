"""Find the places of a text with hots in the text as it was, which is what a person has."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from cardgen.problems import Also, Problem, Span
from cardgen.reading import nodes, parse
from cardgen.reading.nodes import Node

# Keys and numbers from the top of the file down; the last says whether it is a key itself.
_Way = tuple[str | int | bool, ...]


class OldPlaces:
    """Turns places of the new text into those of the old.

    Attributes:
        stations: by station, its place in the old text; that of a hot which was not there.
    """

    def __init__(self, old: str, new: str, stations: Mapping[str, Span]) -> None:
        self.stations = stations
        self._old = dict(_ways(parse(old, "")[0], ()))
        self._new: dict[tuple[int, int], _Way] = {}
        for way, span in _ways(parse(new, "")[0], ()):
            self._new.setdefault((span.line, span.column), way)

    def problem(self, problem: Problem) -> Problem:
        also = tuple(Also(span=self.span(a.span), text=a.text) for a in problem.also)
        return replace(problem, span=self.span(problem.span), also=also)

    def span(self, span: Span) -> Span:
        way = self._new[span.line, span.column]
        old = self._old.get(way)
        if old is None:
            return self.stations[str(way[1])]
        return span._replace(line=old.line, column=old.column)


def _ways(node: Node | None, way: _Way) -> Iterator[tuple[_Way, Span]]:
    """Each key and value with its place."""
    if node is None:
        return
    if isinstance(node, nodes.Mapping):
        for key, value in node.entries:
            yield (*way, key.text, True), key.span
            yield from _ways(value, (*way, key.text))
    elif isinstance(node, nodes.Sequence):
        for number, item in enumerate(node.items):
            yield from _ways(item, (*way, number))
    yield (*way, False), node.span
