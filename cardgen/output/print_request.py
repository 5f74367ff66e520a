"""What a print is asked for: which cards, on what, since when, and where its files lie."""

from __future__ import annotations

from dataclasses import field
from pathlib import Path

from cardgen.cards import CrewBoxes
from cardgen.light_dataclass import dataclass
from cardgen.memory.prints import PrintLog
from cardgen.output.selection import EVERYTHING, KINDS, PACKET, Selection
from cardgen.printer import PAPERS, Ink
from cardgen.units import Meters

SELECTED, CREWS = "selected", "crews"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bundle:
    """All that a crew takes along, in one file.

    Attributes:
        sheets: words of KINDS: what to fill in, of its boxes only.
    """

    crew: CrewBoxes
    sheets: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintRequest:
    """Attributes:
    paper: one of PAPERS, for what goes on no other stock.
    stocks: names of what else lies in the printers; the last that has a face for a card is taken.
    offset: in mm to the right and down, of the printer with `stocks`; None for what they say.
    layouts: folder of one's own stock, faces and words; None for the shipped ones alone.
    languages: of each card, in their order.
    results: CSV file of what crews measured.
    since: only what changed since this revision was printed.
    earlier: the prints that the folder keeps.
    base: the prints in which `since` is looked up; None for `earlier`.
    start: first free card of a part-used sheet, for the first file of tags or flags.
    read_from: from how far tags are read; None for what each face assumes.
    replace: whether a revision may say otherwise than when it was printed before.
    bundle: what a crew takes along to the boxes that are selected; None for a file of each kind.
    made_from: a digest of the job file and all that is asked for, kept with the print.
    without_misfits: whether tags, flags and splice cards that have no room are left out.
    """

    selection: Selection = EVERYTHING
    paper: str = PAPERS[0]
    stocks: tuple[str, ...] = ()
    offset: tuple[float, float] | None = None
    layouts: Path | None = None
    languages: tuple[str, ...] = ("en",)
    results: Path | None = None
    since: int | None = None
    earlier: PrintLog = field(default_factory=PrintLog)
    base: PrintLog | None = None
    start: int = 1
    copies: int = 1
    ink: Ink = Ink.COLOR
    read_from: Meters | None = None
    replace: bool = False
    without_misfits: bool = False
    bundle: Bundle | None = None
    made_from: str = ""

    @property
    def is_whole(self) -> bool:
        return self.since is None and self.selection == EVERYTHING

    @property
    def kinds(self) -> tuple[str, ...] | None:
        """Of the cards that may be printed; None for any, and a packet has nearly all."""
        only = self.selection.only
        if not only or PACKET in only:
            return None
        sheets = self.bundle.sheets if self.bundle is not None else ()
        return tuple(kind for word in (*only, *sheets) for kind in KINDS[word])

    @property
    def folder(self) -> str:
        """Where in the output folder the files lie: what was printed whole stays whole."""
        if self.bundle is not None:
            return CREWS
        if self.since is not None:
            return f"since-{self.since}"
        return SELECTED if self.selection.is_narrow else ""

    @property
    def is_survey(self) -> bool:
        """Nothing but the list of what to find out, which is printed in spite of errors."""
        return self.selection.only == ("survey",) and self.since is None

    def keeps(self, name: str) -> bool:
        """Whether a file of an earlier print stays although this print makes none of that name.

        A whole print takes all beside its files away, one of some kinds only files of those kinds;
        neither touches the folders of other prints, and a bundle no other bundle.
        """
        folder, _, file = name.rpartition("/")
        if folder != self.folder or self.bundle is not None:
            return True
        return not folder and not file.startswith(self.selection.only or tuple(KINDS))
