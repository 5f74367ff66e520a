"""Turn an examined job and a file of readings into a diagnosis in words, and into its sheet."""

from __future__ import annotations

from pathlib import Path

from cardgen.advice import Advice, advice, dates_in_words, fault_sheet
from cardgen.cards import CardKind, Printable
from cardgen.diagnosis import Diagnosis, diagnose_each
from cardgen.examine import Examined
from cardgen.layout import Sheets, load_layouts
from cardgen.light_dataclass import dataclass
from cardgen.output.as_printable import as_printable
from cardgen.output.print_request import PrintRequest
from cardgen.output.print_settings import PrintSettings
from cardgen.output.readings_file import readings_in
from cardgen.problems import Problem, has_errors, in_order
from cardgen.results import KnownNames, oldest_first
from cardgen.words import Text, load_words

FILE = "fault-sheet.pdf"


@dataclass(frozen=True, slots=True, kw_only=True)
class DiagnosedPart:
    """What metal or coils join, mostly one controller.

    Attributes:
        advice: the diagnosis in the words that were asked for.
    """

    diagnosis: Diagnosis
    advice: Advice

    @property
    def is_sound(self) -> bool:
        return self.diagnosis.is_healthy and not self.diagnosis.apart


@dataclass(frozen=True, slots=True, kw_only=True)
class DiagnosedJob:
    """Attributes:
    parts: none where no reading counts.
    dates: how many readings it is made from, and of what day.
    """

    printable: Printable
    parts: tuple[DiagnosedPart, ...]
    dates: Text


def diagnosed_job(
    examined: Examined, readings: Path, request: PrintRequest
) -> tuple[DiagnosedJob | None, tuple[Problem, ...]]:
    """Nothing where the job, a reading or the words asked for have a fault.

    Raises:
        UserError: if the file of readings cannot be read.
    """
    words, problems = load_words(request.languages, request.layouts)
    printable = as_printable(examined, words, with_network=True)
    if printable is None:
        return None, problems
    known = printable.asbuilt
    measured, faults = readings_in(readings, KnownNames.of([known]), known.key)
    problems = in_order((*problems, *faults))
    if words is None or has_errors(problems):
        return None, problems
    walk = oldest_first(measured)
    found = diagnose_each(known, walk)
    parts = tuple(DiagnosedPart(diagnosis=d, advice=advice(words, known, d, walk)) for d in found)
    used = sum(len(diagnosis.counted) for diagnosis in found)
    return DiagnosedJob(
        printable=printable, parts=parts, dates=dates_in_words(words, used, walk)
    ), problems


def sheet_pages(
    made: DiagnosedJob, request: PrintRequest
) -> tuple[bytes, int, tuple[Problem, ...]]:
    """A sheet for each part with a fault, of all where none has one, as PDF; how many pages.

    Nothing where something has no room.
    """
    layouts, problems = load_layouts(request.layouts, made.printable.words, (CardKind.FAULT_SHEET,))
    if has_errors(problems):
        return b"", 0, problems
    press = PrintSettings.of(made.printable, layouts, request)
    parts = [part for part in made.parts if not part.is_sound] or made.parts
    cards = [fault_sheet(made.printable, part.advice, made.dates) for part in parts]
    pages, faults = press.set(CardKind.FAULT_SHEET, cards)
    problems = in_order((*problems, *faults))
    if has_errors(problems):
        return b"", 0, problems
    return press.bytes_of(FILE, Sheets.of(pages)), len(pages), problems
