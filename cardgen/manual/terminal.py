"""Turn a page of the manual into text for a terminal of 80 columns.

```
## Heading    -> the heading, underlined
paragraphs    -> wrapped; lists with their items set in
| a | b | c | -> - a: b (c), without the heads of the table
fenced code   -> as it is, set in by four
```
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import groupby
from textwrap import fill

WIDTH = 80
_SET_IN = "    "
_FENCE = "```"
_HEADING = re.compile(r"(#+) (.*)")
_ITEM = re.compile(r"- |\d+\. +")
_TYPED = re.compile(r"`[^`]{1,50}`")  # stays on one line, so that it can be copied
_NO_BREAK = "\u00a0"
_HEADS = (1, 2)  # rows of a table: its heads and the line under them


def as_text(markdown: str) -> str:
    """The page as it is shown."""
    shown: list[str] = []
    is_code = False
    for is_fence, lines in groupby(markdown.splitlines(), lambda line: line.startswith(_FENCE)):
        if is_fence:
            is_code = not is_code
        elif is_code:
            shown += [(_SET_IN + line).rstrip() for line in lines]
        else:
            shown += map(_shown, _blocks(lines))
    return "\n".join(shown).strip("\n")


def _blocks(lines: Iterator[str]) -> Iterator[str]:
    """Each heading, item, row and blank line by itself, the lines of a paragraph as one."""
    block, rows = "", 0
    for line in lines:
        rows = rows + 1 if line.startswith("|") else 0
        if rows in _HEADS:
            continue
        is_more = bool(line) and not (_HEADING.match(line) or _ITEM.match(line) or line[0] == "|")
        if is_more and block:
            block += " " + line.strip()
            continue
        if block:
            yield block
        if not line:
            yield ""
        block = line
    if block:
        yield block


def _shown(block: str) -> str:
    block = block.replace("**", "")
    heading = _HEADING.match(block)
    if heading:
        return f"{heading[2]}\n{('=' if heading[1] == '#' else '-') * len(heading[2])}"
    if block.startswith("|"):
        block = _row(block)
    item = _ITEM.match(block)
    wrapped = fill(
        _TYPED.sub(lambda typed: typed[0].replace(" ", _NO_BREAK), block),
        WIDTH,
        subsequent_indent=" " * (item.end() if item else 0),
        break_long_words=False,
        break_on_hyphens=False,
    )
    return wrapped.replace(_NO_BREAK, " ")


def _row(line: str) -> str:
    """A row of a table as an item."""
    first, *rest = (cell.strip() for cell in line.strip("|").split("|"))
    said = [cell for cell in rest if cell]
    more = f" ({'; '.join(said[1:])})" if said[1:] else ""
    return f"- {first}: {said[0]}{more}" if said else f"- {first}"
