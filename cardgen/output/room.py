"""Tell beforehand which tags and flags have no room on what lies in the printer."""

from __future__ import annotations

from dataclasses import replace

from cardgen.cards import CardKind, made_cards
from cardgen.examine import Examined
from cardgen.gc_pause import gc_paused
from cardgen.layout import load_layouts
from cardgen.layout.pages import without_room
from cardgen.output.as_printable import as_printable
from cardgen.output.print_request import PrintRequest
from cardgen.output.stock_choice import TAGS, stock_for
from cardgen.problems import Problem, Verdict, has_errors, in_order
from cardgen.stages import Stage
from cardgen.words import load_words

MEASURED = (*TAGS, CardKind.FLAG)


@gc_paused()
def misfits(examined: Examined, request: PrintRequest) -> tuple[Problem, ...]:
    """A warning for each kind of misfit; the job itself is sound, and other stock has room."""
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
    found = [
        replace(problem, verdict=Verdict.WARNING)
        for kind in MEASURED
        for problem in without_room(
            made_cards(printable, kind),
            layouts=layouts,
            stock=layouts.stocks[stock_for(kind, request.paper, request.stocks, layouts)],
        )
    ]
    return in_order((*problems, *found))
