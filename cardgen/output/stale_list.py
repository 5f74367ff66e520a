"""Tell what changed as a list to carry outside: take down, replace, put up, in walking order."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator

from cardgen.cards import CardKind
from cardgen.cards.labels import label
from cardgen.output.card_texts import CELL, CardText
from cardgen.output.card_texts import Words as Lines
from cardgen.output.selection import PACKET, WORD_OF
from cardgen.output.stale_cards import Changes
from cardgen.output.walking_order import Walk
from cardgen.words import Words, english

NAME = "stale-tags.txt"
_NUMBER = re.compile(r"^\d+  (?=\S)")  # of a joint, which changes with every joint before it
ONE_OF_A_JOB = (CardKind.SPARE_LIST, CardKind.MATERIALS, CardKind.SURVEY)
SPLICES = "splices"
_SPLICE = re.compile(r"(.+?) \((.*?)\): ?(.*)")
Cells = Callable[[str], list[str]]
Entry = tuple[str, tuple[str, ...]]  # a card, and what it says otherwise


def stale_list(
    changes: Changes, walk: Walk, heading: Iterable[str], words: Words | None = None
) -> str:
    """What to take down, replace and put up, with what changed.

    Args:
        words: those in which the cards of the changes speak; None for the usual ones.
    """
    return _StaleList(words or english(), walk).told(changes, heading)


class _StaleList:
    def __init__(self, words: Words, walk: Walk) -> None:
        self._words, self._walk = words, walk

    def told(self, changes: Changes, heading: Iterable[str]) -> str:
        pairs = sorted(changes.changed, key=lambda pair: self._walk.key(pair[0]))
        hung = [(self._moved(*p), tuple(self._differences(*p))) for p in pairs if p[1].at]
        lines = [*heading]
        lines += self._section("take down", self._hung(changes.gone))
        lines += self._section("replace", hung)
        lines += self._section("put up", self._hung(changes.new))
        reprinted = (*(after for _, after in changes.changed), *changes.new)
        lines += self._sheets("reprinted", reprinted)
        lines += self._sheets("invalid", changes.gone)
        return "\n".join(lines) + "\n"

    def _hung(self, found: Iterable[CardText]) -> list[Entry]:
        hung = sorted((said for said in found if said.at), key=self._walk.key)
        return [(self._where(said), ()) for said in hung]

    def _section(self, title: str, entries: list[Entry]) -> Iterator[str]:
        if entries:
            yield f"\n{self._said(title)} ({len(entries)})"
        for head, differences in entries:
            yield f"[ ] {head}"
            yield from (f"      {line}" for line in differences)

    def _sheets(self, title: str, found: Iterable[CardText]) -> Iterator[str]:
        names = dict.fromkeys(self._sheet(said) for said in found if not said.at)
        if names:
            yield f"\n{self._said(title)} ({len(names)})"
            yield from (f"    {name}" for name in names)

    def _sheet(self, said: CardText) -> str:
        """Of the packet each by its title; of what there is one of a job, what it is."""
        if WORD_OF[said.kind] == PACKET:
            return f"{self._said(PACKET)}: {said.words['title']}"
        kind = self._said(said.kind)
        return kind if said.kind in ONE_OF_A_JOB else f"{kind} {said.id}"

    def _where(self, said: CardText) -> str:
        """`VB-3: valve tag A7`."""
        name = _name(said)
        at = said.at
        if at in said.controllers:
            at = self._words("stale.at controller", controller=at).printed
        return f"{at}: {self._said(said.kind)}" + ("" if name == said.at else f" {name}")

    def _moved(self, before: CardText, after: CardText) -> str:
        where = self._where(after)
        if before.at == after.at:
            return where
        return self._words("stale.moved", before=before.at, after=where).printed

    def _said(self, key: str) -> str:
        return self._words(f"stale.{key}").printed

    # ---- what differs --------------------------------------------------------------------------

    def _differences(self, before: CardText, after: CardText) -> Iterator[str]:
        """`hot: A-K1 red -> A-K1 tan`, field by field."""
        for name in dict.fromkeys((*before.words, *after.words)):
            old, new = before.words.get(name, ()), after.words.get(name, ())
            if old == new:
                continue
            cells = _sides if name == SPLICES else _row
            told = self._told(_lines(old), _lines(new), cells)
            yield from (f"{label(name, self._words)}: {said}" for said in told)

    def _told(self, old: tuple[str, ...], new: tuple[str, ...], cells: Cells) -> Iterator[str]:
        """Only the lines that differ, each beside the one that begins alike if there is one."""
        gone = [line for line in old if line not in new]
        come = [line for line in new if line not in old]
        if not gone and not come:
            yield self._said("other order")
        only = len(gone) == len(come) == 1
        for line in gone:
            like = next((x for x in come if only or cells(x)[0] == cells(line)[0]), None)
            if like is not None:
                come.remove(like)
                yield self._beside(line, like, cells)
            else:
                yield f"{line} -> {self._said('nothing')}"
        yield from (f"{self._said('nothing')} -> {line}" for line in come)

    def _beside(self, old: str, new: str, cells: Cells) -> str:
        """Of two rows of one thing, only the cells that differ."""
        was, now = cells(old), cells(new)
        if len(was) == 1 or was[0] != now[0]:
            return f"'{old}' -> '{new}'" if "→" in old + new else f"{old} -> {new}"
        nothing = self._said("nothing")
        lost = CELL.join(cell for cell in was if cell not in now) or nothing
        won = CELL.join(cell for cell in now if cell not in was) or nothing
        return f"{was[0]}: {lost} -> {won}"


def _name(said: CardText) -> str:
    """Which of its kind; a flag by what is printed on it, two of one conductor by their ways."""
    if said.kind != CardKind.FLAG:
        return said.id.removesuffix(f" at {said.at}")
    parts = [said.words["headline"], said.words["conductor"]]
    if " toward " in said.id:
        parts += [said.words[way] for way in ("way", "from_to") if way in said.words]
    return " ".join(str(part) for part in parts)


def _lines(words: Lines) -> tuple[str, ...]:
    """Line by line; a joint without its number on the card and without empty sides."""
    lines = (words,) if isinstance(words, str) else words
    return tuple(_NUMBER.sub("", line).strip(" |") for line in lines)


def _row(line: str) -> list[str]:
    return line.split(CELL)


def _sides(line: str) -> list[str]:
    """Of a joint its title, its connector and its sides, as if they were cells."""
    found = _SPLICE.fullmatch(line)
    assert found is not None  # as `said` writes it
    title, about, wires = found.groups()
    return [title, about, *wires.split(" | ")]
