"""Tell beforehand what a print of the whole job would refuse, on what lies in the printer."""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.cards import MAKERS
from cardgen.drawing import home_runs, undrawable
from cardgen.examine import Examined
from cardgen.faults.paper_faults import LETTER_NOT_IN_FONT
from cardgen.fonts import Weight, missing
from cardgen.gc_pause import gc_paused
from cardgen.layout import load_layouts
from cardgen.light_dataclass import replace
from cardgen.output.as_printable import as_printable
from cardgen.output.print_request import PrintRequest
from cardgen.output.print_settings import PrintSettings
from cardgen.problems import Problem, Verdict, has_errors, in_order
from cardgen.reading.nodes import short
from cardgen.stages import Stage
from cardgen.words import load_words

MEASURED = tuple(MAKERS)


@gc_paused()
def misfits(examined: Examined, request: PrintRequest) -> tuple[Problem, ...]:
    """A warning for each kind of misfit, for the job itself is sound, and other stock has room.

    A letter that the fonts lack is an error: no stock has it.
    """
    words, problems = load_words(request.languages, request.layouts)
    layouts, more = load_layouts(request.layouts, words, MEASURED)
    usual = as_printable(examined)
    problems = (*problems, *more)
    if usual is None or words is None or has_errors(problems):
        return problems
    if request.read_from is not None:
        layouts = layouts.seen_from(request.read_from)
    Stage.CARDS.begins()
    printable = replace(usual, words=words)
    press = PrintSettings.of(printable, layouts, request)
    found = [problem for kind in MEASURED for problem in press.all_without_room(kind)]
    if not found:  # as in a print, where most of it would be told twice
        found += undrawable(home_runs(printable), request.paper)
    letters = [problem for problem in found if problem.code == LETTER_NOT_IN_FONT.code]
    sized = [replace(p, verdict=Verdict.WARNING) for p in found if p not in letters]
    if letters:
        letters = _at_the_texts(examined) or letters
    return in_order((*problems, *sized, *letters))


def _at_the_texts(examined: Examined) -> list[Problem]:
    """Once at each text of the job that has such letters, on however many cards it is."""
    assert examined.job is not None  # else nothing of it could have been measured
    lacking = ((text, missing(text.value, Weight.MEDIUM)) for text in examined.job.texts)
    return [
        LETTER_NOT_IN_FONT.at(
            text.span, variant="text", text=short(text.value), letters=_listed(found)
        )
        for text, found in lacking
        if found
    ]


def _listed(letters: Iterable[str]) -> str:
    return ", ".join(f"'{letter}' (U+{ord(letter):04X})" for letter in letters)
