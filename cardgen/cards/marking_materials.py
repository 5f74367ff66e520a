"""Count boxes and all that marks: tags, flags, cards, the ends that take a band, ties."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator

from cardgen.cards.box_tags import has_box_tag
from cardgen.cards.flags import flag_count
from cardgen.cards.material import Material, a_tenth_more
from cardgen.cards.printable import Printable
from cardgen.cards.splice_cards import has_splice_card
from cardgen.words import Text


def boxes(printable: Printable) -> Iterator[Material]:
    found: dict[Text, list[str]] = defaultdict(list)
    for box in printable.asbuilt.boxes:
        if not box.buried:
            found[printable.kind(box)].append(box.id)
    for what, ids in found.items():
        yield Material(group="boxes", what=what, quantity=len(ids), basis=", ".join(ids))


def marking(printable: Printable) -> Iterator[Material]:
    words = printable.words
    tags = len(printable.asbuilt.valve)
    boxes = printable.asbuilt.boxes
    tagged = sum(map(has_box_tag, boxes))
    kinds = (
        ("valve tag", tags, "as printed"),
        ("tagged box", tagged, "several tags"),  # how many a box takes is decided by the stock
        ("wire flag", flag_count(printable.asbuilt), "as printed"),
        ("splice card", sum(map(has_splice_card, boxes)), "as printed"),
        ("legend", len(printable.asbuilt.controllers), "as printed"),
    )
    for what, number, basis in kinds:
        if number:
            said, counted = words(f"materials.{what}"), words(f"materials.{basis}")
            yield Material(group="marking", what=said, quantity=number, basis=counted)
    yield from _bands(printable)
    numbers = {"tags": tags, "tagged boxes": tagged}
    yield a_tenth_more(printable, "marking", words("materials.tie"), numbers)


def _bands(printable: Printable) -> Iterator[Material]:
    """By band how many ends take one: both of every leg, of each single where it is a bundle."""
    known = printable.asbuilt
    ends: dict[str, Counter[str]] = defaultdict(Counter)
    for cable in known.cables:
        if cable.band:
            pulled = [c.legs for c in known.inside[cable.id]] if cable.bundle else [cable.run[1:]]
            ends[cable.band][cable.id] += 2 * sum(map(len, pulled))
    for band, cables in ends.items():
        yield Material(
            group="marking",
            what=printable.words("materials.band", band=band),
            quantity=cables.total(),
            basis="; ".join(f"{name}: {number}" for name, number in cables.items()),
        )
