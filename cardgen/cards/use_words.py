"""Say in the words of a print what a conductor is: `hot A1`, `common A`, `spare SP-1`, `dead`."""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.asbuilt import Role, Use
from cardgen.asbuilt.model.built_conductors import BuiltConductor
from cardgen.words import Said, Text, Words


def use_in_words(words: Words, use: Use) -> Text:
    match use.role:
        case Role.DEAD:
            return words("roles.dead")
        case Role.PATH:
            return words("roles.path", number=use.side, controller=use.of)
        case Role.TERMINAL:
            return words("roles.terminal", terminal=use.side, controller=use.of)
    return words(f"roles.{use.role}", of=use.of)


def uses_in_words(words: Words, uses: Iterable[Use]) -> list[Text]:
    """Each once."""
    return list(dict.fromkeys(use_in_words(words, use) for use in uses))


def name_in_words(words: Words, conductor: BuiltConductor) -> Text:
    """`A-K1 red A3`; of like conductors without flags also its number, `A-K1 red #2`."""
    tail = conductor.name.removeprefix(f"{conductor.mark.cable} {conductor.mark.word}")
    parts: tuple[Said, ...] = (
        conductor.mark.cable,
        words.color(conductor.mark.word),
        *tail.split(),
    )
    return words.joined(parts, " ")
