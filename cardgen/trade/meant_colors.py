"""Find the color that a person meant by a word that a job file does not take: `verde`, `grn/wht`.

Spanish names of conductor colors are those of the glossary, in both genders; short forms are common
practice, no source.
"""

from __future__ import annotations

import re

from cardgen.trade.colors import STROKE, Insulation, insulation

_OTHER_WORDS = {
    **dict.fromkeys(("negro", "negra", "blk", "blck"), "black"),
    **dict.fromkeys(("café", "cafe", "marrón", "marron", "brn", "brwn"), "brown"),
    **dict.fromkeys(("rojo", "roja"), "red"),
    **dict.fromkeys(("naranja", "anaranjado", "anaranjada", "org", "orn", "orng"), "orange"),
    **dict.fromkeys(("amarillo", "amarilla", "yel", "ylw", "yell"), "yellow"),
    **dict.fromkeys(("verde", "grn", "gn"), "green"),
    **dict.fromkeys(("azul", "blu"), "blue"),
    **dict.fromkeys(("celeste", "azul claro"), "light-blue"),
    **dict.fromkeys(("morado", "morada", "violeta", "vio", "pur", "purp"), "violet"),
    **dict.fromkeys(("gris", "gry"), "gray"),
    **dict.fromkeys(("blanco", "blanca", "wht", "whit"), "white"),
    **dict.fromkeys(("rosa", "rosado", "rosada", "pnk"), "pink"),
    **dict.fromkeys(("dorado", "dorada", "oro"), "gold"),
    **dict.fromkeys(("turquesa", "tqs"), "turquoise"),
    **dict.fromkeys(("plateado", "plateada", "plata"), "silver"),
    **dict.fromkeys(("canela", "habano"), "tan"),
}
# `green wire`, `white with black stripe`, `blanco con negro`
_NOISE = re.compile(
    r"\b(?:wires?|cables?|conductors?|color(?:ed)?|stripes?|tracer|alambres?|hilos?|raya)\b"
)
_STRIPE = re.compile(r"\s*(?:[/|\\+&-]|\bwith\b|\bcon\b|\band\b|\by\b)\s*")


def meant_color(words: str) -> Insulation | None:
    """One color or two; None where some word is no color in either language."""
    plain = " ".join(_NOISE.sub(" ", words.lower().replace("_", " ")).split())
    whole = insulation(_english(plain))
    if whole is not None:
        return whole
    parts = [_english(part.strip(" .")) for part in _STRIPE.split(plain) if part.strip(" .")]
    return insulation(STROKE.join(parts)) if 0 < len(parts) < 3 else None


def _english(word: str) -> str:
    return _OTHER_WORDS.get(word, word)
