"""Report the keys of a block that are not known, and what was meant by them."""

from __future__ import annotations

import re
from collections.abc import Iterable

from cardgen.reading import nodes
from cardgen.reading.nodes import Scalar, is_absent, short
from cardgen.reading.shapes.report import Report
from cardgen.reading.shapes.spelling import nearest, nearest_one


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
            if before is not None and _split_by_comma(before, entry):
                _report_comma(before, entry, report)
                meant.add(before.key.text)
            else:
                _report_key(what, entry, known, report)
                meant.add(nearest_one(key, [k for k in known if k not in there]) or key)
        before = entry
    return meant


def _split_by_comma(before: nodes.KeyValue, entry: nodes.KeyValue) -> bool:
    """`{area: lawn, west}`: what follows the comma stands alone, in the same line."""
    same_line = before.key.span.line == entry.key.span.line
    return same_line and is_absent(entry.value) and isinstance(before.value, Scalar)


def _report_comma(before: nodes.KeyValue, entry: nodes.KeyValue, report: Report) -> None:
    first = before.value.text if isinstance(before.value, Scalar) else ""
    last = entry.key.text
    if re.fullmatch("[0-9]+", first) and re.match("[0-9]", last):
        sentence = f"the comma splits '{first},{short(last)}' in two"
        help_ = f"write a point: '{first}.{short(last)}'"
        report.error(before.value.span, "comma", sentence, help_)
    else:
        sentence = f"'{short(last)}' stands alone after a comma"
        help_ = f"put the whole value in quotes: '{short(first)}, {short(last)}'"
        report.error(entry.key.span, "comma", sentence, help_)


def _report_key(what: str, entry: nodes.KeyValue, known: list[str], report: Report) -> None:
    help_ = nearest(entry.key.text, known) or "it has " + ", ".join(f"'{k}'" for k in known)
    if entry.key.text == "<<":
        help_ = "write the keys out; merging is not part of a job file"
    sentence = f"{what} has no key '{short(entry.key.text)}'"
    report.error(entry.key.span, "unknown-key", sentence, help_)
