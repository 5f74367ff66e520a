"""Turn what nothing uses into the spare list: from where, through what, to where, what it reads."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt import Spare
from cardgen.cards.expected import BOUND, in_band
from cardgen.cards.model import Card, CardKind, Cell, FieldValue, Table
from cardgen.cards.printable import NOT_KNOWN, Printable

COLUMNS = (
    *("flag", "conductor", "gauge", "from", "through", "last box", "state"),
    *("loop expects, Ω", "read, Ω", "date"),
)
HOW = ("loop", "expected")


def spare_lists(job: Printable) -> Iterator[Card]:
    """One list for the job, if something in it is free: spares, and apart from them the dead."""
    free = job.asbuilt.spares
    if not free:
        return
    spares = [spare for spare in free if not spare.dead]
    count = job.words.count("spare list.count", len(spares))
    fields: dict[str, FieldValue] = {
        "title": job.words("spare list.title"),
        "subtitle": f"{job.asbuilt.site} · {count}",
        "notes": job.words.named("spare list", HOW),
        "stamp": job.stamp,
    }
    rows = tuple((spare.id, *_row(job, spare)) for spare in spares)
    dead = tuple(_row(job, spare) for spare in free if spare.dead)  # it has no flag
    for name, columns, found in (("spares", COLUMNS, rows), ("dead", COLUMNS[1:], dead)):
        if found:
            fields[name] = Table(columns=job.words.named("columns", columns), rows=found)
    yield Card(kind=CardKind.SPARE_LIST, id="spares", place=job.spans.job, fields=fields)


def _row(job: Printable, spare: Spare) -> tuple[Cell, ...]:
    through = job.words.listed(spare.through) or "–"
    gauge = spare.mark.gauge.replace(" ", BOUND)
    said = (spare.mark, gauge, spare.first, through, spare.last)
    loop = in_band(spare.loop) if spare.loop else NOT_KNOWN
    return (*said, _state(job, spare), loop, "", "")


def _state(job: Printable, spare: Spare) -> str:
    words = job.words
    state = [words("spare list.capped")]
    if spare.joined:
        state = [words("spare list.joined", places=words.listed(spare.joined))]
    if spare.promised:
        state.append(words("spare list.promised", place=spare.promised))
    if spare.reserved_for:
        state.append(words("spare list.reserved", use=spare.reserved_for))
    return words.joined(state)
