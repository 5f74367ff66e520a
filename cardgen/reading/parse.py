"""Turn YAML text into nodes: bounded in depth and size, duplicate keys found, nothing guessed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from collections.abc import Mapping as Mapping_
from dataclasses import field
from typing import NamedTuple

import yaml

from cardgen.faults.file_faults import (
    ALIAS_UNKNOWN,
    DUPLICATE_KEY,
    FILE_EMPTY,
    KEY_NOT_TEXT,
    NESTED_TOO_DEEP,
    NOT_YAML,
    REMARK_IN_TEXT,
    SECOND_DOCUMENT,
    TOO_MANY_VALUES,
    YAML_TAG,
)
from cardgen.light_dataclass import dataclass
from cardgen.problems import Also, Problem, Span
from cardgen.reading.files import untyped_characters
from cardgen.reading.nodes import (
    KeyValue,
    Mapping,
    Node,
    Scalar,
    Sequence,
    is_absent,
    kind_of,
    short,
)
from cardgen.reading.numbered_remarks import numbered_stations
from cardgen.reading.other_files import table_kind
from cardgen.reading.pasted_signs import STARTS, in_plain_quotes, is_pasted, pasted
from cardgen.reading.syntax import ParserStop, lines_of, question_at, syntax_problem

DEEPEST = 20  # a job needs 6
MOST_NODES = 1_000_000  # with aliases written out; a job of 8,000 stations has about 150,000

_NO_TAG = (None, "!")
_QUOTES = ("'", '"')
_LOADER = yaml.CSafeLoader if yaml.__with_libyaml__ else yaml.SafeLoader


def parse(text: str, name: str) -> tuple[Node | None, tuple[Problem, ...]]:
    """The root node, or None where YAML itself cannot go on."""
    untyped = tuple(untyped_characters(text, name))
    if untyped:
        return None, untyped
    builder = _Builder(name, _remarks_with_a_number(text))
    stop: ParserStop | None = None
    try:
        # As `yaml.parse` does it, which asks twice for each event.
        for event in iter(_LOADER(text).get_event, None):
            if not builder.take(event):
                break
    except yaml.MarkedYAMLError as error:
        stop = _stop_of(error)
    table = table_kind(text) if stop or isinstance(builder.root, Scalar) else ""
    if table:
        return None, (NOT_YAML.at(Span(name, 1, 1), variant="table", kind=table),)
    if builder.pasted:
        signs = pasted(builder.pasted, lines_of(text))
        return None, (*builder.problems, *signs)
    if stop is not None:
        # A remark that cuts a value short is the very reason, or says nothing beside it.
        others = (p for p in builder.problems if p.code != REMARK_IN_TEXT.code)
        found = _with_questions((*others, syntax_problem(stop, lines_of(text), name)), text)
        return None, tuple(dict.fromkeys(found))
    if builder.stopped:
        return None, tuple(builder.problems)
    if builder.root is None:
        start = Span(name, 1, 1)
        builder.problems.append(FILE_EMPTY.at(start, variant="only comments"))
    builder.problems += numbered_stations(text, builder.root, name)
    return builder.root, tuple(_with_questions(builder.problems, text))


def _with_questions(problems: Iterable[Problem], text: str) -> Iterator[Problem]:
    """A key without a name is a '?' that somebody wrote in place of a value, where there is one."""
    lines: list[str] = []
    for problem in problems:
        asked = None
        if problem.code == KEY_NOT_TEXT.code:
            lines = lines or lines_of(text)
            asked = question_at(problem.span, lines[problem.span.line - 1])
        yield asked or problem


class TextPart(NamedTuple):
    """What begins or ends where in a text, in characters from its start.

    Attributes:
        column: in which it begins, from 0.
        kind: `scalar`, `alias`, `mapping`, `sequence`, or `end` of one of the last two.
        style: of a scalar its quote or `|` or `>`, of the others `flow` where it has brackets.
        marked: an anchor or a tag stands before what it is, within `begin` and `end`.
    """

    kind: str
    begin: int
    end: int
    column: int = 0
    text: str = ""
    style: str = ""
    anchor: str = ""
    marked: bool = False


def text_parts(text: str) -> Iterator[TextPart]:
    """The parts of a text in which `parse` finds no problem."""
    for event in iter(_LOADER(text).get_event, None):
        place = event.start_mark.index, event.end_mark.index, event.start_mark.column
        if isinstance(event, yaml.ScalarEvent):
            marked = bool(event.anchor or event.tag)
            style = (event.style or "").strip()
            yield TextPart("scalar", *place, event.value, style, event.anchor or "", marked)
        elif isinstance(event, yaml.AliasEvent):
            yield TextPart("alias", *place, anchor=event.anchor or "")
        elif isinstance(event, (yaml.MappingStartEvent, yaml.SequenceStartEvent)):
            kind = "mapping" if isinstance(event, yaml.MappingStartEvent) else "sequence"
            style = "flow" if event.flow_style else ""
            marked = bool(event.anchor or event.tag)
            yield TextPart(kind, *place, "", style, event.anchor or "", marked)
        elif isinstance(event, (yaml.MappingEndEvent, yaml.SequenceEndEvent)):
            yield TextPart("end", *place)


def _stop_of(error: yaml.MarkedYAMLError) -> ParserStop:
    mark, context = error.problem_mark or error.context_mark, error.context_mark
    return ParserStop(
        line=mark.line if mark else 0,
        column=mark.column if mark else 0,
        begun=(context.line, context.column) if context else None,
        reason=str(error.problem or error),
    )


def _remarks_with_a_number(text: str) -> dict[int, tuple[int, str]]:
    """`place: gate #2`: by line, counted from 0, where its value ends, and the line."""
    found: dict[int, tuple[int, str]] = {}
    for match in re.finditer(" #[0-9]", text):
        start = text.rfind("\n", 0, match.start()) + 1
        before = text[start : match.start()].rstrip()
        if before and not re.search(r"[#\"']|[\[\]{},:|>]$", before):
            line = text[start:].partition("\n")[0].rstrip("\r")
            found[text.count("\n", 0, start)] = (len(before), line)
    return found


@dataclass(slots=True)
class _Open:
    """A sequence or mapping whose end has not come yet."""

    span: Span
    is_mapping: bool
    anchor: str | None
    items: list[Node] = field(default_factory=list)
    size: int = 1


class _Builder:
    """Builds nodes from parse events with its own stack, so depth cannot overrun Python's."""

    def __init__(self, name: str, remarks: Mapping_[int, tuple[int, str]]) -> None:
        self.name, self._remarks = name, remarks
        self.pasted: list[Scalar] = []
        self.problems: list[Problem] = []
        self.root: Node | None = None
        self.stopped = False
        self._open: list[_Open] = []
        self._anchors: dict[str, tuple[Node, int]] = {}
        self._documents = 0

    def stop(self, problem: Problem) -> bool:
        """End the reading there."""
        self.problems.append(problem)
        self.stopped = True
        return False

    def take(self, event: yaml.Event) -> bool:
        """Take in one event; False ends the reading."""
        if isinstance(event, yaml.ScalarEvent):
            return self._scalar(event)
        if isinstance(event, (yaml.MappingStartEvent, yaml.SequenceStartEvent)):
            return self._start(event)
        if isinstance(event, (yaml.MappingEndEvent, yaml.SequenceEndEvent)):
            return self._end()
        if isinstance(event, yaml.AliasEvent):
            return self._alias(event)
        if isinstance(event, yaml.DocumentStartEvent):
            self._documents += 1
            if self._documents > 1:
                return self.stop(SECOND_DOCUMENT.at(self._place(event)))
        return True

    def _scalar(self, event: yaml.ScalarEvent) -> bool:
        span = self._place(event)
        if event.tag not in _NO_TAG:
            return self.stop(YAML_TAG.at(span))
        scalar = Scalar(span, event.value, event.style in _QUOTES)
        if not event.style or event.style == ":":
            self._look_at_plain(scalar, event)
        return self._add(scalar, 1, event.anchor)

    def _look_at_plain(self, scalar: Scalar, event: yaml.ScalarEvent) -> None:
        if scalar.text[:1] in STARTS and is_pasted(scalar.text):
            self.pasted.append(scalar)
        if self._remarks and event.end_mark is not None:
            end, line = self._remarks.get(event.end_mark.line, (-1, ""))
            if end == event.end_mark.column and scalar.text:
                text = line[scalar.span.column - 1 :].strip()
                at = scalar.span._replace(column=line.index(" #") + 2)
                self.problems.append(
                    REMARK_IN_TEXT.at(
                        at, lost=short(line[at.column - 1 :]), quoted=in_plain_quotes(text)
                    )
                )

    def _start(self, event: yaml.MappingStartEvent | yaml.SequenceStartEvent) -> bool:
        span = self._place(event)
        if event.tag not in _NO_TAG:
            return self.stop(YAML_TAG.at(span))
        if len(self._open) >= DEEPEST:
            return self.stop(NESTED_TOO_DEEP.at(span, most=DEEPEST))
        is_mapping = isinstance(event, yaml.MappingStartEvent)
        self._open.append(_Open(span, is_mapping, event.anchor))
        return True

    def _end(self) -> bool:
        done = self._open.pop()
        node: Node
        if done.is_mapping:
            node = Mapping(done.span, tuple(self._entries(done.items)))
        else:
            node = Sequence(done.span, tuple(done.items))
        return self._add(node, done.size, done.anchor)

    def _entries(self, items: list[Node]) -> Iterator[KeyValue]:
        first: dict[str, Span] = {}
        for key, value in zip(items[::2], items[1::2], strict=True):
            if not isinstance(key, Scalar):
                self.problems.append(KEY_NOT_TEXT.at(key.span, found=kind_of(key)))
            elif is_absent(key):
                self.problems.append(KEY_NOT_TEXT.at(key.span, variant="nothing"))
            elif key.text in first:
                also = (Also(span=first[key.text], text="first written here"),)
                self.problems.append(DUPLICATE_KEY.at(key.span, key=short(key.text), also=also))
            else:
                first[key.text] = key.span
                yield KeyValue(key, value)

    def _alias(self, event: yaml.AliasEvent) -> bool:
        if event.anchor not in self._anchors:
            unknown = short(event.anchor or "")
            return self.stop(ALIAS_UNKNOWN.at(self._place(event), alias=unknown))
        node, size = self._anchors[event.anchor]
        return self._add(node, size, None)

    def _add(self, node: Node, size: int, anchor: str | None) -> bool:
        if anchor is not None:
            self._anchors[anchor] = (node, size)
        if not self._open:
            self.root = node
            return True
        parent = self._open[-1]
        parent.items.append(node)
        parent.size += size
        if parent.size > MOST_NODES:
            return self.stop(TOO_MANY_VALUES.at(parent.span, most=MOST_NODES))
        return True

    def _place(self, event: yaml.Event) -> Span:
        start, end = event.start_mark, event.end_mark
        assert start is not None and end is not None  # every event from a text has both
        line, column = start.line, start.column
        length = end.column - column if end.line == line else 1
        return Span(self.name, line + 1, column + 1, max(1, length))
