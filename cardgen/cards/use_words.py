"""Say in the words of a print what a conductor is: `hot A1`, `common A`, `spare SP-1`, `dead`."""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.asbuilt import Role, Use
from cardgen.asbuilt.model.built_conductors import BuiltConductor
from cardgen.words import Said, Text, Words

MOST_NAMED = 3  # valves whose hot one conductor may be; of more their number (ours)


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
    """Each once; of what may be the hot of several valves their names together."""
    found = tuple(uses)
    maybe = [use.of for use in found if use.role is Role.MAYBE_HOT]
    said = [use_in_words(words, use) for use in found if use.role is not Role.MAYBE_HOT]
    if len(maybe) > MOST_NAMED:
        said.append(words("roles.maybe hot of many", number=len(maybe)))
    elif maybe:
        said.append(words("roles.maybe hot", of=words.list_of(maybe)))
    return list(dict.fromkeys(said))


def name_in_words(words: Words, conductor: BuiltConductor) -> Text:
    """`A-K1 red A3`; of like conductors without flags also its number, `A-K1 red #2`."""
    tail = conductor.name.removeprefix(f"{conductor.mark.cable} {conductor.mark.word}")
    parts: tuple[Said, ...] = (
        conductor.mark.cable,
        words.color(conductor.mark.word),
        *tail.split(),
    )
    return words.joined(parts, " ")
