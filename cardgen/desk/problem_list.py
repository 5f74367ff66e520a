"""List problems on a page of the desk: each with its way out, and with its cell if it has one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardgen.desk.told_findings import as_sentence, told, told_refusal
from cardgen.problems import Problem, UserError
from cardgen.record.html import Markup, element, joined
from cardgen.words import Text, Words

_MOST_TOLD = 20  # problems; once these are settled the rest is told; our choice


def told_problems(words: Words, problems: Sequence[Problem]) -> Markup:
    """Of a job that cannot be printed; the page of the job shows each in its row."""
    return _listed(words, words("desk.fix first"), problems)


def told_cells(words: Words, problems: Sequence[Problem], lead: Text) -> Markup:
    """Of a list: each with its sheet, row and column."""
    return _listed(words, lead, problems, with_cells=True)


def _listed(
    words: Words, lead: Text, problems: Sequence[Problem], *, with_cells: bool = False
) -> Markup:
    rows = (
        element(
            "li",
            joined(element("span", _cell(words, problem)), " ") if with_cells else None,
            *_said(words, problem),
        )
        for problem in problems[:_MOST_TOLD]
    )
    more = len(problems) - _MOST_TOLD
    return element(
        "div",
        element("p", lead),
        element("ul", *rows, class_="plain"),
        element("p", words("desk.and more", count=more)) if more > 0 else None,
        class_="alert",
        role="alert",
    )


def _said(words: Words, problem: Problem) -> Iterator[Markup]:
    """In the language of the page if its words are known, else in English, which is said."""
    said = told(problem, words.languages[0])
    yield element("b", as_sentence(said.sentence), lang=said.language)
    if said.help:
        yield element("span", f" {as_sentence(said.help)}", lang=said.language)
    if said.language != words.languages[0]:
        yield element("small", joined(" ", words("desk.in English")))


def refusal_said(words: Words, fault: UserError) -> Markup:
    """Why something is not done; the page has its own way out."""
    said = told_refusal(UserError(fault.sentence), words.languages[0])
    is_english = said.language != words.languages[0]
    mark = element("small", joined(" ", words("desk.in English"))) if is_english else None
    return element("p", element("span", as_sentence(said.sentence), lang=said.language), mark)


def _cell(words: Words, problem: Problem) -> Text:
    file, line, column, _ = problem.span
    return words("desk.at cell", sheet=file, row=line, column=column)
