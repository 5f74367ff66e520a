"""Whatever goes wrong, a page has words for it in every language."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from cardgen.server import data_faults as faults
from cardgen.server.words import words_in
from cardgen.words import languages

ERRORS = ("HttpError", "Refusal")
SERVER = Path(faults.__file__).parent


def refusals() -> set[str]:
    """The name of each refusal that the server can give."""
    found = set()
    for module in SERVER.glob("*.py"):
        for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") in ERRORS:
                names = [node.args[1]]
                if isinstance(names[0], ast.IfExp):
                    names = [names[0].body, names[0].orelse]
                found |= {ast.literal_eval(name) for name in names}
    return found


@pytest.mark.parametrize("language", languages())
def test_every_refusal_has_a_title_a_sentence_and_a_way_out(language: str) -> None:
    words = words_in(language)
    assert {"not here", "forged", "large", "slow", "not stored", "not shown"} <= refusals()
    missing = [
        name + part
        for name in refusals()
        for part in ("", " title", " help")
        if not words.has(f"refusal.{name}{part}")
    ]
    assert missing == []


@pytest.mark.parametrize("language", languages())
def test_every_fault_of_the_data_file_has_its_words(language: str) -> None:
    words = words_in(language)
    for kind in faults._SAID:
        assert words(f"data fault.{kind}")
        assert words(f"data fault.{kind} help")
    assert set(faults._KINDS.values()) < set(faults._SAID)
