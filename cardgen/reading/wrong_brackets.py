"""Tell what is wrong with the signs around a value: brackets, the colon before one, the indent.

```
A3 {area: lawn}      no ': ' before the bracket
A3: (area: lawn)     round ones hold no keys
A3: [area: lawn}     opened by one kind, closed by another
A3: area: lawn}      never opened
```
"""

from __future__ import annotations

import re

from cardgen.faults.file_faults import NOT_YAML
from cardgen.problems import Problem, Span
from cardgen.reading.nodes import short

_LOOKED_BACK = 4  # lines, blank ones among them (ours)
_CLOSES = {"{": "}", "[": "]"}
_NO_COLON = re.compile(r"^\s*(?:- )?([\w.-]+(?: [\w.-]+)?)\s*(?:[=;]\s*|:?)(?=[{\[])")
_ROUND = re.compile(r": (\()(?=[\w ]+: )")
_NO_BRACKET = re.compile(r"^\s*[\w.-]+: ()(?=[a-z ]+: [^{\[]*)")
# Conductors are named where a ':' has no place.
_OF_CONDUCTORS = re.compile(r"\b(?:hot|common|return|conductors?|in common): *\[?[^,\[\]{}]*$")


def of_brackets(
    line: str, bare: str, number: int, name: str, *, is_inside: bool = False
) -> Problem | None:
    """What is wrong in one line; `bare` is the line with its quoted texts blanked out.

    `is_inside`: a bracket is open where the line begins.
    """
    start = Span(name, number + 1, 1)
    if found := _NO_COLON.match(bare):
        before, bracket = line[found.start(1) : found.end() + 1], line[found.end()]
        at = start._replace(column=found.start(1) + 1)
        return NOT_YAML.at(at, variant="no colon", before=before, meant=f"{found[1]}: {bracket}")
    if found := _ROUND.search(bare):
        return NOT_YAML.at(start._replace(column=found.start(1) + 1), variant="round")
    if found := re.search(r"{({)", bare):
        return NOT_YAML.at(start._replace(column=found.start(1) + 1), variant="too many")
    bare = bare.partition(" #")[0]
    if is_inside:
        return None
    return _of_two_kinds(bare, start) or _behind_the_bracket(bare, line, start)


def _behind_the_bracket(bare: str, line: str, start: Span) -> Problem | None:
    """`A3: {area: lawn},` or `A3: {area: lawn} new`: nothing can follow there."""
    found = re.fullmatch(r"\s*[\w.-]+: {[^{}]*}\s*([^\s{}].*?)\s*", bare)
    if not found:
        return None
    at = start._replace(column=found.start(1) + 1)
    rest = short(line[found.start(1) : found.end(1)])
    variant = "behind bracket" if re.search(r"\w", rest) else "sign behind bracket"
    return NOT_YAML.at(at, variant=variant, rest=rest)


def _of_two_kinds(bare: str, start: Span) -> Problem | None:
    """A bracket that is closed by another kind, or was never opened."""
    opened: list[tuple[int, str]] = []
    for column, sign in enumerate(bare):
        if sign in _CLOSES:
            opened.append((column, sign))
        elif sign in _CLOSES.values() and not opened:
            begun = _NO_BRACKET.match(bare) if sign == "}" else None
            at = start._replace(column=(begun.start(1) if begun else column) + 1)
            has_some = any(bracket in bare[:column] for bracket in _CLOSES)
            return (
                NOT_YAML.at(at, variant="not opened" if begun else "too many")
                if begun or has_some
                else None
            )
        elif sign == ")" and opened and "(" not in bare and not bare[column + 1 :].strip(" ,;"):
            closing = _CLOSES[opened[-1][1]]
            at = start._replace(column=column + 1)
            return NOT_YAML.at(
                at, variant="two kinds", first=opened[-1][1], last=sign, meant=closing
            )
        elif sign in _CLOSES.values():
            begins, first = opened.pop()
            if _CLOSES[first] != sign:
                meant = "{" if re.match(r"\s*[\w ]+: ", bare[begins + 1 :]) else "["
                is_first = meant != first
                at = start._replace(column=(begins if is_first else column) + 1)
                way = meant if is_first else _CLOSES[meant]
                return NOT_YAML.at(at, variant="two kinds", first=first, last=sign, meant=way)
    return None


