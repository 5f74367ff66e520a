"""What the cards and the drawing of a print say, before they are laid out: rows by document."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from cardgen.asbuilt import ConductorMark
from cardgen.cards import Card, CardKind, Printable, cards_of
from cardgen.cards.card import Splice, Table
from cardgen.drawing import HomeRun, home_runs
from cardgen.drawing.drawing_parts import BoxLine, BoxOnRun, CableRun, LineKind
from cardgen.words import printed
from tests.oracle.names import each_of
from tests.oracle.truth import Row

Cards = Mapping[CardKind, tuple[Card, ...]]


def mark(shown: Any, *, flag: bool = True) -> str:
    """A conductor as it is printed; text as it stands."""
    if not isinstance(shown, ConductorMark):
        return str(shown)
    band = f"+ {shown.band}" if shown.band else ""
    parts = (shown.cable, shown.word, shown.code, band, _told(shown) if flag else "")
    return " ".join(part for part in parts if part)


def short(shown: ConductorMark) -> str:
    return " ".join(part for part in (shown.word, shown.code, _told(shown)) if part)


def _told(shown: ConductorMark) -> str:
    return f"({shown.flag})" if shown.flag else ""


def flags(printable: Printable) -> Iterator[tuple[frozenset[str], str, str, str, str]]:
    """Headline, conductor, where it hangs, from where to where, the other color."""
    for card in cards_of(printable, [CardKind.FLAG])[CardKind.FLAG]:
        said: Any = card.fields
        head = frozenset(said["headline"].split(" + "))
        way = said["way"] if "conductor_2" in said else said["from_to"]
        way = way.replace("\u00a0", " ")
        yield head, mark(said["conductor"]), card.at, way, mark(said.get("conductor_2", ""))


def rows(printable: Printable) -> dict[str, list[Row]]:
    """The same documents as the truth has."""
    cards, homes = cards_of(printable), home_runs(printable)
    splices = cards[CardKind.SPLICE_CARD]
    stops = [(run.cable, stop) for home in homes for run in home.runs for stop in run.stops]
    return {
        "legend": [row for card in cards[CardKind.LEGEND] for row in _legend(card)],
        "legend spares": [row for card in cards[CardKind.LEGEND] for row in _legend_spares(card)],
        "joints": [row for card in splices for row in _joints(card)],
        "passing": [row for card in splices for row in _grouped(card, "passing")],
        "spares pass": [row for card in splices for row in _grouped(card, "spares")],
        "dead pass": [row for card in splices for row in _grouped(card, "dead")],
        "capped": [row for card in splices for row in _capped(card)],
        "spare list": [row for card in cards[CardKind.SPARE_LIST] for row in _spare_list(card)],
        "schedule": [
            (mark(m), first, each_of(through), last, frozenset(use.split(", ")))
            for card in cards[CardKind.SCHEDULE]
            if card.id.startswith("conductor schedule")
            for m, _, first, through, last, _, use in _rows(card, "rows")
        ],
        "drawn coils": [row for home in homes for row in _coils(home)],
        "drawn commons": [row for cable, stop in stops for row in _commons(cable, stop)],
        "drawn spares": [row for cable, stop in stops for row in _spares(cable, stop)],
        "drawn dead": [row for cable, stop in stops for row in _dead(cable, stop)],
        "drawn joints": [*dict.fromkeys(row for c, stop in stops for row in _drawn_joints(stop))],
    }


def _rows(card: Card, name: str) -> tuple[tuple[Any, ...], ...]:
    table = card.fields.get(name)
    assert table is None or isinstance(table, Table)
    return table.rows if table else ()


# -- legends ---------------------------------------------------------------------------------------


def _legend(card: Card) -> Iterator[Row]:
    table = card.fields["terminals"]
    assert isinstance(table, Table)
    at = table.columns.index("wire color here") if "wire color here" in table.columns else -1
    for row in table.rows:
        named = str(row[0]).replace("\u00a0", " ")
        about = str(row[table.columns.index("area")])
        wire = mark(row[at]) if at >= 0 else ""
        yield card.at, named, wire if wire != "–" else "", on_common(named, about) if wire else ""


def on_common(terminal: str, about: str) -> object:
    """The stations of a common, or what else stands beside a C."""
    if terminal != "C":
        return ""
    said = about.partition(";")[0]
    if said == "common, in a ring":
        return "ring"
    if said.startswith("common"):
        return frozenset(each_of(said.removeprefix("common for ").removeprefix("common")))
    return said


def _legend_spares(card: Card) -> Iterator[Row]:
    table = card.fields.get("spares")
    if isinstance(table, Table):
        for row in table.rows:
            said = dict(zip(table.columns, row, strict=True))
            name = str(said.get("spare", "–"))
            yield (
                *(card.at, "" if name == "–" else name, mark(said["conductor"])),
                said["last box"],
            )


# -- splice cards ----------------------------------------------------------------------------------


def _joints(card: Card) -> Iterator[Row]:
    splices: Any = card.fields["splices"]
    for number, splice in enumerate(splices, 1):
        assert isinstance(splice, Splice)
        lead, _, title = splice.title.partition("  ")
        assert lead == str(number), splice.title
        ends = [f"{mark(w.mark)} {w.about.split(',')[0]}" for w in splice.arriving + splice.leaving]
        ends += [f"lead {w.name}" for w in splice.leads]
        yield card.at, frozenset(title.split(" + ")), tuple(sorted(ends))


def _grouped(card: Card, name: str) -> Iterator[Row]:
    for shown, said in _rows(card, name):
        many = said.endswith(" conductors")
        flags = shown.flag.removeprefix("flags ").removeprefix("flag ")
        names = each_of(flags) if many else (flags,)
        yield card.at, mark(shown, flag=False), frozenset(names) - {""}, frozenset(each_use(said))


def each_use(said: str) -> list[str]:
    return [part for part in said.replace(" and ", ", ").split(", ") if part]


def _capped(card: Card) -> Iterator[Row]:
    for shown, said in _rows(card, "capped"):
        use, _, way = said.partition(" → ")
        yield card.at, mark(shown), frozenset(each_use(use)), way


# -- lists -----------------------------------------------------------------------------------------


def _spare_list(card: Card) -> Iterator[Row]:
    for name, *rest in _rows(card, "spares"):
        yield _spare(name, rest)
    for row in _rows(card, "dead"):
        yield _spare("", row)


def _spare(name: str, row: Iterable[Any]) -> Row:
    shown, _, first, through, last, state, *_ = row
    return (name, mark(shown), first, each_of(through), last, *state_of(state))


def state_of(said: str) -> tuple[frozenset[str], str]:
    """Where it is joined, and to where it is promised."""
    state, _, promised = said.partition(", reserved as far as ")
    joined = state.removeprefix("in a splice in ") if state != "capped" else ""
    return frozenset(each_of(joined)), promised


# -- the drawing -----------------------------------------------------------------------------------


def _coils(home: HomeRun) -> Iterator[Row]:
    start = printed(home.title).removeprefix("controller ").removeprefix("CONTROLLER ")
    for place, lines in _places(home.run):
        for line in lines:
            if line.kind is LineKind.VALVE:
                said, _, of = line.lands.removeprefix("terminal ").partition(" of ")
                yield place, line.name.split()[-1], of or start, said


def _places(run: CableRun) -> Iterator[tuple[str, tuple[BoxLine, ...]]]:
    for stop in run.stops:
        yield place_of(stop), stop.lines
        for branch in stop.branches:
            yield from _places(branch)


def place_of(stop: BoxOnRun) -> str:
    return printed(stop.title).removeprefix("controller ").removeprefix("CONTROLLER ")


def _commons(cable: str, stop: BoxOnRun) -> Iterator[Row]:
    for line in stop.lines:
        if line.kind is LineKind.COMMON and line.lands:
            yield cable, place_of(stop), short(line.marks[0]), line.lands.removeprefix("terminal ")
        elif line.kind is LineKind.COMMON:
            owner = line.name.removeprefix("common ")
            said = line.text.split(" · ")
            valves = [v for part in said if part.startswith("for ") for v in each_of(part[4:])]
            ends = "ends here" in said
            yield cable, place_of(stop), short(line.marks[0]), owner, frozenset(valves), ends


def _spares(cable: str, stop: BoxOnRun) -> Iterator[Row]:
    for line in stop.lines:
        if line.kind is LineKind.SPARE and line.marks:
            assert line.text.endswith("ends here"), line
            name = line.name.removeprefix("spare").strip()
            yield cable, place_of(stop), short(line.marks[0]), name


def _dead(cable: str, stop: BoxOnRun) -> Iterator[Row]:
    for line in stop.lines:
        if line.kind is LineKind.SPARE and not line.marks:
            yield from ((cable, place_of(stop), *row) for row in dead_in(line.text))


def dead_in(text: str) -> Iterator[tuple[str, str]]:
    """`red RD, tan: cut in VB-3; ...`"""
    for part in text.split("; "):
        names, _, first = part.rpartition(": cut in ")
        yield from ((name, first) for name in names.split(", "))


def _drawn_joints(stop: BoxOnRun) -> Iterator[Row]:
    for line in stop.lines:
        if line.kind is LineKind.JOINT:
            said = line.text.split(" · ")[0]
            marks = frozenset(mark(each) for each in (*line.marks, *line.joined))
            yield place_of(stop), marks, frozenset(each_of(said))
