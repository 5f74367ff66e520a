"""A text is written so that PyYAML reads just this text, in quotes only where it would not."""

from __future__ import annotations

import yaml

from cardgen.editing.quoting import written
from tests.editing.random_changes import WORDS, values_of

# In quotes although PyYAML's reader in C would not ask for it: other readers, and other places, do.
QUOTED_ALL_THE_SAME = {
    "": "nothing after a colon is not an empty text",
    "-": "alone it looks like the dash of a list",
    "a\tb": "a tab is not seen",
    "a\u00a0b": "our reader refuses what looks like a space and is none",
    "\ufeff": "as well",
    "a?": "in brackets, the reader in Python ends a value there",
    "---": "at the start of a line it ends the document",
    "...": "as well",
}


def test_each_text_is_read_back_at_every_kind_of_place() -> None:
    for word in WORDS:
        for quote in ("'", '"'):
            for always in (False, True):
                line = written(word, in_brackets=False, quote=quote, always=always)
                inside = written(word, in_brackets=True, quote=quote, always=always)
                text = f"a: {line}\n{line}: x\nb: [{inside}, {{{inside}: {inside}}}]\n- : y"
                text = text.removesuffix("\n- : y")
                assert values_of(text) == {"a": word, word: "x", "b": [word, {word: word}]}
                assert yaml.load(text, Loader=yaml.BaseLoader) == values_of(text)  # noqa: S506


def test_quotes_stand_only_where_the_plain_text_is_not_read_back() -> None:
    for word in WORDS:
        for in_brackets in (False, True):
            plain = f"a: [{word}, x]\n" if in_brackets else f"a: {word}\nb: x\n"
            read = [word, "x"] if in_brackets else word
            try:
                is_read = values_of(plain)["a"] == read
            except (yaml.YAMLError, TypeError, KeyError):
                is_read = False
            is_bare = written(word, in_brackets=in_brackets, quote='"') == word
            if word not in QUOTED_ALL_THE_SAME:
                assert is_bare == is_read, (word, in_brackets)


def test_what_the_file_uses_is_taken_where_it_can() -> None:
    cases = (
        ("a: b", '"', '"a: b"'),
        ("a: b", "'", "'a: b'"),
        ("'a'", "'", "'''a'''"),
        ('"a"', '"', "'\"a\"'"),
        ("a\nb", "'", '"a\\nb"'),
        ("\u00a0", "'", '"\\xa0"'),
    )
    for word, quote, said in cases:
        assert written(word, in_brackets=False, quote=quote) == said
