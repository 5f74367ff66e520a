"""Build HTML from typed elements: text is escaped wherever it goes, so a job cannot add markup.

Our own few lines rather than a library of templates: the pages are small, every part is a function
that mypy reads, and there is no way to forget the escaping.  Only `Markup` goes out as it is.
"""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from re import compile as pattern
from typing import TypeAlias

from cardgen.words import Said, printed

# HTML 13.1.2, "void elements": those of them in use here.
_VOID = frozenset(("br", "hr", "img", "input", "link", "meta"))
# What no HTML document may hold, and what turns the direction of the text around it.
_FORBIDDEN = pattern(
    "[^\t\n\u0020-\u007e\u00a0-\u200d\u2010-\u2029\u2030-\u2065\u2070-\ud7ff"
    "\ue000-\ufdcf\ufdf0-\ufffd\U00010000-\U0001fffd]"
)


@dataclass(frozen=True, slots=True)
class Markup:
    """Text that is HTML already: made by an element, or a constant of ours."""

    text: str


Child: TypeAlias = "Said | Markup | None"
Value: TypeAlias = "Said | bool | None"


def element(name: str, /, *children: Child, **attributes: Value) -> Markup:
    """An element; `class_` and `data_root` stand for `class` and `data-root`.

    An attribute that is False or None is left out, one that is True has no value.
    """
    shown = "".join(
        f" {_attribute(key)}" if value is True else f' {_attribute(key)}="{_escaped(value)}"'
        for key, value in attributes.items()
        if value is not None and value is not False
    )
    if name in _VOID:
        assert not children
        return Markup(f"<{name}{shown}>")
    return Markup(f"<{name}{shown}>{joined(*children).text}</{name}>")


def joined(*children: Child) -> Markup:
    """Children one after the other; None is nothing."""
    return Markup(
        "".join(
            child.text if isinstance(child, Markup) else _escaped(child)
            for child in children
            if child is not None
        )
    )


def _attribute(key: str) -> str:
    return key.removesuffix("_").replace("_", "-")


def _escaped(text: Said | bool) -> str:
    assert not isinstance(text, bool)
    return escape(_FORBIDDEN.sub("\ufffd", printed(text)), quote=True)
