"""Compare what hangs with what is to be: new, changed and gone, as a list to carry outside."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

from cardgen.cards import CardKind
from cardgen.cards.labels import label
from cardgen.output.card_texts import CELL, CardText, Words
from cardgen.output.selection import PACKET, WORD_OF, Selection
from cardgen.output.walking_order import Walk

NAME = "stale-tags.txt"
NOTHING = "nothing"
_NUMBER = re.compile(r"^\d+  (?=\S)")  # of a joint, which changes with every joint before it
ONE_OF_A_JOB = (CardKind.SPARE_LIST, CardKind.MATERIALS, CardKind.SURVEY)
SPLICES = "splices"
_SPLICE = re.compile(r"(.+?) \((.*?)\): ?(.*)")
Cells = Callable[[str], list[str]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """What is otherwise than it was; `changed` holds before and after."""

    new: tuple[CardText, ...]
    changed: tuple[tuple[CardText, CardText], ...]
    gone: tuple[CardText, ...]

    @property
    def keys(self) -> set[str]:
        """Of what is to be printed."""
        return {said.key for said in (*self.new, *(after for _, after in self.changed))}

    @property
    def hung(self) -> tuple[int, int, int]:
        """How many are to be taken down, replaced and put up; sheets hang nowhere."""
        changed = [after for _, after in self.changed]
        down, replaced, up = (sum(bool(s.at) for s in of) for of in (self.gone, changed, self.new))
        return down, replaced, up

    @property
    def kinds(self) -> set[str]:
        return {said.kind for said in (*self.new, *self.gone, *(a for _, a in self.changed))}

    def __bool__(self) -> bool:
        return bool(self.new or self.changed or self.gone)

    def within(self, selection: Selection) -> Changes:
        """Those for what is selected: a tag that goes to another box is of both."""
        return Changes(
            new=tuple(filter(selection.serves, self.new)),
            changed=tuple(pair for pair in self.changed if any(map(selection.serves, pair))),
            gone=tuple(filter(selection.serves, self.gone)),
        )


def compared(before: Mapping[str, CardText], now: Mapping[str, CardText]) -> Changes:
    return Changes(
        new=tuple(said for key, said in now.items() if key not in before),
        changed=tuple(
            (before[key], said)
            for key, said in now.items()
            if key in before and before[key].words != said.words
        ),
        gone=tuple(said for key, said in before.items() if key not in now),
    )


# ---- in words ------------------------------------------------------------------------------


def stale_list(changes: Changes, walk: Walk, heading: Iterable[str]) -> str:
    """What to take down, replace and put up, in walking order, with what changed."""
    lines = [*heading]
    lines += _section("TAKE DOWN", [(_where(said), ()) for said in _hung(changes.gone, walk)])
    pairs = sorted(changes.changed, key=lambda pair: walk.key(pair[0]))
    hung = [(_moved(*pair), tuple(_differences(*pair))) for pair in pairs if pair[1].at]
    lines += _section("REPLACE", hung)
    lines += _section("PUT UP", [(_where(said), ()) for said in _hung(changes.new, walk)])
    lines += _sheets("REPRINTED SHEETS", (*(a for _, a in changes.changed), *changes.new))
    lines += _sheets("SHEETS NO LONGER VALID", changes.gone)
    return "\n".join(lines) + "\n"


def _hung(found: Iterable[CardText], walk: Walk) -> list[CardText]:
    return sorted((said for said in found if said.at), key=walk.key)


def _section(title: str, entries: list[tuple[str, tuple[str, ...]]]) -> Iterator[str]:
    if entries:
        yield f"\n{title} ({len(entries)})"
    for head, differences in entries:
        yield f"[ ] {head}"
        yield from (f"      {line}" for line in differences)


def _sheets(title: str, found: Iterable[CardText]) -> Iterator[str]:
    names = dict.fromkeys(_sheet(said) for said in found if not said.at)
    if names:
        yield f"\n{title} ({len(names)})"
        yield from (f"    {name}" for name in names)


def _sheet(said: CardText) -> str:
    """Of the packet each by its title; of what there is one of a job, what it is."""
    if WORD_OF[said.kind] == PACKET:
        return f"{PACKET}: {said.id}"
    return said.kind if said.kind in ONE_OF_A_JOB else said.key


def _where(said: CardText) -> str:
    """`VB-3: valve tag A7`."""
    name = said.id.removesuffix(f" at {said.at}")
    at = f"controller {said.at}" if said.at in said.controllers else said.at
    return f"{at}: {said.kind}" + ("" if name == said.at else f" {name}")


def _moved(before: CardText, after: CardText) -> str:
    return _where(after) if before.at == after.at else f"{before.at} to {_where(after)}"


def _differences(before: CardText, after: CardText) -> Iterator[str]:
    """`hot: A-K1 red -> A-K1 tan`, field by field."""
    for name in dict.fromkeys((*before.words, *after.words)):
        old, new = before.words.get(name, ()), after.words.get(name, ())
        if old == new:
            continue
        cells = _sides if name == SPLICES else _row
        told = _told(_lines(old), _lines(new), cells)
        yield from (f"{label(name)}: {said}" for said in told)


def _lines(words: Words) -> tuple[str, ...]:
    """Line by line; a joint without its number on the card and without empty sides."""
    lines = (words,) if isinstance(words, str) else words
    return tuple(_NUMBER.sub("", line).strip(" |") for line in lines)


def _told(old: tuple[str, ...], new: tuple[str, ...], cells: Cells) -> Iterator[str]:
    """Only the lines that differ, each beside the one that begins alike if there is one."""
    gone = [line for line in old if line not in new]
    come = [line for line in new if line not in old]
    if not gone and not come:
        yield "in another order, or not as often"
    only = len(gone) == len(come) == 1
    for line in gone:
        like = next((x for x in come if only or cells(x)[0] == cells(line)[0]), None)
        if like is not None:
            come.remove(like)
        yield _beside(line, like, cells) if like is not None else f"{line} -> {NOTHING}"
    yield from (f"{NOTHING} -> {line}" for line in come)


def _row(line: str) -> list[str]:
    return line.split(CELL)


def _sides(line: str) -> list[str]:
    """Of a joint its title, its connector and its sides, as if they were cells."""
    found = _SPLICE.fullmatch(line)
    assert found is not None  # as `said` writes it
    title, about, wires = found.groups()
    return [title, about, *wires.split(" | ")]


def _beside(old: str, new: str, cells: Cells) -> str:
    """Of two rows of one thing, only the cells that differ."""
    was, now = cells(old), cells(new)
    if len(was) == 1 or was[0] != now[0]:
        return f"'{old}' -> '{new}'" if "→" in old + new else f"{old} -> {new}"
    lost = CELL.join(cell for cell in was if cell not in now) or NOTHING
    won = CELL.join(cell for cell in now if cell not in was) or NOTHING
    return f"{was[0]}: {lost} -> {won}"
