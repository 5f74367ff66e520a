"""Write hots into the text of a job at the entries of their stations, and change nothing else."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from cardgen.problems import Span
from cardgen.reading import nodes, parse
from cardgen.reading.nodes import KeyValue, Scalar

# After which key the hot reads best; then any other that ends on its own line.
_BEFORE_IT = ("box", "area")
_FLOW = re.compile(r"(?:&\S+\s+)?\{")


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class Insertion:
    """`text` goes in for `station` at character `at` of the old text."""

    at: int
    text: str
    station: str


def insertions(text: str, hots: Mapping[str, Sequence[str]]) -> tuple[Insertion, ...]:
    """What is to be put in, in the order of the text; entries that cannot be edited are left out.

    Args:
        hots: by station, the conductors from the controller outward.
    """
    root, _ = parse(text, "")
    lines = Lines(text)
    found = []
    for entry in _stations(root):
        name, value = entry.key.text, entry.value
        # What stands before its own name is an entry elsewhere, repeated by '*'.
        own = (value.span.line, value.span.column) > (
            entry.key.span.line,
            entry.key.span.column,
        )
        if name in hots and isinstance(value, nodes.Mapping) and value.entries and own:
            where = _insertion(lines, value, hots[name])
            if where is not None:
                found.append(Insertion(at=where[0], text=where[1], station=name))
    return tuple(sorted(found))


def inserted(text: str, found: Sequence[Insertion]) -> str:
    """The text with all of that in it."""
    parts, done = [], 0
    for one in found:
        parts += [text[done : one.at], one.text]
        done = one.at
    return "".join([*parts, text[done:]])


def _stations(root: nodes.Node | None) -> Iterator[KeyValue]:
    for section in root.entries if isinstance(root, nodes.Mapping) else ():
        if section.key.text == "stations" and isinstance(section.value, nodes.Mapping):
            yield from section.value.entries


def _insertion(lines: Lines, entry: nodes.Mapping, words: Sequence[str]) -> tuple[int, str] | None:
    """Where it goes in, and what."""
    first = entry.entries[0].key
    hot = _hot(words, quoted=first.quoted)
    before = _neighbor(entry)
    brace = _FLOW.match(lines.text, lines.offset(entry.span))
    if brace and before:
        return lines.offset(before.span) + before.span.length, f", {hot}"
    if brace:
        return brace.end(), f"{hot}, "
    line = before.span.line if before else first.span.line
    indent = lines.content(first.span.line)[: first.span.column - 1]
    if indent.strip(" "):
        return None  # something else stands before the first key
    ending = lines.ending(line)
    if before is None:
        return lines.start(line), f"{indent}{hot}{ending}"
    if lines.is_last(line):
        return len(lines.text), f"{ending}{indent}{hot}"
    return lines.start(line + 1), f"{indent}{hot}{ending}"


def _hot(words: Sequence[str], *, quoted: bool) -> str:
    """`hot: A-K1 red`; in quotes where the entry's own keys are, as in JSON.

    A conductor's name never needs quotes: letters, digits, blanks and `- . _ /` only.
    """
    mark = '"' if quoted else ""
    listed = [f"{mark}{word}{mark}" for word in words]
    value = listed[0] if len(listed) == 1 else f"[{', '.join(listed)}]"
    return f"{mark}hot{mark}: {value}"


def _neighbor(entry: nodes.Mapping) -> Scalar | None:
    """The value after which the hot goes: one that begins and ends on the line of its key."""
    by_key = {e.key.text: e for e in entry.entries}
    wanted = [by_key[key] for key in _BEFORE_IT if key in by_key]
    for each in (*wanted, *entry.entries):
        key, value = each.key.span, each.value
        if not isinstance(value, Scalar) or value.span.line != key.line:
            continue
        # A length of 1 also stands for several lines; what is repeated by '*' stands before.
        in_line = value.span.length > 1 or (len(value.text) == 1 and not value.quoted)
        if in_line and value.span.column > key.column:
            return value
    return None


class Lines:
    """The lines of a text as YAML counts them, with where each begins."""

    def __init__(self, text: str) -> None:
        self.text = text
        self._starts = [0, *(m.end() for m in re.finditer("\r\n|[\r\n]", text))]

    def offset(self, span: Span) -> int:
        return self._starts[span.line - 1] + span.column - 1

    def start(self, line: int) -> int:
        """Where a line begins; the end of the text for the line after the last."""
        return self._starts[line - 1] if line <= len(self._starts) else len(self.text)

    def content(self, line: int) -> str:
        """A line without what ends it."""
        return self.text[self.start(line) : self.start(line + 1)].rstrip("\r\n")

    def ending(self, line: int) -> str:
        """What ends a line; the file's first ending for a last line that has none."""
        here = self.text[self.start(line) : self.start(line + 1)]
        own = here[len(here.rstrip("\r\n")) :]
        first = re.search("\r\n|[\r\n]", self.text)
        return own or (first[0] if first else "\n")

    def is_last(self, line: int) -> bool:
        """Whether nothing ends this line but the text itself."""
        here = self.text[self.start(line) : self.start(line + 1)]
        return here == here.rstrip("\r\n")

    def position(self, offset: int) -> tuple[int, int]:
        """Line and column, from 1."""
        line = bisect_right(self._starts, offset)
        return line, offset - self._starts[line - 1] + 1