def of_indent(
    stop_line: int, stop_column: int, block: int, lines: list[str], name: str
) -> Problem | None:
    """A line that begins in another column than its neighbors; the one before, if that is it.

    Args:
        block: the column in which the parser saw the block begin, from 0.
    """
    if stop_line >= len(lines) or lines[stop_line][:stop_column].strip():
        return None
    widths = [len(line) - len(line.lstrip(" ")) for line in lines]
    said = [number for number in range(stop_line) if _says_something(lines[number])][-2:]
    behind = [n for n in range(stop_line + 1, len(lines)) if _says_something(lines[n])][:1]
    here, before = widths[stop_line], widths[said[-1]] if said else -1
    if len(said) == 2 and widths[said[0]] == here > before == block:
        # The one before fell out of its block, or should be the key of what follows.
        return _emptied(lines[said[-1]], said[-1], name) or _moved(said[-1], widths, here, name)
    if here == before and re.match(r"\s*- [\w ]+:\s", lines[stop_line]):
        is_list = re.match(r"\s*- ", lines[said[-1]])
        at = Span(name, stop_line + 1, here + 1)
        return None if is_list else NOT_YAML.at(at, variant="dash")
    if here != before > 0 and behind and widths[behind[0]] == before:
        return _moved(stop_line, widths, before, name)
    if here != block and before in (block, here):
        return _moved(stop_line, widths, block, name)
    earlier = {widths[n] for n in range(stop_line) if _says_something(lines[n])}
    return _moved(stop_line, widths, before, name) if here not in earlier else None


def of_a_deeper_line(line: str, number: int, lines: list[str], name: str) -> Problem | None:
    """`stations: 8` farther in than its neighbors is taken for more of the value before it."""
    before = next((n for n in range(number - 1, -1, -1) if _says_something(lines[n])), -1)
    widths = [len(each) - len(each.lstrip(" ")) for each in lines]
    is_deeper = before >= 0 and widths[number] > widths[before]
    if not is_deeper or not re.match(r"\s*[\w. -]+:(\s|$)", line):
        return None
    emptied = _emptied(lines[before], before, name)
    has_value = re.search(r":\s+[^\s#]", lines[before])
    return emptied or (_moved(number, widths, widths[before], name) if has_value else None)


def _emptied(line: str, number: int, name: str) -> Problem | None:
    """`stations: []`, and then its lines."""
    found = re.search(r":\s*(\[\]|\{\})\s*$", line)
    if found is None:
        return None
    at = Span(name, number + 1, found.start(1) + 1)
    return NOT_YAML.at(at, variant="emptied", sign=found[1])


def of_a_missing_colon(stop_line: int, begun: int, lines: list[str], name: str) -> Problem | None:
    """`stations:8`, `stations = 8`, `stations 8`, or a line without any ':', before the stop."""
    for number in range(stop_line, max(begun, stop_line - _LOOKED_BACK) - 1, -1):
        line = lines[number] if number < len(lines) else ""
        if not _says_something(line) or re.search(r":(\s|$)", line):
            continue
        at = Span(name, number + 1, len(line) - len(line.lstrip()) + 1)
        found = re.match(r"\s*([A-Za-z][\w ]*?)\s*(?:[:=]\s*|\s)([^\s:={\[-].*)$", line)
        if found and "," not in line:
            meant = f"{found[1]}: {found[2]}".rstrip()
            return NOT_YAML.at(at, variant="no colon in line", key=found[1], meant=meant)
        return NOT_YAML.at(at, variant="line without colon")
    return None


def of_an_open_bracket(
    stop_line: int, begun: tuple[int, int], lines: list[str], name: str
) -> Problem | None:
    """One that is opened in an earlier line, and behind which the next line is not meant to be."""
    if begun[0] >= stop_line:
        return None
    sign, behind = lines[begun[0]][begun[1]], lines[begun[0]][begun[1] + 1 :]
    if sign not in _CLOSES:
        return None
    at = Span(name, begun[0] + 1, begun[1] + 1)
    variant = "never closed" if behind.strip() else "block bracket"
    return NOT_YAML.at(at, variant=variant, sign=sign, closing=_CLOSES[sign])


def _moved(number: int, widths: list[int], column: int, name: str) -> Problem | None:
    if widths[number] == column:
        return None
    at = Span(name, number + 1, widths[number] + 1)
    return NOT_YAML.at(at, variant="indent", here=str(widths[number] + 1), there=str(column + 1))


def _says_something(line: str) -> bool:
    return bool(line.strip()) and not line.lstrip().startswith("#")


def is_in_conductor(before: str) -> bool:
    """Whether the value that this text comes to names conductors."""
    return bool(_OF_CONDUCTORS.search(before))
