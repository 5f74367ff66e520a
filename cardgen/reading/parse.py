"""Turn YAML text into nodes: bounded in depth and size, duplicate keys found, nothing guessed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

import yaml

from cardgen.problems import Also, Place, Problem, Verdict
from cardgen.reading.nodes import Entry, Mapping, Node, Scalar, Sequence

DEEPEST = 20  # a job needs 6
MOST_NODES = 1_000_000  # with aliases written out; a job of 8,000 stations has about 150,000

_LOADER = yaml.CSafeLoader if yaml.__with_libyaml__ else yaml.SafeLoader


def parse(text: str, name: str) -> tuple[Node | None, tuple[Problem, ...]]:
    """The root node, or None where YAML itself cannot go on."""
    builder = _Builder(name)
    try:
        for event in yaml.parse(text, Loader=_LOADER):
            if not builder.take(event):
                break
    except yaml.MarkedYAMLError as fault:
        builder.problems.append(_syntax(fault, text, name))
        return None, tuple(builder.problems)
    except yaml.YAMLError as fault:
        builder.fault(Place(name, 1, 1), "not-yaml", f"this is not a YAML file: {fault}")
    if builder.stopped:
        return None, tuple(builder.problems)
    if builder.root is None:
        builder.fault(Place(name, 1, 1), "file-empty", "the file holds only comments")
    return builder.root, tuple(builder.problems)


@dataclass(slots=True)
class _Open:
    """A sequence or mapping whose end has not come yet."""

    place: Place
    is_mapping: bool
    anchor: str | None
    items: list[Node] = field(default_factory=list)
    size: int = 1


class _Builder:
    """Builds nodes from parse events with its own stack, so depth cannot overrun Python's."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.problems: list[Problem] = []
        self.root: Node | None = None
        self.stopped = False
        self._open: list[_Open] = []
        self._anchors: dict[str, tuple[Node, int]] = {}
        self._documents = 0

    def fault(self, place: Place, code: str, sentence: str, help_: str = "") -> None:
        self.problems.append(
            Problem(code=code, verdict=Verdict.ERROR, place=place, sentence=sentence, help=help_)
        )

    def stop(self, place: Place, code: str, sentence: str, help_: str = "") -> bool:
        self.fault(place, code, sentence, help_)
        self.stopped = True
        return False

    def take(self, event: yaml.Event) -> bool:
        """Take in one event; False ends the reading."""
        place = self._place(event)
        if isinstance(event, yaml.DocumentStartEvent):
            self._documents += 1
            if self._documents > 1:
                return self.stop(place, "second-document", "a second document starts here ('---')")
        elif isinstance(event, (yaml.MappingStartEvent, yaml.SequenceStartEvent)):
            return self._start(event, place)
        elif isinstance(event, (yaml.MappingEndEvent, yaml.SequenceEndEvent)):
            return self._end()
        elif isinstance(event, yaml.ScalarEvent):
            if event.tag not in (None, "!"):
                return self.stop(place, "yaml-tag", f"a YAML tag ({event.tag}) has no use in a job")
            quoted = event.style in ("'", '"')
            return self._add(Scalar(place=place, text=event.value, quoted=quoted), 1, event.anchor)
        elif isinstance(event, yaml.AliasEvent):
            return self._alias(event, place)
        return True

    def _start(self, event: yaml.MappingStartEvent | yaml.SequenceStartEvent, place: Place) -> bool:
        if event.tag not in (None, "!"):
            return self.stop(place, "yaml-tag", f"a YAML tag ({event.tag}) has no use in a job")
        if len(self._open) >= DEEPEST:
            sentence = f"things are nested more than {DEEPEST} deep here"
            return self.stop(place, "nested-too-deep", sentence, "look for a bracket never closed")
        is_mapping = isinstance(event, yaml.MappingStartEvent)
        self._open.append(_Open(place=place, is_mapping=is_mapping, anchor=event.anchor))
        return True

    def _end(self) -> bool:
        done = self._open.pop()
        node: Node
        if done.is_mapping:
            node = Mapping(place=done.place, entries=tuple(self._entries(done.items)))
        else:
            node = Sequence(place=done.place, items=tuple(done.items))
        return self._add(node, done.size, done.anchor)

    def _entries(self, items: list[Node]) -> Iterator[Entry]:
        first: dict[str, Place] = {}
        for key, value in zip(items[::2], items[1::2], strict=True):
            if not isinstance(key, Scalar):
                self.fault(key.place, "key-not-text", "a name is expected before ':', not a list")
                continue
            if key.text in first:
                self.problems.append(
                    Problem(
                        code="duplicate-key",
                        verdict=Verdict.ERROR,
                        place=key.place,
                        sentence=f"'{key.text}' is written twice",
                        also=(Also(place=first[key.text], text="first written here"),),
                        help="keep one of them, or give the second its own name",
                    )
                )
                continue
            first[key.text] = key.place
            yield Entry(key=key, value=value)

    def _alias(self, event: yaml.AliasEvent, place: Place) -> bool:
        if event.anchor not in self._anchors:
            return self.stop(place, "alias-unknown", f"'*{event.anchor}' refers to nothing above")
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
            sentence = f"aliases blow this up to more than {MOST_NODES:,} values"
            return self.stop(parent.place, "too-many-values", sentence, "write the values out")
        return True

    def _place(self, event: yaml.Event) -> Place:
        start, end = event.start_mark, event.end_mark
        assert start is not None and end is not None  # every event from a text has both
        length = end.column - start.column if end.line == start.line else 1
        return Place(self.name, start.line + 1, start.column + 1, max(length, 1))


# What the YAML parser says, and what a person does about it.
_SYNTAX_HELP = (
    (
        "mapping values are not allowed",
        "two ':' on one line; put the value in quotes or on its own line",
    ),
    ("cannot start any token", "put the value in quotes, or remove this character"),
    ("could not find expected ':'", "a name here has no ':' after it"),
    ("did not find expected key", "check the indentation: lines that belong together start alike"),
    ("did not find expected '-' indicator", "check the indentation of this list"),
    ("expected ',' or '", "a comma or a closing bracket is missing"),
    ("did not find expected ',' or '", "a comma or a closing bracket is missing"),
    ("maximum nesting depth", "look for a bracket that is never closed"),
    ("end of stream", "a quote is opened and never closed"),
    ("unexpected end", "a quote is opened and never closed"),
)


def _syntax(fault: yaml.MarkedYAMLError, text: str, name: str) -> Problem:
    mark = fault.problem_mark or fault.context_mark
    line, column = (mark.line, mark.column) if mark else (0, 0)
    lines = text.splitlines()
    here = lines[line] if line < len(lines) else ""
    said = str(fault.problem or fault)
    indent = here[: len(here) - len(here.lstrip())]
    if "\t" in indent:
        column = indent.index("\t")
        sentence, help_ = "a tab indents this line", "use spaces: YAML does not allow tabs there"
        code = "tab"
    else:
        sentence = "the file cannot be read beyond this point"
        help_ = next((way for sign, way in _SYNTAX_HELP if sign in said), said)
        code = "not-yaml"
    also: tuple[Also, ...] = ()
    if fault.context_mark and fault.context_mark.line != line:
        begun = Place(name, fault.context_mark.line + 1, fault.context_mark.column + 1)
        also = (Also(place=begun, text="what is being read starts here"),)
    return Problem(
        code=code,
        verdict=Verdict.ERROR,
        place=Place(name, line + 1, column + 1),
        sentence=sentence,
        also=also,
        help=help_,
    )
