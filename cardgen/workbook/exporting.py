"""Turn the text of a job into the sheets of a workbook, with those that are worked out."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from cardgen.asbuilt import as_built
from cardgen.examine import examine_text
from cardgen.job.job_loader import load_text
from cardgen.problems import Problem, has_errors
from cardgen.reading.parse import parse
from cardgen.words import english
from cardgen.workbook.as_exported import AS_EXPORTED, as_exported_rows
from cardgen.workbook.plain_list import plain_list
from cardgen.workbook.sheets_out import Rows, sheets_of
from cardgen.workbook.worked_out import WORKED_OUT, worked_out_sheets


@dataclass(frozen=True, slots=True, kw_only=True)
class ExportedJob:
    """Attributes:
    sheets: by name their rows; none where the job cannot be read.
    stations: as one list, of which nothing else need be read.
    without: the sheets that cannot be worked out while the job has errors.
    """

    sheets: dict[str, Rows]
    problems: tuple[Problem, ...]
    without: tuple[str, ...] = ()
    stations: Rows = field(default_factory=list)


def exported(text: str, name: str) -> ExportedJob:
    job, problems = load_text(text, name)
    root, _ = parse(text, name)
    if job is None or root is None or has_errors(problems):
        return ExportedJob(sheets={}, problems=problems)
    sheets = sheets_of(root)
    stations = plain_list(root, sheets["stations"])
    sheets[AS_EXPORTED] = as_exported_rows(text)
    found = ExportedJob(sheets=sheets, problems=problems, stations=stations)
    examined = examine_text(text, name)
    if examined.facts is None or examined.has_errors:
        return replace(found, without=WORKED_OUT)
    more = worked_out_sheets(as_built(examined.facts, examined.problems), english())
    return replace(found, sheets={**found.sheets, **more})
