"""Turn a job file into a Job: read every section, then see that each name refers to something."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from cardgen.job import fields, job_parts
from cardgen.job.order_fields import REELS, SLACK, USUAL
from cardgen.job.references import resolve
from cardgen.light_dataclass import replace
from cardgen.problems import Problem, Span
from cardgen.reading import files, parse
from cardgen.reading.nodes import Node
from cardgen.reading.shapes import (
    IDENTIFIER,
    TEXT,
    BlockShape,
    Field,
    ListOf,
    Report,
    SaidShape,
    Schema,
    Shape,
    TableOf,
)
from cardgen.stages import Stage


def _section(
    key: str, record: BlockShape[Any], help_: str, name: Shape[str] = fields.PRINTED_NAME
) -> Field[Any]:
    return Field(key, TableOf(f"the section '{key}'", name, record), default={}, help=help_)


class BareEntry(BlockShape[Any]):
    """An entry that is one value, not a block of keys."""

    def __init__(self, what: str, key: str, shape: Shape[Any]) -> None:
        super().__init__(what, _bare, Field(key, shape))

    def values(self, node: Node, at: Span, report: Report) -> dict[str, Any] | None:
        value = self.fields[0].shape.read(node, at, report)
        return None if value is None else {self.fields[0].attribute: value}

    def schema(self) -> Schema:
        return self.fields[0].shape.schema()


def _bare(*, id: str, span: Span, **values: Any) -> Any:
    if "joints" in values:
        return job_parts.WrittenJoints(id=id, span=span, joints=values["joints"])
    return values["colors"]


TOP: BlockShape[Any] = BlockShape(
    "the job file",
    dict,
    Field("job", fields.JOB_INFO, required=True, help="code, site, revision, date", into="info"),
    Field(
        "record",
        fields.RECORD_INFO,
        help="address and key of the job record; without it nothing has a code",
    ),
    _section("palettes", BareEntry("a palette", "colors", fields.PALETTE), "colors of each cable"),
    _section("coils", fields.COIL, "data of each kind of coil"),
    _section("connectors", fields.CONNECTOR, "what each connector takes, smallest first"),
    _section("controllers", fields.CONTROLLER, "by name; station 1 of A is A1"),
    _section("cables", fields.CABLE, "cables and bundles of singles, by name"),
    _section("boxes", fields.BOX, "valve boxes and other boxes, by name"),
    _section("stations", fields.STATION, "by controller and terminal: A1", fields.STATION_NAME),
    _section("master valves", fields.MASTER_VALVE, "valves that run with every station"),
    _section("relays", fields.RELAY, "pump start relays"),
    _section("decoders", fields.DECODER, "on a two-wire path"),
    _section("sensors", fields.SENSOR, "rain and flow sensors"),
    _section("spares", fields.SPARE, "spare conductors that are reserved somewhere"),
    _section("pigtails", fields.PIGTAIL, "short wires from connector to connector or terminal"),
    _section(
        "joints",
        BareEntry("the joints", "joints", fields.JOINTS),
        "the joints of a box as built; boxes left out are made up the usual way",
        IDENTIFIER,  # of a box, which was looked at where it got its name
    ),
    Field(
        "surge units",
        ListOf(SaidShape(IDENTIFIER), what="a list of boxes", example="[DX-2, DX-4]", section=True),
        default=(),
        help="boxes with a surge unit on the two-wire path",
    ),
    Field("slack", SLACK, default=USUAL, help="how much longer wire is ordered than its run"),
    Field(
        "reels",
        REELS,
        default=(),
        help="reels on which wire is sold, by which its lengths are rounded: [500 ft, 1000 ft]",
    ),
    Field(
        "known",
        ListOf(
            SaidShape(TEXT),
            what="a list of notes",
            example="[several-commons A]",
            single=True,
            section=True,
        ),
        default=(),
        help="notes that are known and not told again, by code and owner: [several-commons A]",
    ),
    Field(
        "changes",
        ListOf(
            fields.CHANGE,
            what="a list of changes",
            example="- {revision: 1, date: 2026-03-14, text: first issue}",
            section=True,
        ),
        default=(),
        help="change log",
    ),
)


def load(path: Path) -> tuple[job_parts.Job | None, tuple[Problem, ...]]:
    """The job in a file, or None where too little of it can be read to say more."""
    text, problems = files.read_text(path)
    if text is None:
        return None, problems
    job, more = load_text(text, str(path))
    return job, (*problems, *more)


def load_text(text: str, name: str) -> tuple[job_parts.Job | None, tuple[Problem, ...]]:
    """The job in a text; `name` is what problems call the file."""
    Stage.READING.begins()
    root, problems = parse(text, name)
    return (None, problems) if root is None else load_nodes(root, name, problems)


def load_nodes(
    root: Node, name: str, problems: tuple[Problem, ...] = ()
) -> tuple[job_parts.Job | None, tuple[Problem, ...]]:
    """The job in nodes, wherever they are from; `problems` were found while reading them."""
    report = Report(problems=list(problems))
    Stage.JOB.begins()
    values, _ = TOP.readable(root, root.span, report)
    sections = {key: value for key, value in values.items() if key not in ("info", "record")}
    if not values or any(value is None for value in sections.values()):
        return None, tuple(report.problems)  # with a section gone, the rest would be guesswork
    job = job_parts.Job(
        file=name, reported=frozenset(report.reported), texts=tuple(report.printed), **values
    )
    resolve(job, report)
    return replace(job, reported=frozenset(report.reported)), tuple(report.problems)


def schema() -> Schema:
    """The JSON Schema of a job file, from the same table as the reader."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "cardgen job",
        **TOP.schema(),
    }
