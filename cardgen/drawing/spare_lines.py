"""Say which free stretches of a cable end in a place: spares, then what is dead."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator

from cardgen.asbuilt import BuiltSpare
from cardgen.asbuilt.model.home_runs import Spot
from cardgen.cards import Printable
from cardgen.cards.plain_words import localized_mark
from cardgen.drawing.drawing_parts import BoxLine, LineKind, as_text
from cardgen.drawing.plain_outline import color_of


def lines_of_free(printable: Printable, spot: Spot) -> Iterator[BoxLine]:
    ending = printable.asbuilt.spares_ending(spot.place, spot.cable)
    cable, name = printable.spans.cables[spot.cable], printable.words("drawing.spare")
    for spare in ending:
        if not spare.dead:
            yield BoxLine(
                span=printable.spans.spares[spare.id] if spare.listed else cable,
                kind=LineKind.SPARE,
                marks=(spare.mark,),
                name=f"{name} {spare.id}" if spare.listed else name,
                text=as_text(spare.reserved_for, printable.words("drawing.ends here")),
            )
    dead = _dead(printable, (spare for spare in ending if spare.dead))
    if dead:
        yield BoxLine(
            span=cable, kind=LineKind.SPARE, name=printable.words("roles.dead"), text=dead
        )


def _dead(printable: Printable, ending: Iterable[BuiltSpare]) -> str:
    """In one line, by where each was cut: nobody looks for them, but must not trust them."""
    by_first: dict[str, list[str]] = defaultdict(list)
    for spare in ending:
        shown = localized_mark(spare.mark, printable.words)
        by_first[spare.first].append(color_of(shown, shown.cable))
    return "; ".join(
        printable.words("drawing.cut in", conductors=", ".join(found), place=first)
        for first, found in by_first.items()
    )
