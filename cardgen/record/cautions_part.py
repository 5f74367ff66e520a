"""Set the cautions of a page, by what hands meet at the place that it is about."""

from __future__ import annotations

from collections.abc import Sequence

from cardgen.cards.cautions import FOOT_OF_PAGE, Situation, in_words
from cardgen.record.html import Markup, element, joined
from cardgen.record.page_frame import plain_list, section
from cardgen.record.page_words import PageWords


def cautions_first(words: PageWords, order: Sequence[str], at: Situation) -> Markup:
    """What a hand must know of this very place before it touches anything."""
    said = in_words(words.words, order, at)
    return joined(*(element("p", each, class_="must") for each in said))


def cautions(words: PageWords, at: Situation) -> Markup:
    """What holds wherever one works on such wiring."""
    return section(words("cautions"), plain_list(in_words(words.words, FOOT_OF_PAGE, at)))
