"""Codes of catalogues of words."""

from __future__ import annotations

from cardgen.checks.explanations.model import error

ENTRIES = (
    error(
        "words-missing",
        "a language of one's own lacks texts",
        "A card half in one language and half in another is read wrongly by both crews.",
        "Begin with a copy of layouts/words/en.yaml and translate what is right of each ':'.",
        "colours:\n  red: rot",
        base="words",
    ),
    error(
        "words-values",
        "a text of a catalogue has other values in braces than the English one",
        "What stands in braces is filled in by the program: left out, a number is not printed.",
        "Keep every '{name}' of the English text, in any order, and add none.",
        'box tag:\n  splices: "muchos empalmes"',
        'box tag:\n  splices: "empalmes en esta caja: {number}"',
        base="words",
    ),
)
