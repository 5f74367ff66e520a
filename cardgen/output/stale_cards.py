"""Compare what hangs with what is to be: new, changed and gone."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.light_dataclass import dataclass
from cardgen.output.card_texts import CardText
from cardgen.output.selection import Selection


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """What is otherwise than it was; `changed` holds before and after."""

    new: tuple[CardText, ...]
    changed: tuple[tuple[CardText, CardText], ...]
    gone: tuple[CardText, ...]

    @property
    def keys(self) -> set[str]:
        """Of what is to be printed."""
        return {said.key for said in (*self.new, *(after for _, after in self.changed))}

    @property
    def hung(self) -> tuple[int, int, int]:
        """How many are to be taken down, replaced and put up; sheets hang nowhere."""
        changed = [after for _, after in self.changed]
        down, replaced, up = (sum(bool(s.at) for s in of) for of in (self.gone, changed, self.new))
        return down, replaced, up

    @property
    def kinds(self) -> set[str]:
        return {said.kind for said in (*self.new, *self.gone, *(a for _, a in self.changed))}

    def __bool__(self) -> bool:
        return bool(self.new or self.changed or self.gone)

    def within(self, selection: Selection) -> Changes:
        """Those for what is selected: a tag that goes to another box is of both."""
        return Changes(
            new=tuple(filter(selection.serves, self.new)),
            changed=tuple(pair for pair in self.changed if any(map(selection.serves, pair))),
            gone=tuple(filter(selection.serves, self.gone)),
        )

    def said_by(self, before: Mapping[str, CardText], now: Mapping[str, CardText]) -> Changes:
        """The same changes in other words, by what the same cards say in them."""
        return Changes(
            new=tuple(now[said.key] for said in self.new),
            changed=tuple((before[old.key], now[new.key]) for old, new in self.changed),
            gone=tuple(before[said.key] for said in self.gone),
        )


def compared(before: Mapping[str, CardText], now: Mapping[str, CardText]) -> Changes:
    return Changes(
        new=tuple(said for key, said in now.items() if key not in before),
        changed=tuple(
            (before[key], said)
            for key, said in now.items()
            if key in before and before[key].words != said.words
        ),
        gone=tuple(said for key, said in before.items() if key not in now),
    )
