"""Find every value of a job that mentions a name, with what it says under the new one."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from itertools import groupby
from typing import Any, NamedTuple

from cardgen.job.job_parts import Cable, ConductorWords, Job
from cardgen.job.references import references
from cardgen.problems import Span
from cardgen.renaming.new_names import NewNames
from cardgen.trade.colors import insulation
from cardgen.wiring.written import terminals_of

_NUMBERED = re.compile(r"(.*?)([0-9]{1,6})")
_APART = {"coil": "coils", "palette": "palettes"}
_LEAST_RANGE = 3  # `A1, A2` is as short as `A1 to A2`


class Mention(NamedTuple):
    """A value, or the key of a place's joints, and what it says then; `A1, A9` are two flags."""

    span: Span
    texts: tuple[str, ...]


def mentions(job: Job, new: NewNames) -> Iterator[Mention]:
    """Only those that change."""
    in_words = {words.span for words in _conductor_words(job)}
    for ref in references(job):
        names = new.apart.get(_APART[ref.what], {}) if ref.what in _APART else new.names
        if ref.name in names and ref.span not in in_words:
            yield Mention(ref.span, (names[ref.name],))
    for words in _conductor_words(job):
        yield from _changed(words.span, _said(words), _words_then(words, new))
    for cable in job.cables.values():
        yield from _flags(cable, new)
    for place in job.joints.values():
        strip = terminals_of(job, place.id) if place.id in job.controllers else ()
        for end in (end for joint in place.joints for end in joint.value):
            if end.value not in strip:
                yield from _changed(end.span, end.value, _end_then(end.value, new))
    for note in job.known:
        code, _, owner = note.value.partition(" ")
        if owner in new.names:
            yield Mention(note.span, (f"{code} {new.names[owner]}",))


def _changed(span: Span, text: str, then: str) -> Iterator[Mention]:
    if then != text:
        yield Mention(span, (then,))


def _conductor_words(value: Any) -> Iterator[ConductorWords]:
    """Wherever a conductor is named in full, whatever field it is."""
    if isinstance(value, ConductorWords):
        yield from () if value.is_gap else (value,)
    elif isinstance(value, Mapping):
        for inner in value.values():
            yield from _conductor_words(inner)
    elif isinstance(value, tuple):
        for inner in value:
            yield from _conductor_words(inner)
    elif is_dataclass(value):
        for each in fields(value):
            yield from _conductor_words(getattr(value, each.name))


def _said(words: ConductorWords) -> str:
    return _with_places(words.value, words.begins, words.ends)


def _words_then(words: ConductorWords, new: NewNames) -> str:
    begins, ends = (new.names.get(place, place) for place in (words.begins, words.ends))
    return _with_places(_conductor_then(words.value, new), begins, ends)


def _with_places(conductor: str, begins: str, ends: str) -> str:
    return f"{conductor}{begins and f' from {begins}'}{ends and f' to {ends}'}"


def _conductor_then(words: str, new: NewNames) -> str:
    """`A-S1 red A3`: a cable, a color, and the flag if the color ends before."""
    cable, _, rest = words.partition(" ")
    color, _, flag = rest.rpartition(" ")
    if insulation(rest) is None and insulation(color) is not None:
        rest = f"{color} {new.flags.get(flag, flag)}"
    return f"{new.names.get(cable, cable)}{rest and f' {rest}'}"


def _end_then(text: str, new: NewNames) -> str:
    """`A7`, `P1 red`, `DC-201 path 1` or `A-S1 red A3 in`."""
    words, _, side = text.rpartition(" ")
    if words and side in ("in", "out"):
        return f"{_conductor_then(words, new)} {side}"
    return _conductor_then(text, new)


def _flags(cable: Cable, new: NewNames) -> Iterator[Mention]:
    """`A1 to A8` less A3 is `A1, A2` and `A4 to A8`; the conductors keep their order."""
    for entry in (entry for single in cable.singles for entry in single.flags):
        then = [new.flags.get(flag, flag) for flag in entry.value]
        if then != list(entry.value):
            yield Mention(entry.span, tuple(_ranges(then)))


def _ranges(flags: list[str]) -> Iterator[str]:
    """As few entries as say the same."""
    keyed = [(_series(flag, at), flag) for at, flag in enumerate(flags)]
    for _, group in groupby(keyed, key=lambda pair: pair[0]):
        run = [flag for _, flag in group]
        if len(run) < _LEAST_RANGE:
            yield from run
        else:
            yield f"{run[0]} to {run[-1]}"


def _series(flag: str, at: int) -> tuple[str, int, int]:
    """The same for flags that count up by one with as many digits, or without leading zeros."""
    match = _NUMBERED.fullmatch(flag)
    if match is None:
        return flag, at, -1
    width = len(match[2]) if match[2].startswith("0") else 0
    return match[1], int(match[2]) - at, width
