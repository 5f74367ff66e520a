"""Find passwords: whatever word follows one that announces it."""

from __future__ import annotations

import re
from collections.abc import Iterator

from cardgen.trade.private_text import known
from cardgen.trade.private_text.innocent import OPENED
from cardgen.trade.private_text.normal_text import NEAR, Clause, NormalText, Word

_SKIPPED = known.LINKS | known.NETWORKS | known.TRADE | OPENED


def passwords(text: NormalText) -> Iterator[tuple[int, int]]:
    """`password heron`, `wifi ... pass greenlawn`; then `wifi: sunset-88`, which has no word."""
    for announces, said in ((_is_password, said_after), (_is_network, _mixed_after)):
        for clause in text.clauses:
            for index, word in enumerate(clause):
                found = said(clause, index) if announces(clause, index) else None
                if found is not None:
                    rest = re.compile(r"\S*").match(text.plain, found.end)
                    assert rest is not None  # it may be empty
                    yield word.start, rest.end()


def _is_network(clause: Clause, index: int) -> bool:
    return clause[index].among(known.NETWORKS)


def _is_password(clause: Clause, index: int) -> bool:
    word = clause[index]
    networks = any(w.among(known.NETWORKS) for w in clause[max(index - NEAR, 0) : index])
    after = clause[index + 1 : index + 2]
    return (
        word.among(known.PASSWORDS)
        or (networks and word.among(known.NETWORK_KEYS))
        or (word.among(known.CODES) and _is_of_network(clause[index + 1 :]))
        or (word.among(known.LOGINS) and any(w.is_told for w in after))
        or (word.text == "pass" and any(w.is_mixed for w in after))
    )


def _is_of_network(after: Clause) -> bool:
    """`clave del wifi`."""
    first = next((word for word in after if not word.among(known.LINKS)), None)
    return first is not None and first.among(known.NETWORKS)


def said_after(clause: Clause, index: int) -> Word | None:
    """The password; None where the words say only that there is one, or where it is kept."""
    for at in range(index + 1, len(clause)):
        word, next_ = clause[at], clause[at + 1 : at + 2]
        if word.among(known.CHANGED) and any(w.text in known.CHANGED_TO for w in next_):
            continue
        if word.text in known.CHANGED_TO and clause[at - 1].among(known.CHANGED):
            continue
        if is_elsewhere(word):
            return None
        if not word.among(_SKIPPED) and len(word.text) > 2:
            return word
    return None


def is_elsewhere(word: Word) -> bool:
    """It says where a secret is kept, or that it is not said here."""
    return word.text in known.ELSEWHERE or word.text.startswith(known.ELSEWHERE_STEMS)


def _mixed_after(clause: Clause, index: int) -> Word | None:
    return next((word for word in clause[index + 1 : index + 1 + NEAR] if word.is_mixed), None)
