"""The manual says what the program does."""

from __future__ import annotations

import re
from pathlib import Path

from cardgen.faults.explain import table

README = Path(__file__).parents[1] / "README.md"


def test_the_readme_lists_every_code() -> None:
    text = README.read_text(encoding="utf-8")
    match = re.search(r"<!-- codes -->\n(.*?)\n<!-- /codes -->", text, re.DOTALL)
    assert match, "no table of codes between '<!-- codes -->' and '<!-- /codes -->'"
    assert match[1].strip() == table()
