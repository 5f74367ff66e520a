"""Set what is said of readings: a title, a verdict, a row of a table."""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.record.html import Child, Markup, element, joined
from cardgen.record.judging import Judged, judged_results
from cardgen.record.results_page import verdict_line
from cardgen.results import Measured
from cardgen.server.job_context import JobContext
from cardgen.server.moments import shown
from cardgen.server.shared_terminals import measured_at


def kind_name(context: JobContext, kind: str) -> str:
    return context.words(f"measured.{kind}").printed


def what_in_words(context: JobContext, measured: Measured) -> str:
    """What was measured, and on what where the kind leaves that open."""
    return ": ".join(filter(None, (kind_name(context, measured.kind), measured.between)))


def judged_of(context: JobContext, measured: Measured) -> Judged | None:
    """With its verdict, against what the job said on that day; None of a valve it never had."""
    results = judged_results(context.job.revisions, (measured,))
    found = (*results.by_valve.get(measured.valve, ()), *results.of_conductors)
    return found[0] if found else None


def title_of(context: JobContext, measured: Measured) -> str:
    said = (measured_at(context.now, measured), what_in_words(context, measured), measured.shown)
    return ": ".join(filter(None, said))


def next_step(context: JobContext, each: Judged) -> str:
    return context.page_words.of("next", each.finding.next_name, **each.finding.values)


def row(context: JobContext, measured: Measured) -> Markup:
    """A value with its day and verdict, without who measured it."""
    return _row(context, measured, judged_of(context, measured))


def judged_row(context: JobContext, each: Judged) -> Markup:
    """The same of one that was judged beside others."""
    return _row(context, each.measured, each)


def _row(context: JobContext, measured: Measured, each: Judged | None) -> Markup:
    day = element("span", f" · {shown(measured.when)}", class_="small")
    what = what_in_words(context, measured)
    head = element("p", f"{what}: ", element("b", measured.shown), day)
    line = verdict_line(context.page_words, each) if each else None
    return element("div", head, line, class_="verdict")


def table(heads: Iterable[str], rows: Iterable[Iterable[Child]]) -> Markup:
    head = element("tr", *(element("th", text, scope="col") for text in heads))
    body = (element("tr", *(element("td", cell) for cell in row)) for row in rows)
    return element("table", element("thead", head), element("tbody", *body), class_="table")


def lines(text: str) -> Markup:
    """A text of a person, with its line ends."""
    parts = text.split("\n")
    rest = (part for line in parts[1:] for part in (element("br"), line))
    return joined(parts[0], *rest)
