"""Read what is printed of a yard back from the text of its PDFs, as rows by document.

PDFium gives the text in the order in which it was set: row by row, cell by cell.  White space is
taken for one space, since cells wrap.  What a reader cannot make out becomes a row of its own, so
that nothing on the page is passed over.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise

from tests.oracle.names import Names, each_of
from tests.oracle.said import dead_in, each_use, on_common, state_of
from tests.oracle.truth import Row
from tests.outside.pages import text_by_pdfium

_FOOT = re.compile(
    r"(?:YARD-1 · rev 1 · 2026-03-14 )?YARD-1 · rev 1, 2026-03-14 · Any Yard · sheet \d+ of \d+|"
    r"(?:Annex(?: \S+|: whole job) · )?packet page \d+ of \d+|print at 100 %: this bar is 50 mm"
)
_LIST = r"[^\s,;]+(?:(?:, | and | to )[^\s,;]+)*"
_LENGTH = r"[\d.]+ (?:ft|m) \([\d.]+ (?:ft|m)\)"
_HEADER = "terminal wire color here area"
_BESIDE = "METER READINGS|THIS CONTROLLER|BOXES|SENSORS|SPARES|BEFORE YOU WORK"
_HYPHEN = "\x02"  # how PDFium tells one at the end of a line
_TABLES = {
    "PASS THROUGH - DO NOT CUT": "passing",
    "SPARES PASS - DO NOT CUT": "spares pass",
    "DEAD - NO CONTROLLER": "dead pass",
    "CAP EACH SEPARATELY": "capped",
    "CONNECTORS": "connectors",
}


# Of a splice card: tests/cards/test_cautions.py reads them.
_CAUTIONS_AND_STEPS = re.compile(
    r"Lock off [^.]+\. |Prove dead with the meter before you touch\. |"
    rf"{_LIST} are live here\. A stopped controller can be fed backward through its transformer\. |"
    rf"The wiring of {_LIST} is a ring here: with one side cut it is still fed from the other\. |"
    r"\S+: lock off the pump disconnect too\. .*? licensed electrician only\. |"
    rf"{_LIST} opens when its power is off: the main line then has pressure\. |"
    r"Look inside before reaching in\..*?before the lid\.|"
    r"made \(initials\) date checked \(initials\) date"
)


def _leads_one_by_one(text: str) -> str:
    """`A9 A10a 2 × factory lead, 18 AWG` says of each of two leads what it is."""
    told = re.compile(r"(\d+) × (factory lead, (?:\d+ AWG|not known))")
    while found := told.search(text):
        front = text[: found.start()].split()
        count, about = int(found[1]), found[2]
        leads = " ".join(f"{lead} {about}" for lead in front[-count:])
        text = " ".join((*front[:-count], leads + text[found.end() :]))
    return text


class Reader:
    """Reads with the names of one yard's conductors, as the tracer has them."""

    def __init__(self, names: Names, files: Mapping[str, bytes]) -> None:
        self.names = names
        self.marks = _any_of(names.mark.values())
        self.plain = _any_of(names.plain.values())
        # Where room is scarce a flag stands in brackets without the word.
        self._tight = {
            f"{names.plain[name]} ({flag})": names.mark[name]
            for name, flag in names.flag.items()
            if flag
        } | {
            names.short[name].replace("(flag ", "("): names.short[name]
            for name, flag in names.flag.items()
            if flag
        }
        self.text = {
            name: [self._with_flags(_plain(page)) for page in text_by_pdfium(data)]
            for name, data in files.items()
            if name.endswith(".pdf")
        }

    def _with_flags(self, page: str) -> str:
        for tight, mark in self._tight.items():
            page = page.replace(tight, mark)
        return page

    def rows(self) -> dict[str, list[Row]]:
        """The same documents as the truth has, but for the joints of the drawing."""
        found: dict[str, list[Row]] = {
            "legend": [],
            "legend spares": [],
            **{name: [] for name in ("joints", *_TABLES.values())},
            "spare list": [*self._spare_list()],
            "schedule": [*self._schedule()],
            **{f"drawn {what}": [] for what in ("coils", "commons", "spares", "dead")},
        }
        for read in (self._legends, self._splice_cards, self._drawing):
            for name, row in read():
                found[name].append(row)
        del found["connectors"]
        return found

    # -- flags -------------------------------------------------------------------------------------

    def flags(self) -> Iterator[tuple[frozenset[str], str, str, str]]:
        """Headline, conductor, from where to where, the other color: each side of each flag."""
        head, way = r"\S+(?: \S+)??(?: \+ \S+)*", r"(?:contr\. )?\S+ → (?:contr\. )?\S+"
        marks = f"{self.marks}|{self.plain}"
        one = re.compile(
            rf"(?P<head>{head}) "
            rf"(?:(?P<way>{way}) (?P<mark>{marks}) (?P<other>{marks})|"
            rf"(?P<mark_>{marks}) ?(?P<way_>{way}))"  # PDFium sets no blank between some lines
            rf"(?: (?={head} (?:{way}|{marks}))|$)"  # what follows is a flag again
        )
        for page in self.text["wire-flags.pdf"]:
            at = 0
            while at < len(page):
                found = one.match(page, at)
                if not found:
                    yield frozenset(), f"unread: {page[at:]}", "", ""
                    break
                heads = frozenset(found["head"].split(" + "))
                mark, leads = found["mark"] or found["mark_"], found["way"] or found["way_"]
                yield heads, mark, leads, found["other"] or ""
                at = found.end()

    # -- legends -----------------------------------------------------------------------------------

    def _legends(self) -> Iterator[tuple[str, Row]]:
        for name, pages in self.text.items():
            if name.startswith("door-legend-"):
                controller = name.removeprefix("door-legend-").removesuffix(".pdf")
                for page in pages:
                    yield from self._legend(page, controller)

    def _legend(self, page: str, controller: str) -> Iterator[tuple[str, Row]]:
        terminal = re.compile(
            r"(?P<owned>\S+ · \S+) (?P<wire>MARK)(?= |$)|"
            r"(?P<common>C) (?P<on>MARK) (?P<about>.+?)(?=;| toward | \d+ in one connector|"
            r" C | \S+ · | \S+ empty| \S+ not used,| \d+ MARK|$)|"
            r"(?P<idle>\S+) (?P<with>MARK) not used, but this wire is on it|"
            r"(?P<sensor>\S+ · \S+) sensor|"
            r"(?P<empty>\S+) empty(?!,)".replace("MARK", f"(?:{self.marks})")
        )
        if _HEADER in page:
            _, _, rest = page.partition(_HEADER)
            table, *_ = re.split(f"{_BESIDE}|CONTROLLER {controller}", rest)
            for found in terminal.finditer(table):
                said = found.groupdict()
                named = said["owned"] or said["common"] or said["idle"] or said["empty"]
                named = named or said["sensor"]
                wire = said["wire"] or said["on"] or said["with"] or ""
                about = on_common(named, said["about"]) if said["about"] else ""
                yield "legend", (controller, named, wire, about)
        spare = re.compile(rf"(SP-\S+|–)? ?({self.marks}) (\S+)")
        for table in re.findall(r"SPARES (?:spare )?conductor last box (.*)", page):
            for name, mark, last in spare.findall(table.split("BEFORE YOU WORK")[0]):
                shown = "" if name == "–" else name
                yield "legend spares", (controller, shown, mark, last)

    # -- splice cards ------------------------------------------------------------------------------

    def _splice_cards(self) -> Iterator[tuple[str, Row]]:
        for page in self.text.get("splice-cards.pdf", ()):
            *cards, rest = page.split("YARD-1 · rev 1 · 2026-03-14 · valve box")
            assert not rest.strip(), rest
            for card in cards:
                yield from self._splice_card(card.strip())

    def _splice_card(self, card: str) -> Iterator[tuple[str, Row]]:
        head = re.match(
            r"(\S+) place \d+ (?:\S+/\S+ )?(?:AS BUILT|NOT VERIFIED)(?: \d+ of \d+)?(?= )", card
        )
        assert head, card
        box = head[1]
        said = _CAUTIONS_AND_STEPS.sub("", card[head.end() :])
        first, *tables = re.split(f"({'|'.join(_TABLES)})", said)
        yield from (("joints", row) for row in self._joints(box, first))
        for title, body in zip(tables[::2], tables[1::2], strict=True):
            name = _TABLES[title]
            if name == "connectors":
                continue
            for mark, flags, said in self._table(body):
                if name == "capped":
                    use, _, way = said.partition(" → ")
                    yield (
                        name,
                        (
                            box,
                            " ".join((mark, *(f"(flag {flag})" for flag in flags))),
                            frozenset(each_use(use)),
                            way,
                        ),
                    )
                else:
                    yield name, (box, mark, flags, frozenset(each_use(said)))

    def _joints(self, box: str, text: str) -> Iterator[Row]:
        text = re.sub(
            r"COM-\S+(?:(?:, | and )COM-\S+)* must not touch\.|"
            r"\S+: the job file does not say which lead goes where\. "
            r"See the maker's instructions\.",
            "",
            text,
        )
        text = _leads_one_by_one(text.replace("SPLICES - TICK WHEN DONE", ""))
        colors = r"[a-z/-]+(?:(?:, | and )[a-z/-]+)*"
        head = re.compile(
            r"(?:^| )\d+ ((?:HOT|COMMON|RETURN|SENSOR|SPARE|DEAD|TERMINAL|PATH)\b[^a-z×]*?) "
            r"(?:(?:\d+ × \d+ AWG(?: \+ \d+ × \d+ AWG)* )?connector: not known|"
            r"\d+ conductors, gauge of the leads not known)"
            rf"(?: color change: {colors} to {colors})?"
        )
        before, *joints = head.split(text)
        if before.strip():
            yield box, "unread", before
        end = re.compile(
            rf"({self.marks}) (from|to) (\S+), \d+ AWG|(\S+?),? factory lead, (?:\d+ AWG|not known)"
        )
        for title, body in zip(joints[::2], joints[1::2], strict=True):
            members = [
                f"lead {lead}" if lead else f"{mark} {way} {place}"
                for mark, way, place, lead in end.findall(body)
            ]
            rest = end.sub("", body).strip()
            yield (
                box,
                frozenset(title.split(" + ")),
                tuple(sorted([*members, *([rest] * bool(rest))])),
            )

    def _table(self, text: str) -> Iterator[tuple[str, frozenset[str], str]]:
        """Conductor, its flags (of all that share a row), and what is said of it."""
        starts = [found.start() for found in re.finditer(rf"(?:{self.plain})(?= )", text)]
        if text[: (*starts, len(text))[0]].strip():
            yield "unread", frozenset(), text
        for start, end in pairwise([*starts, len(text)]):
            row = text[start:end].strip()
            many = re.fullmatch(rf"({self.plain}) \((?:flags )?(.+)\) (\d+ conductors)", row)
            one = re.match(rf"({self.marks}) ", row)
            if many:
                yield many[1], frozenset(each_of(many[2])), many[3]
            elif one:
                plain = re.match(self.plain, row)
                assert plain
                flag = one[1].removeprefix(plain[0]).removeprefix(" (flag ").removesuffix(")")
                yield plain[0], frozenset({flag} - {""}), row.removeprefix(one[0])
            else:
                yield "unread", frozenset(), row

    # -- lists -------------------------------------------------------------------------------------

    def _spare_list(self) -> Iterator[Row]:
        row = re.compile(
            rf"(?:(SP-\S+) )?({self.marks}) \d+ AWG (\S+) (–|{_LIST}) (\S+) "
            rf"((?:capped|in a splice in {_LIST})(?:, reserved as far as \S+)?) "
            r"(?:[\d.]+ \(|not known)"
        )
        for page in self.text.get("spare-list.pdf", ()):
            for name, mark, first, through, last, state in row.findall(page):
                yield (name, mark, first, each_of(through), last, *state_of(state))

    def _schedule(self) -> Iterator[Row]:
        row = re.compile(
            rf"({self.marks}) \d+ AWG (\S+) (–|{_LIST}) (\S+) {_LENGTH} "
            rf"(.+?)(?= (?:{self.marks}) \d| CONDUCTOR SCHEDULE|$)"
        )
        for page in self.text["packet.pdf"]:
            _, header, table = page.partition("conductor gauge from through to length use")
            if header:
                for mark, first, through, last, use in row.findall(table):
                    yield mark, first, each_of(through), last, frozenset(use.split(", "))

    # -- the drawing -------------------------------------------------------------------------------

    def _drawing(self) -> Iterator[tuple[str, Row]]:
        text = " ".join(self.text["wiring-drawing.pdf"])
        text = re.sub(
            r"continues on sheet \d+ ?|CONTROLLER \S+ · \S+, continued (?:from sheet \d+ ?)?",
            "",
            text,
        )
        head = re.compile(
            rf"(\S+) · tape \d+ · {_LENGTH} \d+ × \d+ AWG.*? "
            r"(?:(\S+) place \d+|CONTROLLER (\S+) wall \S+ · 24 V AC)(?= |$)|"
            r"CONTROLLER (\S+) wall \S+ · 24 V AC(?= |$)"
        )
        home = ""
        _, *parts = head.split(text)
        for cable, box, other, start, body in zip(*(parts[n::5] for n in range(5)), strict=True):
            home = start or home
            if cable:
                yield from self._stop(cable, box or other, home, body, landed=bool(other))

    def _stop(
        self, cable: str, at: str, home: str, body: str, *, landed: bool
    ) -> Iterator[tuple[str, Row]]:
        own = (s for name, s in self.names.short.items() if name.startswith(f"{cable} "))
        short = _any_of(own)
        body = re.sub(rf"joined to(?: (?:{self.marks}|{short})[,;]?)+(?= |$)", "joined", body)
        coil = r"terminal (\S+)(?: of (\S+))? (?:valve|master valve|relay) (\S+)"
        for terminal, of, valve in re.findall(coil, body):
            yield "drawn coils", (at, valve, of or home, terminal)
        if landed:
            for mark, terminal in re.findall(rf"(?:^| )({short}) terminal (\S+)", body):
                yield "drawn commons", (cable, at, mark, terminal)
        common = rf"(?:^| )({short}) common (\S+)(?: for ({_LIST}))?(?: ·)?( ends here)?"
        for mark, owner, valves, ends in re.findall(common, body):
            yield "drawn commons", (cable, at, mark, owner, frozenset(each_of(valves)), bool(ends))
        spare = rf"(?:^| )({short}) spare(?: (SP-\S+))?(?: ·)? ends here"
        for mark, name in re.findall(spare, body):
            yield "drawn spares", (cable, at, mark, name)
        cut = rf"(?:{short})(?:, (?:{short}))*: cut in [^\s;]+"
        for dead in re.findall(rf"(?:^| )dead ({cut}(?:; {cut})*)", body):
            yield from (("drawn dead", (cable, at, *row)) for row in dead_in(dead))


def _plain(page: str) -> str:
    """One line without what stands at the foot of every page."""
    line = " ".join(page.replace(_HYPHEN, "-").split())
    return " ".join(_FOOT.sub(" ", line).split())


def _any_of(names: Iterable[str]) -> str:
    """A pattern for any of them, the longest first."""
    return "|".join(map(re.escape, sorted(set(names), key=len, reverse=True)))
