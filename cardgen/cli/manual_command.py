"""`cardgen manual [TOPIC]`: a page of the manual, or what pages there are."""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.cli.telling import CLEAN
from cardgen.manual import as_text, page, pages
from cardgen.problems import UserError
from cardgen.reading.shapes import nearest


@dataclass(frozen=True, kw_only=True)
class Options:
    """Attributes:
    topic: the name of a page; None for the list of all.
    """

    topic: str | None


def run(options: Options) -> int:
    if options.topic is None:
        print("\n".join(f"{each.topic:14} {each.about}" for each in pages().values()))
        print("\n'cardgen manual TOPIC' shows one; 'cardgen explain' lists the codes of problems.")
        return CLEAN
    found = page(options.topic)
    if found is None:
        way_out = nearest(options.topic, pages()) or "'cardgen manual' lists them all"
        raise UserError(f"the manual has no page '{options.topic}'", way_out)
    print(as_text(found.text))
    return CLEAN
