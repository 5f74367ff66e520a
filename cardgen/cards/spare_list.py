"""Turn what nothing uses into the spare list: from where, through what, to where, what it reads."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt import BuiltSpare
from cardgen.cards import cautions
from cardgen.cards.card import Card, CardKind, Cell, FieldValue, on_paper
from cardgen.cards.expected import BOUND, NOTHING, in_band
from cardgen.cards.printable import Printable
from cardgen.cards.tables import filled_table
from cardgen.units import NOT_KNOWN
from cardgen.words import Text, apart

COLUMNS = (
    *("flag", "conductor", "gauge", "from", "through", "last box", "state"),
    *("loop expects, Ω", "read, Ω", "date"),
)
ALWAYS = ("through", "read, Ω", "date")
HOW = ("loop", "expected")


def spare_lists(printable: Printable) -> Iterator[Card]:
    """One list for the job, if something in it is free: spares, and apart from them the dead."""
    free = printable.asbuilt.spares
    if not free:
        return
    spares = [spare for spare in free if not spare.dead]
    count = printable.words.count("spare list.count", len(spares))
    at = cautions.in_job(printable.asbuilt)
    first = cautions.in_words(printable.words, cautions.SPARE_LIST, at)
    fields: dict[str, FieldValue] = {
        "title": printable.words("spare list.title"),
        "subtitle": apart((printable.asbuilt.site, count)),
        "notes": (*first, *printable.words.named("spare list", HOW)),
        "stamp": printable.stamp,
    }
    rows = tuple((spare.id, *_row(printable, spare)) for spare in spares)
    dead = tuple(_row(printable, spare) for spare in free if spare.dead)  # it has no flag
    for name, columns, found in (("spares", COLUMNS, rows), ("dead", COLUMNS[1:], dead)):
        if found:
            fields[name] = filled_table(printable.words, columns, found, ALWAYS)
    span = printable.spans.job
    yield Card(kind=CardKind.SPARE_LIST, id="spares", span=span, fields=on_paper(fields))


def _row(printable: Printable, spare: BuiltSpare) -> tuple[Cell, ...]:
    through = printable.words.list_of(spare.through) or NOTHING
    gauge = spare.mark.gauge.replace(" ", BOUND) or NOT_KNOWN
    said = (spare.mark, gauge, spare.first, through, spare.last)
    loop = in_band(spare.loop) if spare.loop else NOT_KNOWN
    return (*said, _state(printable, spare), loop, "", "")


def _state(printable: Printable, spare: BuiltSpare) -> Text:
    words = printable.words
    state = [words("spare list.capped")]
    if spare.joined:
        state = [words("spare list.joined", places=words.list_of(spare.joined))]
    if spare.promised:
        state.append(words("spare list.promised", place=spare.promised))
    if spare.reserved_for:
        state.append(words("terms.reserved", use=spare.reserved_for))
    return words.joined(state)
