"""Turn cards of one kind into pages and bytes: with their stock, the paper, stamp and copies."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import field
from functools import partial
from typing import Self

from cardgen.cards import MAKERS, Card, CardKind, Printable
from cardgen.cards.plain_words import localized
from cardgen.cards.schedules import CONDUCTOR_SCHEDULE, SPLICE_REGISTER, STATION_SCHEDULE
from cardgen.draw import Bookmark
from cardgen.layout import Layouts, Page, Sheets, Stamp, Stock, lay_out, sheets_for
from cardgen.layout.inks import inked
from cardgen.layout.pages import without_room
from cardgen.light_dataclass import dataclass
from cardgen.output.print_request import PrintRequest
from cardgen.output.progress import Progress
from cardgen.output.selection import WORD_OF
from cardgen.output.stock_choice import TAGS, stock_for
from cardgen.printer import Ink
from cardgen.problems import Problem, UserError
from cardgen.words import Text, Words

LEGEND = "door-legend"
BUNDLE = "crew-"  # begins the name of a file that has tags among others
ONE_SIDED = (*(WORD_OF[kind] for kind in (*TAGS, CardKind.FLAG)), BUNDLE)

Laid = tuple[tuple[Page, ...], tuple[Problem, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintSettings:
    """Attributes:
    stocks: names of what else lies in a printer.
    copies: of each card, one behind the other; of what fills whole sheets, set by set.
    without_misfits: whether tags, flags and splice cards that have no room are left out.
    """

    printable: Printable
    layouts: Layouts
    paper: str
    stocks: Sequence[str]
    stamp: Stamp
    copies: int = 1
    ink: Ink = Ink.COLOR
    without_misfits: bool = False
    progress: Progress = field(default_factory=Progress)

    @classmethod
    def of(cls, printable: Printable, layouts: Layouts, request: PrintRequest) -> Self:
        """Stock, paper, stamp and ink of what is asked for."""
        now = printable.asbuilt
        revision = printable.words("sheet.revision", revision=now.revision, date=now.date).printed
        stamp = Stamp(
            job_code=now.job_code, revision=revision, site=now.site, words=printable.words
        )
        return cls(
            printable=printable, layouts=layouts, paper=request.paper, stocks=request.stocks,
            stamp=stamp, copies=request.copies, ink=request.ink,
            without_misfits=request.without_misfits,
        )  # fmt: skip

    def stock(self, kind: CardKind) -> Stock:
        return self.layouts.stocks[stock_for(kind, self.paper, self.stocks, self.layouts)]

    def set(self, kind: CardKind, cards: Sequence[Card]) -> Laid:
        """The pages of cards of one kind, once."""
        return lay_out(cards, layouts=self.layouts, stock=self.stock(kind), stamp=self.stamp)

    def without_room(self, kind: CardKind, cards: Iterable[Card]) -> tuple[Problem, ...]:
        """What keeps any of them from being printed, told as one for all cards alike."""
        return without_room(cards, layouts=self.layouts, stock=self.stock(kind))

    def all_without_room(self, kind: CardKind) -> tuple[Problem, ...]:
        """The same of all that the job says; only what is measured is put into words."""
        return without_room(
            MAKERS[kind](self.printable),
            layouts=self.layouts,
            stock=self.stock(kind),
            finish=partial(localized, words=self.printable.words),
        )

    def copied(
        self,
        kind: CardKind,
        cards: Sequence[Card],
        start: int,
        alike: Sequence[Card],
        *,
        exact: bool = False,
    ) -> tuple[Sheets, tuple[Problem, ...]]:
        """All copies, in letters that suit all those of `alike`.

        `start` is the first free card of a part-used sheet.

        Raises:
            UserError: if the sheet has no such card.
            NarrowerDigits: here or while pages are set, unless it is `exact`; then it is to be.
        """
        stock = self.stock(kind)
        if start > stock.per_sheet:
            raise UserError(
                f"'{stock.name}' has {stock.per_sheet} cards on a sheet, so there is none {start}",
                f"--start 1 to {stock.per_sheet}",
            )
        is_cut = stock.is_single or stock.per_sheet > 1
        sheets, problems = sheets_for(
            [card for card in cards for _ in range(self.copies if is_cut else 1)],
            layouts=self.layouts,
            stock=stock,
            stamp=self.stamp,
            start=start if is_cut else 1,
            alike=alike,
            exact=exact,
        )
        if not is_cut and self.copies > 1:
            sheets = Sheets.of(tuple(sheets.pages) * self.copies)
        return sheets, problems

    def bytes_of(self, name: str, sheets: Sheets, outline: Sequence[Bookmark] = ()) -> bytes:
        from cardgen.draw.pdf import pdf  # noqa: PLC0415  # `check` draws nothing

        words = self.printable.words
        return pdf(
            (inked(page, self.ink) for page in self._told(name, sheets)),
            title=title(name, words).printed,
            subject=f"{self.printable.asbuilt.site}, {self.printable.stamp.printed}",
            language=words.languages[0],
            outline=outline,
            one_sided=name.startswith(ONE_SIDED),
        )

    def _told(self, name: str, sheets: Sheets) -> Iterator[Page]:
        for number, page in enumerate(sheets.pages, 1):
            self.progress.draws(name, number, sheets.count)
            yield page


def title(name: str, words: Words) -> Text:
    """As a reader's window names it: `Wire flags`; with its controller, `Door legend A`."""
    stem = name.removesuffix(".pdf")
    schedules = (STATION_SCHEDULE, CONDUCTOR_SCHEDULE, SPLICE_REGISTER)
    for word, between in ((LEGEND, "-"), *((schedule, " ") for schedule in schedules)):
        if stem.startswith(word + between):
            return words(f"files.{word}", controller=stem.removeprefix(word + between))
    return words.own("files", stem)
