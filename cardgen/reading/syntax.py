"""Say what a person did where YAML itself cannot go on, and how it is written instead."""

from __future__ import annotations

import re
from typing import NamedTuple

from cardgen.faults.file_faults import BULLET, NOT_YAML, TAB
from cardgen.problems import Also, Problem, Span
from cardgen.reading.nodes import short
from cardgen.reading.pasted_signs import bullet_before, in_plain_quotes
from cardgen.reading.wrong_brackets import (
    is_in_conductor,
    of_a_deeper_line,
    of_a_missing_colon,
    of_an_open_bracket,
    of_brackets,
    of_indent,
)


class ParserStop(NamedTuple):
    """Where the YAML parser stopped, counted from 0, and what it says of it.

    `begun` is the line and column at which the block or the brackets begin.
    """

    line: int
    column: int
    begun: tuple[int, int] | None
    reason: str


_INDENT = "check the indentation: lines of one block start in the same column"
_NO_COLON = "a name here has no ':' after it"
_NOT_CLOSED = "a comma or a closing bracket is missing"
_DASH = "a '-' begins each line of a list: put one before this line too, or delete the one above"
# What the YAML parser says (libyaml 0.2, scanner.c and parser.c; then its Python twin), and what
# a person does about it.
_SYNTAX_HELP = (
    ("mapping values are not allowed", "two ':' in one line: put the value in quotes"),
    ("unexpected ':'", "put the value in quotes, or leave a space after the ':'"),
    ("maximum", "look for a bracket that is never closed"),
    ("cannot start any token", "put the value in quotes, or remove this character"),
    ("could not find expected ':'", _NO_COLON),
    ("did not find expected key", _INDENT),
    ("expected <block end>", _INDENT),
    ("expected '-' indicator", _DASH),
    ("block sequence entries are not allowed", "start the list on its own line"),
    ("mapping keys are not allowed", "remove the '?', or put the value in quotes"),
    ("expected ',' or '", _NOT_CLOSED),
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
_LOOKED_BACK = 40  # lines of one entry in brackets (assumed; a long one has a dozen)


# A double quote that begins a value, and no other after it in the line.
_OPENED = re.compile(r"^(?:[^\"#]*\"[^\"]*\")*[^\"#]*[:,\[{-]\s*\"(?=[^\"]*$)")


# YAML takes it for the sign of a key of several lines.
_QUESTION = re.compile(r"(?<![^\s,\[{:])\?+(?=\s*(?:[,\]}]|$|\s#))")


def question_at(span: Span, line: str) -> Problem | None:
    """A '?' in place of a value, if the last sign before or at the place is one."""
    before = [m for m in _QUESTION.finditer(_without_quoted(line)) if m.start() < span.column]
    if not before:
        return None
    return NOT_YAML.at(span._replace(column=before[-1].start() + 1), variant="question")


def lines_of(text: str) -> list[str]:
    """As YAML ends them."""
    return re.split("\r\n|[\r\n]", text)


def syntax_problem(stop: ParserStop, lines: list[str], name: str) -> Problem:
    """The problem of the sign at which the parser stopped, or of the one that led it there."""
    here = lines[stop.line] if stop.line < len(lines) else ""
    first = stop.begun[0] if stop.begun else stop.line
    for number in range(max(first, stop.line - _LOOKED_BACK), stop.line + 1):
        line = lines[number] if number < len(lines) else ""
        problem = _of_a_remark(line, number, name)
        if problem is not None:
            return problem
        quote = _OPENED.search(line)
        if quote is not None:
            return NOT_YAML.at(Span(name, number + 1, quote.end()), variant="quote")
    return (
        question_at(Span(name, stop.line + 1, stop.column + 1), here)
        or _of_brackets(stop.line, lines, name)
        or _of_a_bullet(stop.line, lines, name)
        or _of_a_colon(here, stop, lines, name)
        or _of_the_block(here, stop, lines, name)
    )


def _of_brackets(number: int, lines: list[str], name: str) -> Problem | None:
    here = lines[number] if number < len(lines) else ""
    is_inside = _is_open(_before(lines, number))
    return of_brackets(here, _without_quoted(here), number, name, is_inside=is_inside)


def _before(lines: list[str], number: int) -> str:
    """The lines before one, without their quoted texts."""
    return "".join(map(_without_quoted, lines[max(0, number - _LOOKED_BACK) : number]))


def _of_a_bullet(stop_line: int, lines: list[str], name: str) -> Problem | None:
    for number in (stop_line, stop_line - 1):
        bullet = bullet_before(lines[number]) if 0 <= number < len(lines) else None
        if bullet is not None:
            return BULLET.at(Span(name, number + 1, bullet[0] + 1), sign=bullet[1])
    return None


def _of_a_colon(here: str, stop: ParserStop, lines: list[str], name: str) -> Problem | None:
    """One too many in a value, or one without a value."""
    span = Span(name, stop.line + 1, stop.column + 1)
    if re.match(r":\s*[,\]}]", here[stop.column :]):
        return NOT_YAML.at(span, variant="no value")
    if "mapping values" in stop.reason and "\t" not in _indent_of(here):
        deeper = of_a_deeper_line(here, stop.line, lines, name)
        if deeper is not None:
            return deeper
    before = _before(lines, stop.line) + here[: stop.column]
    value = _with_two_colons(here, stop.column, is_open=_is_open(before))
    if not value or "\t" in _indent_of(here):
        return None
    if is_in_conductor(here[: stop.column]):
        meant = " ".join(value.replace(":", " ").split())
        return NOT_YAML.at(span, variant="colon in conductor", meant=meant)
    if re.search(r";\s*[\w ]+$", value.partition(": ")[0]) and _is_open(before):
        return NOT_YAML.at(span, variant="semicolon")
    words = value.partition(": ")[0].split()
    is_unclear = len(words) > 1 and _is_open(before)
    variant, last = "colon or comma" if is_unclear else "colon", words[-1]
    return NOT_YAML.at(span, variant=variant, last=last, quoted=in_plain_quotes(value))


def _of_the_block(here: str, stop: ParserStop, lines: list[str], name: str) -> Problem:
    """A tab, a line that is moved; else what the parser says, in other words."""
    span = Span(name, stop.line + 1, stop.column + 1)
    also: tuple[Also, ...] = ()
    if stop.begun and stop.begun[0] != stop.line:
        begun = Span(name, stop.begun[0] + 1, stop.begun[1] + 1)
        also = (Also(span=begun, text="the block with the problem starts here"),)
    indent = _indent_of(here)
    if "\t" in indent:
        return TAB.at(Span(name, stop.line + 1, indent.index("\t") + 1), also=also)
    way_out = next((way for sign, way in _SYNTAX_HELP if sign in stop.reason), _SYNTAX_OTHERWISE)
    found = _of_the_reason(way_out, stop, lines, name) if stop.begun else None
    if found is not None:
        return found
    if here[: stop.column].rstrip(" ").endswith(("'", '"')) and ":" not in here[stop.column :]:
        way_out = "the quote before this ends the value: put the whole value in the other quotes"
    return NOT_YAML.at(span, also=also, way_out=way_out)


def _of_the_reason(way_out: str, stop: ParserStop, lines: list[str], name: str) -> Problem | None:
    """What in other lines makes the parser say so."""
    assert stop.begun is not None
    if way_out is _INDENT:
        return of_indent(stop.line, stop.column, stop.begun[1], lines, name)
    if way_out is _NO_COLON:
        return of_a_missing_colon(stop.line, stop.begun[0], lines, name)
    if way_out is _NOT_CLOSED:
        within = _of_brackets(stop.begun[0], lines, name)
        return within or of_an_open_bracket(stop.line, stop.begun, lines, name)
    return None


def _indent_of(line: str) -> str:
    return line[: len(line) - len(line.lstrip(" \t"))]


def _of_a_remark(line: str, number: int, name: str) -> Problem | None:
    """`{area: bed #3, box: VB-1}`: what follows the '#' is lost, with the bracket that closes."""
    bare = _without_quoted(line)
    start = bare.find(" #") + 1
    before, after = bare[:start], bare[start:]
    cuts_a_value = before.rstrip()[-1:] not in ",:[{" and re.search(r"[,\]}]", after)
    if not start or not _is_open(before) or not cuts_a_value:
        return None
    begin = max(before.rfind(": ") + 1, before.rfind("["), before.rfind("{"), before.rfind(",")) + 1
    end = start + len(re.split(r"[,\]}]", after)[0])
    quoted = in_plain_quotes(line[begin:end])
    return NOT_YAML.at(Span(name, number + 1, start + 1), variant="remark", quoted=quoted)


def _with_two_colons(line: str, column: int, *, is_open: bool) -> str:
    """`front: beds`, where the parser stopped at its colon; else empty."""
    bare = _without_quoted(line)
    if bare[column : column + 1] != ":":
        return ""
    before = bare[:column]
    begin = before.rfind(": ") + 2
    if begin < 2 or re.search(r"[\[{\]},'\"]", before[begin:]):
        return ""
    ends = r"[,\]}]|\s#" if is_open else r"\s#"
    return short(line[begin : column + len(re.split(ends, bare[column:])[0])])


def _is_open(before: str) -> bool:
    """Whether a bracket is open there."""
    return sum(before.count(sign) for sign in "[{") > sum(before.count(sign) for sign in "]}")


def _without_quoted(line: str) -> str:
    """The line with each quoted text blanked out, as long as before."""
    return re.sub(r"\"[^\"]*\"|(?<![A-Za-z0-9])'[^']*'", lambda quoted: "_" * len(quoted[0]), line)
