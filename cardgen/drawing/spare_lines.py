"""Say which free stretches of a cable end in a place: what may be a hot, spares, what is dead."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator

from cardgen.asbuilt import BuiltSpare, ConductorMark
from cardgen.asbuilt.model.home_runs import Spot
from cardgen.cards import Printable
from cardgen.cards.use_words import uses_in_words
from cardgen.drawing.drawing_parts import BoxLine, LineKind, as_text
from cardgen.words import Said, Text, Words


def lines_of_free(printable: Printable, spot: Spot) -> Iterator[BoxLine]:
    ending = printable.asbuilt.spares_ending(spot.place, spot.cable)
    cable, words, name = printable.spans.cables[spot.cable], printable.words, "drawing.spare"
    for conductor in printable.asbuilt.maybe_hots_ending(spot.place, spot.cable):
        yield BoxLine(
            span=cable,
            kind=LineKind.SPARE,
            marks=(conductor.mark,),
            name=words.list_of(uses_in_words(words, conductor.stretches[-1].uses)).printed,
        )
    for spare in ending:
        if not spare.dead:
            yield BoxLine(
                span=printable.spans.spares[spare.id] if spare.listed else cable,
                kind=LineKind.SPARE,
                marks=(spare.mark,),
                name=(words.labeled(name, spare.id) if spare.listed else words(name)).printed,
                text=as_text(_reserved(printable, spare), words("drawing.ends here")),
            )
    dead = _dead(printable, (spare for spare in ending if spare.dead))
    if dead:
        yield BoxLine(
            span=cable, kind=LineKind.SPARE, name=words("roles.dead").printed, text=dead.printed
        )


def _reserved(printable: Printable, spare: BuiltSpare) -> Said:
    use = spare.reserved_for
    return printable.words("terms.reserved", use=use) if use else ""


def _dead(printable: Printable, ending: Iterable[BuiltSpare]) -> Text:
    """In one line, by where each was cut: nobody looks for them, but must not trust them."""
    words = printable.words
    by_first: dict[str, list[Text]] = defaultdict(list)
    for spare in ending:
        by_first[spare.first].append(_look(words, spare.mark))
    cut = (
        words("drawing.cut in", conductors=words.joined(found), place=first)
        for first, found in by_first.items()
    )
    return words.joined(cut, "; ")


def _look(words: Words, mark: ConductorMark) -> Text:
    """`red RD (flag A3)`, each language for itself."""
    color = words.joined((words.color(mark.word), mark.code), " ")
    return words("terms.flagged", conductor=color, flag=mark.flag) if mark.flag else color
