"""Put what is wrong with a job into its rows and cells, with a button where the way out is sure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from cardgen.acknowledgment import entry_for
from cardgen.alike_problems import alike_problems
from cardgen.desk.cell_places import CellPlaces, GridCell
from cardgen.desk.grid_sections import SECTION
from cardgen.desk.node_lookup import value_at
from cardgen.desk.told_findings import told
from cardgen.faults.box_faults import STILL_UNKNOWN
from cardgen.faults.circuit_faults import HOT_MISSING
from cardgen.faults.value_faults import UNKNOWN_NAME
from cardgen.problems import Problem, Verdict
from cardgen.reading.nodes import Node

OPEN = "open"  # not known yet: a state of the work, no error of the job
OPEN_CODES = frozenset({HOT_MISSING.code, STILL_UNKNOWN.code})
_IN_LINES = ("\r\n", "\r")


def findings_of(
    problems: Iterable[Problem], root: Node | None, text: str, language: str
) -> list[dict[str, Any]]:
    """In the order of the file: `{"section": "stations", "row": "A7", "cell": "hot", ...}`.

    Each has the place of the `first` that is alike, under which it is listed, and the `name` in
    which it differs; its own place, if none is. What the job says is known is left out.
    """
    places, lines, found = CellPlaces(root), _lines(text), tuple(problems)
    listed = [problem for problem in found if not problem.known]
    alike = {
        each.index: {"first": first, "name": each.name}
        for first, members in alike_problems(listed).items()
        for each in members
    }
    shown = []
    for index, problem in enumerate(listed):
        cell = places.at(problem.span)
        ways = [*_ways(problem, cell, root, lines), *_known(problem, cell, found)]
        of = alike.get(index, {"first": index, "name": ""})
        shown.append({**_finding(problem, cell, language), "ways": ways, **of})
    return shown


def counts_of(problems: Iterable[Problem]) -> dict[str, int]:
    """How many errors, warnings and notes there are, and how many things are open."""
    counts = Counter(_verdict(problem) for problem in problems if not problem.known)
    return {name: counts[name] for name in (*map(str, Verdict), OPEN)}


def _finding(problem: Problem, cell: GridCell, language: str) -> dict[str, Any]:
    said = told(problem, language)
    return {
        "section": cell.section,
        "row": cell.row,
        "cell": "hot" if problem.code == HOT_MISSING.code else cell.key,
        "verdict": _verdict(problem),
        "code": problem.code,
        "sentence": said.sentence,
        "help": said.help,
        "lang": said.language,
        "line": problem.span.line,
    }


def _verdict(problem: Problem) -> str:
    return OPEN if problem.code in OPEN_CODES else str(problem.verdict)


def _ways(problem: Problem, cell: GridCell, root: Node | None, lines: list[str]) -> Iterator[Any]:
    """Only what is right whatever else is: another way out is told in words."""
    if problem.code == HOT_MISSING.code:
        yield {"do": "wires"}
    if problem.code == UNKNOWN_NAME.code:
        line, start = lines[problem.span.line - 1], problem.span.column - 1
        name = line[start : start + problem.span.length].strip("\"'")
        section = _names(cell)
        if name and section and value_at(root, section, name) is None:
            yield {"do": "add", "section": section, "name": name}


def _known(problem: Problem, cell: GridCell, found: Sequence[Problem]) -> Iterator[Any]:
    """A note that can be said to be known, by what `known` must say then."""
    if entry := entry_for(problem, found, cell.row):
        yield {"do": "known", "section": "known", "name": entry}


def _names(cell: GridCell) -> str:
    """The section in which what a cell names belongs; boxes alone need nothing more to be right."""
    if cell.section == "cables" and cell.key == "run":
        return "boxes"
    grid = SECTION.get(cell.section)
    column = grid.column_at(cell.key) if grid is not None else None
    return column.names if column is not None and column.names == "boxes" else ""


def _lines(text: str) -> list[str]:
    """As YAML counts them."""
    for ending in _IN_LINES:
        text = text.replace(ending, "\n")
    return [*text.split("\n"), ""]
