"""Find the stations that are remarks only because their number has a '#': `#3: {box: VB-1}`."""

from __future__ import annotations

import re
from collections.abc import Iterator

from cardgen.faults.file_faults import REMARK_IN_TEXT
from cardgen.problems import Problem, Span
from cardgen.reading.nodes import KeyValue, Mapping, Node, is_absent, short

# No station is called by a number alone, so this is none that was taken out of use.
_STATION = re.compile(r"^ +(#([0-9]{1,3})\s*:\s*\{).*$", re.MULTILINE)


def numbered_stations(text: str, root: Node | None, name: str) -> Iterator[Problem]:
    """One for each such line in the column of the stations, unless its station is there as well."""
    found = list(_STATION.finditer(text))
    if not found or not isinstance(root, Mapping):
        return
    for section, after in zip(root.entries, (*root.entries[1:], None), strict=True):
        if section.key.text != "stations":
            continue
        end = after.key.span.line if after else text.count("\n") + 2
        for line in found:
            number = text.count("\n", 0, line.start()) + 1
            at = Span(name, number, line.start(1) - line.start() + 1, len(line[1]))
            if section.key.span.line < number < end and _is_among(section, at):
                meant = f"{_controller(root, section, number)}{line[2]}"
                if meant not in _names(section):
                    yield REMARK_IN_TEXT.at(
                        at,
                        variant="station",
                        lost=short(line[0].strip()),
                        number=line[2],
                        meant=f"{meant}: {{",
                    )


def _is_among(section: KeyValue, at: Span) -> bool:
    """In the column of its stations; of a section without any, farther in."""
    if isinstance(section.value, Mapping) and section.value.entries:
        return at.column == section.value.entries[0].key.span.column
    return is_absent(section.value) and at.column > section.key.span.column


def _names(section: KeyValue) -> list[str]:
    entries = section.value.entries if isinstance(section.value, Mapping) else ()
    return [entry.key.text for entry in entries]


def _controller(root: Mapping, section: KeyValue, line: int) -> str:
    """That of the station above; else of the first station, or the first that there is."""
    entries = section.value.entries if isinstance(section.value, Mapping) else ()
    above = [entry.key.text for entry in entries if entry.key.span.line < line]
    names = (*reversed(above), *_names(section))
    stems = (name.rstrip("0123456789") for name in names if name[-1:].isdecimal())
    controllers = (
        entry.key.text
        for each in root.entries
        if each.key.text == "controllers" and isinstance(each.value, Mapping)
        for entry in each.value.entries
    )
    return next((name for name in (*stems, *controllers) if name), "A")
