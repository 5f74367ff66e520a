"""Report the keys of a block that are not known, and what was meant by them."""

from __future__ import annotations

import re
from collections.abc import Iterable

from cardgen.faults.value_faults import COMMA, UNKNOWN_KEY
from cardgen.reading import nodes
from cardgen.reading.nodes import Scalar, is_absent, short
from cardgen.reading.shapes.meant_numbers import meant_number
from cardgen.reading.shapes.report import Report
from cardgen.reading.shapes.spelling import nearest, nearest_one

LISTED = 16  # keys that a message names, so that it stays one


def report_unknown(
    what: str, known: list[str], entries: Iterable[nodes.KeyValue], report: Report
) -> set[str]:
    """Report keys that are not known; the keys that are meant or harmed by them.

    Those are reported with it, so nothing more is said about them.
    """
    there = [entry.key.text for entry in entries]
    meant: set[str] = set()
    before: nodes.KeyValue | None = None
    for entry in entries:
        key = entry.key.text
        if key not in known:
            joined = re.fullmatch(r"([^:=]*[^:=\s])\s*[:=]\s*(\S.*)", key)
            if joined and joined[1] in known and is_absent(entry.value):
                meant.add(joined[1])
                word, value = joined[1], short(joined[2])
                at, said = entry.key.span, f"{word}: {value}"
                report.add(UNKNOWN_KEY.at(at, variant="no space", key=word, meant=said))
            elif before is not None and _split_by_comma(before, entry):
                _report_comma(before, entry, report)
                meant.add(before.key.text)
            else:
                _report_key(what, entry, known, report)
                meant.add(nearest_one(key, [k for k in known if k not in there]) or key)
        before = entry
    return meant


def _split_by_comma(before: nodes.KeyValue, entry: nodes.KeyValue) -> bool:
    """`{area: lawn, west}`: what follows the comma is alone, in the same line."""
    same_line = before.key.span.line == entry.key.span.line
    return same_line and is_absent(entry.value) and isinstance(before.value, Scalar)


def _report_comma(before: nodes.KeyValue, entry: nodes.KeyValue, report: Report) -> None:
    first = before.value.text if isinstance(before.value, Scalar) else ""
    last = entry.key.text
    digits = re.match("[0-9.]+", last)
    meant = meant_number(f"{first},{digits[0]}") if digits and re.match("[0-9]", first) else ""
    if digits and meant:
        number, meant = f"{first},{short(last)}", short(meant + last[digits.end() :])
        report.add(COMMA.at(before.value.span, variant="split", number=number, meant=meant))
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
    suggestion = nearest(key, known) or f"it has {some}"
    report.add(UNKNOWN_KEY.at(entry.key.span, what=what, key=short(key), suggestion=suggestion))
