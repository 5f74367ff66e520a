"""Say by digests what may run and show on a page, and read that back from a finished page."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterable
from functools import lru_cache
from html.parser import HTMLParser

NAME = "Content-Security-Policy"
_HEAD = 4096  # bytes in which a page of the record has said its policy


def digests(texts: Iterable[str]) -> str:
    """How a policy names styles or scripts (Content Security Policy Level 3)."""
    return " ".join(map(_digest, texts)) or "'none'"


def _digest(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def policy_of(page: bytes) -> str:
    """The policy that a page brings with it; empty if it brings none that fits into a header."""
    return _policy_in(page[:_HEAD])


@lru_cache(maxsize=512)
def _policy_in(head: bytes) -> str:
    reader = _PolicyReader()
    reader.feed(head.decode("latin-1"))
    return reader.policy if reader.policy.isascii() and reader.policy.isprintable() else ""


class _PolicyReader(HTMLParser):
    policy = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        said = dict(attrs)
        if tag == "meta" and said.get("http-equiv") == NAME and not self.policy:
            self.policy = said.get("content") or ""
