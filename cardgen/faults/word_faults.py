"""Faults of catalogues of words."""

from __future__ import annotations

from cardgen.faults.fault import ERROR, Fault

WORDS_MISSING = Fault(
    code="words-missing",
    verdict=ERROR,
    title="a language you added lacks texts",
    sentence="the language '{language}' lacks {count} texts, the first is '{first}'",
    way_out="copy them from layouts/words/en.yaml and translate them",
    why="A card half in one language and half in another is read wrongly by both crews.",
    fix="Begin with a copy of layouts/words/en.yaml and translate what is right of each ':'.",
    wrong="# layouts/words/de.yaml\ncolors:\n  red: rot",
    right="# layouts/words/es.yaml\ncolors:\n  red: colorado",
    base="words",
)

WORDS_VALUES = Fault(
    code="words-values",
    verdict=ERROR,
    title="a text in a words file has other values in braces than the English one",
    sentence="'{key}' leaves out {less}",
    way_out="the program fills in what is in braces: keep it, in any order",
    variants={
        "other": "'{key}' leaves out {less} and has {more} instead",
        "more": "'{key}' has no {more} in English",
        "braces": (
            "a brace here is not closed, or has more than a name in it",
            "write '{{name}}', as in en.yaml",
        ),
    },
    why="The program fills in what is in braces: left out, a number is not printed.",
    fix="Keep every '{name}' of the English text, in any order, and add none.",
    wrong='# layouts/words/es.yaml\nbox tag:\n  decoder: "decodificador"',
    right='# layouts/words/es.yaml\nbox tag:\n  decoder: "decodificador n.º {address}"',
    base="words",
)
