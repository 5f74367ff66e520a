"""Turn a diagnosis in words into a sheet to take along: the way, suspects, what to measure next."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.advice.suspect_words import ToldSuspect
from cardgen.advice.told import Advice
from cardgen.advice.way_stops import off_in_words, way_stops
from cardgen.asbuilt import AsBuilt
from cardgen.cards import cautions
from cardgen.cards.card import Card, CardKind, FieldValue, Table, on_paper
from cardgen.cards.plain_words import localized
from cardgen.cards.printable import Printable
from cardgen.problems import Span
from cardgen.words import Said, Text, Words, apart


def fault_sheet(printable: Printable, advice: Advice, dates: Text) -> Card:
    """One card; `dates` says how many readings it is made from, and of what day."""
    words = printable.words
    controllers = words.list_of(advice.controllers)
    card = Card(
        kind=CardKind.FAULT_SHEET,
        id=" ".join(advice.controllers),
        span=Span("", 1, 1),
        controllers=advice.controllers,
        fields=on_paper(
            {
                "title": words("diagnosis.title", controllers=controllers),
                "subtitle": apart((printable.asbuilt.site, dates)),
                "stamp": printable.stamp,
                **_fields(printable, advice),
            }
        ),
    )
    return localized(card, words)


def _fields(printable: Printable, advice: Advice) -> dict[str, FieldValue]:
    """What is empty leaves no title behind."""
    words = printable.words
    listed: dict[str, tuple[str, FieldValue]] = {
        "way": ("way", way_stops(words, printable.asbuilt, advice)),
        "suspects": ("suspects", _suspects(words, advice.suspects)),
        "follows": ("then what", advice.follows),
        "cleared": ("what is cleared", advice.cleared),
        "excluded": ("what is excluded", advice.excluded),
        **_next(words, advice),
    }
    fields: dict[str, FieldValue] = {
        "verdict": (*advice.verdict, *_off_the_way(printable, advice)),
        "cautions": cautions_of(words, printable.asbuilt, advice),
    }
    for name, (title, value) in listed.items():
        if value and (not isinstance(value, Table) or value.rows):
            fields |= {name: value, f"{name}_title": words(f"diagnosis.{title}")}
    if advice.suspects:
        fields["marks"] = words.joined(words.named("diagnosis", ("marks", "weights", "code")), " ")
    return fields


def _off_the_way(printable: Printable, advice: Advice) -> Iterator[Text]:
    """What is off and no valve's own, such as a value between two hots."""
    for value in advice.off:
        if value.valve not in printable.asbuilt.valve:
            yield off_in_words(printable.words, value)


def _suspects(words: Words, suspects: tuple[ToldSuspect, ...]) -> Table:
    """Each with its weight, then the places to look at by their marks."""
    columns = words.named("diagnosis", ("column number", "column what", "column weight"))
    rows: list[tuple[Said, ...]] = []
    for suspect in suspects:
        alone = len(suspect.kneeling) == 1
        rows.append((str(suspect.number), suspect.says, suspect.weight))
        rows += [("" if alone else k.mark, k.where, "") for k in suspect.kneeling]
        if suspect.same is not None:
            rows.append(("", suspect.same, ""))
    return Table.of(columns, rows)


def _next(words: Words, advice: Advice) -> dict[str, tuple[str, FieldValue]]:
    if not advice.steps:
        return {}
    first = advice.steps[0]
    columns = words.named("diagnosis", ("column shows", "column then", "column write"))
    rows = [(outcome.shows, outcome.then, "") for outcome in first.outcomes]
    return {
        "next": ("next", (first.do,)),
        "outcomes": ("next", Table.of(columns, rows)),
        "others": ("after that", tuple(step.do for step in advice.other_steps)),
    }


def cautions_of(words: Words, known: AsBuilt, advice: Advice) -> tuple[Text, ...]:
    """By where somebody is sent: the places of the suspects, and all controllers concerned."""
    places = [place for each in advice.kneeling for place in (each.site.start, each.site.end)]
    at = cautions.at_places(known, (*advice.controllers, *places))
    return cautions.in_words(words, cautions.FAULT_SHEET, at)
