"""Turn a job into the last sheets of the owner's part: changes and open items, then the sign-off.

Nothing here claims that a job meets any code.
"""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.cards import cautions
from cardgen.cards.card import Card, CardKind, FieldValue, Table, on_paper
from cardgen.cards.expected import NOTHING
from cardgen.cards.open_items import good_to_know, open_items
from cardgen.cards.printable import Printable

OPEN, SIGNED = "changes and open items", "handover and sign-off"
CALCULATED = ("traced", "ohms", "volts", "lengths")
MEASURED = ("by hand", "distances")
STANDS = ("records", "keep")
MOST_CHANGES = 12  # the newest; the owner's part has ten pages (ours)
HANDED_OVER = (
    *("documents left with", "copy left at", "warranty until", "watering schedule left with"),
    *("backflow test", "static pressure", "training given to", "keys handed to"),
)
SIGNERS = ("installed by", "tested by", "accepted by")
SIGN_OFF = ("role", "name", "firm", "license", "signature", "date")


def closings(printable: Printable) -> Iterator[Card]:
    yield _card(printable, OPEN, _open(printable))
    yield _card(printable, SIGNED, _signed(printable))


def _card(printable: Printable, name: str, fields: dict[str, FieldValue]) -> Card:
    about: dict[str, FieldValue] = {
        "title": printable.words(f"closing.{name}"),
        "subtitle": printable.asbuilt.site,
        "stamp": printable.stamp,
    }
    span = printable.spans.job
    return Card(kind=CardKind.CLOSING, id=name, span=span, fields=on_paper({**about, **fields}))


def _open(printable: Printable) -> dict[str, FieldValue]:
    words, changes = printable.words, printable.asbuilt.changes
    fields: dict[str, FieldValue] = {}
    if changes:
        columns = words.named("columns", ("revision", "date", "what"))
        newest = changes[-MOST_CHANGES:]
        rows = tuple((str(change.revision), change.date, change.text) for change in newest)
        fields["changes"] = Table.of(columns, rows)
    if len(changes) > MOST_CHANGES:
        fields["earlier"] = words("closing.earlier", number=len(changes) - MOST_CHANGES)
    left = tuple((what, where, "") for what, where in open_items(printable))
    if left:
        columns = words.named("columns", ("what", "where", "done by"))
        fields["open"] = Table.of(columns, left)
    else:
        fields["nothing_open"] = (words("closing.nothing open"),)
    right = tuple(good_to_know(printable))
    if right:
        fields["known"] = Table.of(words.named("columns", ("what", "where")), right)
    return fields


def _signed(printable: Printable) -> dict[str, FieldValue]:
    words, known = printable.words, printable.asbuilt
    firms = {
        "installed by": (known.contractor, known.license_number),
        "accepted by": (known.owner, NOTHING),
    }
    warned = cautions.in_words(words, cautions.CLOSING, cautions.in_job(known))
    rows = tuple((words(f"blanks.{who}"), "", *firms.get(who, ("", "")), "", "") for who in SIGNERS)
    return {
        "handed_over": words.named("blanks", HANDED_OVER),
        "signatures": Table.of(words.named("columns", SIGN_OFF), rows),
        "calculated": words.named("closing", CALCULATED),
        "measured": words.named("closing", MEASURED),
        "cautions": (*warned, words(f"closing.{STANDS[0]}")),
    }
