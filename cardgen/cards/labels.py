"""The names of fields as a person is told them."""

from __future__ import annotations

from cardgen.words import Words, english

# What the name of a field ends in that stands beside another, and how that is said of it.
_ENDINGS = {"_short": "in short", "_title": "title of"}
_WHOLE = {"boxed_short": "boxed"}  # no card has both of them


def label(field: str, words: Words | None = None) -> str:
    """`hot` as it is, `boxed` as what stands in the frame; in the usual words, or in others.

    A field without a word of its own says itself what it holds.
    """
    said = words or english()
    field = _WHOLE.get(field, field)
    text = said.own("card fields", field)
    for ending, key in _ENDINGS.items():
        if field.endswith(ending):
            beside = said.own("card fields", field.removesuffix(ending))
            text = said(f"card fields.{key}", field=beside)
    return text.printed.replace("_", " ")
