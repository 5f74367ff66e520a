"""Faults of catalogues of words."""

from __future__ import annotations

from cardgen.faults.fault import ERROR, Fault

WORDS_MISSING = Fault(
    code="words-missing",
    verdict=ERROR,
    title="a language of one's own lacks texts",
    why="A card half in one language and half in another is read wrongly by both crews.",
    fix="Begin with a copy of layouts/words/en.yaml and translate what is right of each ':'.",
    wrong="colours:\n  red: rot",
    right="",
    base="words",
)

WORDS_VALUES = Fault(
    code="words-values",
    verdict=ERROR,
    title="a text of a catalogue has other values in braces than the English one",
    why="What stands in braces is filled in by the program: left out, a number is not printed.",
    fix="Keep every '{name}' of the English text, in any order, and add none.",
    wrong='box tag:\n  splices: "muchos empalmes"',
    right='box tag:\n  splices: "empalmes en esta caja: {number}"',
    base="words",
)
