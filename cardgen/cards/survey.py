"""Turn the open questions into a list to carry along: what to find out, box by box as one walks."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt.model.as_built import OpenQuestion
from cardgen.cards import cautions
from cardgen.cards.card import Card, CardKind, Cell, FieldValue, Table, on_paper
from cardgen.cards.printable import Printable
from cardgen.words import Text, apart

_USED_FOR = {"ties": "finding", "place": "finding it", "area": "tag and legend"}
COLUMNS = ("where", "what to find out", "needed for", "found", "done by")


def surveys(printable: Printable) -> Iterator[Card]:
    """One list for the job, if something in it is not known."""
    known, words = printable.asbuilt, printable.words
    rank = {place: number for number, place in enumerate(known.walked)}
    asked = sorted(
        (each for each in known.questions if printable.carries(each.at)),
        key=lambda each: rank.get(each.at, len(rank)),
    )
    if not asked:
        return
    first = cautions.in_words(words, cautions.SURVEY, cautions.in_job(known))
    count = words.count("survey.count", len(asked))
    crew = (printable.crew.name,) if printable.crew is not None else ()
    fields: dict[str, FieldValue] = {
        "title": words("survey.title"),
        "subtitle": apart((*crew, known.site, count)),
        "cautions": first,
        "notes": (words("survey.how"), *_errors(printable), *printable.only_boxes),
        "questions": Table.of(words.named("columns", COLUMNS), _rows(printable, asked)),
        "stamp": printable.stamp,
    }
    yield Card(kind=CardKind.SURVEY, id="survey", span=printable.spans.job, fields=on_paper(fields))


def _errors(printable: Printable) -> Iterator[Text]:
    """A list from a job with errors says so: some of it may come out otherwise without them."""
    if printable.errors:
        yield printable.words.count("survey.errors", printable.errors)


def _rows(printable: Printable, asked: list[OpenQuestion]) -> Iterator[tuple[Cell, ...]]:
    """A place is named once, where its questions begin."""
    before = ""
    for each in asked:
        place = "" if each.at == before else _place(printable, each.at)
        before = each.at
        yield place, _what(printable, each), _needed_for(printable, each), "", ""


def _place(printable: Printable, at: str) -> Cell:
    """`VB-2, front bed`; nothing where no place can be told."""
    known = printable.asbuilt
    if at in known.controller:
        return printable.words("terms.controller", controller=at)
    return printable.words.joined((at, known.box[at].where if at in known.box else ""))


def _what(printable: Printable, asked: OpenQuestion) -> Text:
    words = printable.words
    if asked.subject == "hot":
        return _which_wire(printable, asked)
    color = words.color(asked.color) if asked.color else ""
    thing = words.joined([asked.thing, color], " ")
    return words(f"survey.{asked.subject}", thing=thing, start=asked.start, end=asked.end)


def _which_wire(printable: Printable, asked: OpenQuestion) -> Text:
    """With what comes to the box and may be it; however few there are, none is taken for it."""
    words = printable.words
    wires = words.list_of(map(printable.named, asked.candidates))
    key = " ".join(part for part in ("survey.hot", asked.side) if part)
    wire = printable.named(asked.wire) if asked.wire else ""
    asking = words(key, thing=asked.thing, wire=wire)
    told = "survey.wires here" if asked.candidates else "survey.no wire here"
    return words.joined((asking, words(told, wires=wires)), " ")


def _needed_for(printable: Printable, asked: OpenQuestion) -> Text:
    words = printable.words
    if asked.needed_by:
        return words("survey.readings of", valves=words.list_of(asked.needed_by))
    return words(f"survey.{_USED_FOR.get(asked.subject, 'materials')}")
