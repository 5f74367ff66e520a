"""Hold what is said, printed and published of a yard against the tracer: differences in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import make_print
from cardgen.output.recording import RecordRequest, make_record
from cardgen.output.selection import Selection
from cardgen.problems import Verdict
from tests.oracle import record_pages, said
from tests.oracle.cases import Case
from tests.oracle.compare import apart
from tests.oracle.read_back import Reader
from tests.oracle.truth import Flag, Row, Truth

_NO_FOLDER = Path("/nowhere")  # no record was published before
_NO_ROOM = "text-too-long"
# What is read back; nothing else of a print is compared here.
READ = ("wire-flags", "door-legend", "splice-cards", "spare-list", "wiring-drawing", "packet")


def cards_differ(case: Case) -> list[str]:
    """The fields of all cards and the outline of the drawing."""
    truth = Truth(case.traced)
    flags = (
        (head, mark, (way, other), at) for head, mark, at, way, other in said.flags(case.printable)
    )
    return [*_rows(said.rows(case.printable), truth.rows()), *_flags(truth.flags(), flags)]


def record_differs(case: Case) -> list[str]:
    """The pages of boxes and the list of spares."""
    truth = Truth(case.traced)
    record, problems = make_record(case.examined, _NO_FOLDER, RecordRequest())
    if record is None:  # the drawing has no room for a word: no page is published
        assert {p.code for p in problems if p.verdict is Verdict.ERROR} == {_NO_ROOM}, problems
        return []
    read = record_pages.rows(record.files, truth)
    valves = read.pop("valves")
    return [*_rows(read, truth.record()), *_valves(truth, valves)]


def print_differs(case: Case) -> list[str] | None:
    """The text of the PDFs; None where something has no room on its card: nothing is printed."""
    files = files_of(case)
    return None if files is None else files_differ(case, files)


def files_of(case: Case) -> Mapping[str, bytes] | None:
    made, problems = make_print(case.examined, PrintRequest(selection=Selection(only=READ)))
    if made is None:
        assert {p.code for p in problems if p.verdict is Verdict.ERROR} == {_NO_ROOM}, problems
        return None
    return made.files


def files_differ(case: Case, files: Mapping[str, bytes]) -> list[str]:
    truth = Truth(case.traced)
    reader = Reader(truth.names, files)
    rows, read = truth.rows(), reader.rows()
    # A flag does not say where it hangs; it is read from both its sides.
    flags = ((head, mark, (way, other), "") for head, mark, way, other in reader.flags())
    twice = [flag._replace(at="") for flag in truth.flags() for _ in range(2)]
    return [*_rows(read, {name: rows[name] for name in read}), *_flags(twice, flags)]


def _rows(read: Mapping[str, list[Row]], truth: Mapping[str, list[Row]]) -> Iterator[str]:
    assert read.keys() == truth.keys()
    for name, rows in truth.items():
        yield from apart(name, read[name], rows)


def _flags(
    wanted: Iterable[Flag], found: Iterable[tuple[frozenset[str], str, tuple[str, str], str]]
) -> Iterator[str]:
    """Each flag once, none too many."""
    left = list(found)
    for flag in wanted:
        for each in left:
            head, mark, (way, other), at = each
            alike = (head, mark, at) == (flag.headline, flag.mark, flag.at)
            if alike and way in flag.ways and other in flag.seconds:
                left.remove(each)
                break
        else:
            yield f"flag: missing {flag}"
    yield from (f"flag: too many {each}" for each in left)


def _valves(truth: Truth, read: Iterable[Row]) -> Iterator[str]:
    """One of its conductors, where the metal forks."""
    rows = {str(row[1]): row for row in read}
    yield from apart("valve", rows, truth.traced.circuits)
    for load in truth.traced.loads.values():
        for valve, box in load.valves.items():
            circuit = truth.traced.circuits[valve]
            at, _, hot, terminal, first, back = rows[valve]
            lands = f"controller {load.controller}, terminal {load.terminal}"
            yield from apart(f"place of {valve}", [at, terminal], [box, lands])
            for what, mark, metal in (
                ("hot", hot, circuit.hot_at_valve),
                ("hot at the controller", first, circuit.hot_at_controller),
                ("way back", back, circuit.back_at_valve),
            ):
                if mark not in {truth.names.mark[name] for name in metal}:
                    yield f"{what} of {valve}: page {mark}, metal {sorted(metal)}"
