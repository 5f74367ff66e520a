"""Turn YAML text into nodes: bounded in depth and size, duplicate keys found, nothing guessed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

import yaml

from cardgen.problems import Also, Problem, Span, Verdict
from cardgen.reading.files import START, untyped_characters
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

DEEPEST = 20  # a job needs 6
MOST_NODES = 1_000_000  # with aliases written out; a job of 8,000 stations has about 150,000

_LOADER = yaml.CSafeLoader if yaml.__with_libyaml__ else yaml.SafeLoader


def parse(text: str, name: str) -> tuple[Node | None, tuple[Problem, ...]]:
    """The root node, or None where YAML itself cannot go on."""
    untyped = tuple(untyped_characters(text, name))
    if untyped:
        return None, untyped
    builder = _Builder(name)
    try:
        for event in yaml.parse(text, Loader=_LOADER):
            if not builder.take(event):
                break
    except yaml.MarkedYAMLError as error:
        builder.problems.append(_syntax(error, text, name))
        return None, tuple(builder.problems)
    if builder.stopped:
        return None, tuple(builder.problems)
    if builder.root is None:
        builder.fault(Span(name, 1, 1), "file-empty", "the file holds only comments", START)
    return builder.root, tuple(builder.problems)


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

    def __init__(self, name: str) -> None:
        self.name = name
        self.problems: list[Problem] = []
        self.root: Node | None = None
        self.stopped = False
        self._open: list[_Open] = []
        self._anchors: dict[str, tuple[Node, int]] = {}
        self._documents = 0

    def fault(self, span: Span, code: str, sentence: str, help_: str = "") -> None:
        self.problems.append(
            Problem(code=code, verdict=Verdict.ERROR, span=span, sentence=sentence, help=help_)
        )

    def stop(self, span: Span, code: str, sentence: str, help_: str = "") -> bool:
        self.fault(span, code, sentence, help_)
        self.stopped = True
        return False

    def take(self, event: yaml.Event) -> bool:
        """Take in one event; False ends the reading."""
        span = self._place(event)
        if isinstance(event, yaml.DocumentStartEvent):
            self._documents += 1
            if self._documents > 1:
                sentence = "a second document starts here ('---')"
                help_ = (
                    "a file holds one job: delete this line, or put what follows in its own file"
                )
                return self.stop(span, "second-document", sentence, help_)
        elif isinstance(event, (yaml.MappingStartEvent, yaml.SequenceStartEvent)):
            return self._start(event, span)
        elif isinstance(event, (yaml.MappingEndEvent, yaml.SequenceEndEvent)):
            return self._end()
        elif isinstance(event, yaml.ScalarEvent):
            if event.tag not in (None, "!"):
                return self._tag(span)
            quoted = event.style in ("'", '"')
            return self._add(Scalar(span=span, text=event.value, quoted=quoted), 1, event.anchor)
        elif isinstance(event, yaml.AliasEvent):
            return self._alias(event, span)
        return True

    def _tag(self, span: Span) -> bool:
        sentence = "a value here starts with '!', which has a meaning of its own in YAML"
        return self.stop(span, "yaml-tag", sentence, "put the value in quotes, or delete the '!'")

    def _start(self, event: yaml.MappingStartEvent | yaml.SequenceStartEvent, span: Span) -> bool:
        if event.tag not in (None, "!"):
            return self._tag(span)
        if len(self._open) >= DEEPEST:
            sentence = f"things are nested more than {DEEPEST} deep here"
            return self.stop(span, "nested-too-deep", sentence, "look for a bracket never closed")
        is_mapping = isinstance(event, yaml.MappingStartEvent)
        self._open.append(_Open(span=span, is_mapping=is_mapping, anchor=event.anchor))
        return True

    def _end(self) -> bool:
        done = self._open.pop()
        node: Node
        if done.is_mapping:
            node = Mapping(span=done.span, entries=tuple(self._entries(done.items)))
        else:
            node = Sequence(span=done.span, items=tuple(done.items))
        return self._add(node, done.size, done.anchor)

    def _entries(self, items: list[Node]) -> Iterator[KeyValue]:
        first: dict[str, Span] = {}
        for key, value in zip(items[::2], items[1::2], strict=True):
            if not isinstance(key, Scalar):
                sentence = f"a name is expected before ':', but {kind_of(key)} stands here"
                self.fault(key.span, "key-not-text", sentence, "write 'name: value'")
                continue
            if is_absent(key):
                self.fault(key.span, "key-not-text", "no name stands before ':'", "write one")
                continue
            if key.text in first:
                self.problems.append(
                    Problem(
                        code="duplicate-key",
                        verdict=Verdict.ERROR,
                        span=key.span,
                        sentence=f"'{short(key.text)}' is written twice",
                        also=(Also(span=first[key.text], text="first written here"),),
                        help="keep one of them, or give the second its own name",
                    )
                )
                continue
            first[key.text] = key.span
            yield KeyValue(key=key, value=value)

    def _alias(self, event: yaml.AliasEvent, span: Span) -> bool:
        if event.anchor not in self._anchors:
            sentence = f"'*{short(event.anchor or '')}' refers to nothing above"
            return self.stop(span, "alias-unknown", sentence, "if the '*' is meant, use quotes")
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
            sentence = f"this holds more than {MOST_NODES:,} values"
            help_ = "no job is that large: look for '*' where something is repeated many times"
            return self.stop(parent.span, "too-many-values", sentence, help_)
        return True

    def _place(self, event: yaml.Event) -> Span:
        start, end = event.start_mark, event.end_mark
        assert start is not None and end is not None  # every event from a text has both
        length = end.column - start.column if end.line == start.line else 1
        return Span(self.name, start.line + 1, start.column + 1, max(length, 1))


_INDENT = "check the indentation: lines that belong together start alike"
# What the YAML parser says (libyaml 0.2, scanner.c and parser.c; then its Python twin), and what
# a person does about it.
_SYNTAX_HELP = (
    ("mapping values are not allowed", "two ':' in one line: put the value in quotes"),
    ("unexpected ':'", "put the value in quotes, or leave a blank after the ':'"),
    ("maximum", "look for a bracket that is never closed"),
    ("cannot start any token", "put the value in quotes, or remove this character"),
    ("could not find expected ':'", "a name here has no ':' after it"),
    ("did not find expected key", _INDENT),
    ("expected <block end>", _INDENT),
    ("expected '-' indicator", "check the indentation of this list"),
    ("block sequence entries are not allowed", "start the list on its own line"),
    ("mapping keys are not allowed", "remove the '?', or put the value in quotes"),
    ("expected ',' or '", "a comma or a closing bracket is missing"),
    ("expected node content", "a value is missing here, or a comma or bracket is too many"),
    ("expected the node content", "a value is missing here, or a comma or bracket is too many"),
    ("unexpected end", "a quote is opened and never closed"),
    ("end of stream", "a quote is opened and never closed"),
    ("document indicator", "a quote is opened and never closed"),
    ("unexpected document", "a quote is opened and never closed"),
    ("escape", r"in double quotes '\' has a meaning of its own: use single quotes"),
    ("hexdecimal", r"in double quotes '\' has a meaning of its own: use single quotes"),
    ("alphabetic or numeric", "if the '*' or '&' is meant, put the value in quotes"),
    ("'!'", "if the '!' is meant, put the value in quotes"),
    ("tag", "if the '!' is meant, put the value in quotes"),
    ("tab character", "use spaces: YAML does not allow tabs there"),
    ("<document start>", "what follows does not belong to the line above: check the indentation"),
    ("indentation", "after '|' or '>' start the text on the next line"),
    ("comment or line break", "after '|' or '>' start the text on the next line"),
)
_SYNTAX_OTHERWISE = "look for a missing quote, bracket, comma or ':' here or in the line above"


def _syntax(fault: yaml.MarkedYAMLError, text: str, name: str) -> Problem:
    mark = fault.problem_mark or fault.context_mark
    line, column = (mark.line, mark.column) if mark else (0, 0)
    lines = re.split("\r\n|[\r\n]", text)
    here = lines[line] if line < len(lines) else ""
    said = str(fault.problem or fault)
    indent = here[: len(here) - len(here.lstrip(" \t"))]
    if "\t" in indent:
        column = indent.index("\t")
        sentence, help_ = "a tab indents this line", "use spaces: YAML does not allow tabs there"
        code = "tab"
    else:
        sentence = "the file cannot be read beyond this point"
        help_ = next((way for sign, way in _SYNTAX_HELP if sign in said), _SYNTAX_OTHERWISE)
        if here[:column].rstrip(" ").endswith(("'", '"')) and ":" not in here[column:]:
            help_ = "the quote before this ends the value: put the whole value in the other quotes"
        code = "not-yaml"
    also: tuple[Also, ...] = ()
    if fault.context_mark and fault.context_mark.line != line:
        begun = Span(name, fault.context_mark.line + 1, fault.context_mark.column + 1)
        also = (Also(span=begun, text="what is being read starts here"),)
    return Problem(
        code=code,
        verdict=Verdict.ERROR,
        span=Span(name, line + 1, column + 1),
        sentence=sentence,
        also=also,
        help=help_,
    )
