"""Report the keys of a block that are not known, and what was meant by them."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence

from cardgen.english_lists import english_list
from cardgen.faults.value_faults import COMMA, UNKNOWN_KEY
from cardgen.problems import Span
from cardgen.reading import nodes
from cardgen.reading.nodes import Scalar, is_absent, short
from cardgen.reading.shapes.meant_days import meant_days
from cardgen.reading.shapes.meant_numbers import meant_number
from cardgen.reading.shapes.other_keys import meant_key
from cardgen.reading.shapes.report import Report
from cardgen.reading.shapes.spelling import nearest, nearest_one
from cardgen.trade.meant_colors import meant_color

LISTED = 16  # keys that a message names, so that it stays one


def report_unknown(
    what: str,
    known: list[str],
    entries: Sequence[nodes.KeyValue],
    report: Report,
    lists: Collection[str] = (),
) -> set[str]:
    """Report keys that are not known; the keys that are meant or harmed by them.

    Those are reported with it, so nothing more is said about them.  `lists` are the keys that take
    several values in brackets.
    """
    there = [entry.key.text for entry in entries]
    meant: set[str] = set()
    joined: list[tuple[Span, str, str]] = []
    before: nodes.KeyValue | None = None
    for entry in entries:
        key = entry.key.text
        if key not in known:
            word, value = _joined(key, known, there) if is_absent(entry.value) else ("", "")
            if word:
                meant.add(word)
                joined.append((entry.key.span, word, f"{word}: {short(value)}"))
            elif before is not None and _split_by_comma(before, entry):
                if before.key.text in known:  # of several behind one another, the first
                    _report_comma(before, entry, bare_behind(entry, entries), lists, report)
                meant.add(before.key.text)
            else:
                _report_key(what, entry, known, report)
                left = [k for k in known if k not in there]
                meant.add(meant_key(key, left) or nearest_one(key, left) or key)
        before = entry
    _report_joined(joined, report)
    return meant


def _report_joined(joined: Sequence[tuple[Span, str, str]], report: Report) -> None:
    """Once for all of an entry: `{area=lawn, box=VB-1}`."""
    if len(joined) == 1:
        ((at, key, said),) = joined
        report.add(UNKNOWN_KEY.at(at, variant="no space", key=key, meant=said))
    elif joined:
        keys, meant = (english_list(f"'{each[part]}'" for each in joined) for part in (1, 2))
        report.add(UNKNOWN_KEY.at(joined[0][0], variant="no spaces", keys=keys, meant=meant))


def _joined(key: str, known: list[str], there: list[str]) -> tuple[str, str]:
    """`hot:red`, `hot= red` and, of a key that is not there, `hot red`: the key and its value."""
    joined = re.fullmatch(r"([^:=\uff1a]*[^:=\s\uff1a])\s*[:=\uff1a]\s*(\S.*)", key)
    if joined and joined[1] in known:
        return joined[1], joined[2]
    for word in sorted(known, key=len, reverse=True):
        value = key.removeprefix(f"{word} ")
        if value != key and word not in there:
            return word, re.sub("^[-\u2013\u2014;,.]+ *", "", value.strip())
    return "", ""


def bare_behind(entry: nodes.KeyValue, entries: Sequence[nodes.KeyValue]) -> list[str]:
    """The texts without a value from an entry on, in its line."""
    found = []
    for each in entries[entries.index(entry) :]:
        if not is_absent(each.value) or each.key.span.line != entry.key.span.line:
            break
        found.append(each.key.text)
    return found


def _split_by_comma(before: nodes.KeyValue, entry: nodes.KeyValue) -> bool:
    """`{area: lawn, west}`: what follows the comma is alone, in the same line."""
    same_line = before.key.span.line == entry.key.span.line
    return same_line and is_absent(entry.value) and isinstance(before.value, Scalar)


def _report_comma(
    before: nodes.KeyValue,
    entry: nodes.KeyValue,
    behind: list[str],
    lists: Collection[str],
    report: Report,
) -> None:
    first = before.value.text if isinstance(before.value, Scalar) else ""
    last = entry.key.text
    days = meant_days(f"{first}, {last}")
    if days:
        span = before.value.span
        report.add(COMMA.at(span, variant="split", number=f"{first}, {last}", meant=days[0]))
        return
    digits = re.match("[0-9.]+", last)
    meant = meant_number(f"{first},{digits[0]}") if digits and re.match("[0-9]", first) else ""
    if digits and meant:
        number, meant = f"{first},{short(last)}", short(meant + last[digits.end() :])
        report.add(COMMA.at(before.value.span, variant="split", number=number, meant=meant))
    elif before.key.text in lists:
        parts = [re.sub("^(?:then|and) ", "", part) for part in (first, *behind)]
        listed = short(", ".join(parts))
        span, first = entry.key.span, short(first)
        if len(parts) == 2 and all(" " not in part for part in parts) and meant_color(last):
            report.add(COMMA.at(span, variant="conductor", first=first, meant=" ".join(parts)))
        else:
            report.add(COMMA.at(span, variant="list", first=first, listed=listed))
    else:
        span, first, last = entry.key.span, short(first), short(last)
        report.add(COMMA.at(span, variant="text", first=first, last=last))


def _report_key(what: str, entry: nodes.KeyValue, known: list[str], report: Report) -> None:
    key = entry.key.text
    if key == "<<":
        report.add(UNKNOWN_KEY.at(entry.key.span, variant="merge", what=what))
        return
    more = f" and {len(known) - LISTED} more" if len(known) > LISTED else ""
    some = ", ".join(f"'{k}'" for k in known[:LISTED]) + more
    other = meant_key(key, known)
    suggestion = f"did you mean '{other}'?" if other else nearest(key, known) or f"it has {some}"
    report.add(UNKNOWN_KEY.at(entry.key.span, what=what, key=short(key), suggestion=suggestion))
