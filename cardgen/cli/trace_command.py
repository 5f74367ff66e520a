"""`cardgen trace JOB [STATION ...]`: circuits segment by segment."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass

from cardgen.cli import traces
from cardgen.cli.options import JobOptions
from cardgen.cli.telling import ERRORS, exit_code, tell
from cardgen.examine import examine
from cardgen.problems import UserError, Verdict
from cardgen.reading.shapes import nearest


@dataclass(frozen=True, kw_only=True)
class Options(JobOptions):
    """Attributes:
    stations: only these; empty for all.
    """

    stations: Sequence[str]


def run(options: Options) -> int:
    examined = examine(options.job_file)
    if examined.facts is None:
        tell(examined.problems, options)
        return ERRORS
    loads = list(examined.facts.wiring.loads.values())
    names = dict.fromkeys(name for load in loads for name in (load.id, load.owner.id))
    job = examined.facts.job
    written = {*names, *job.stations, *job.master_valves, *job.relays}
    strange = next((name for name in options.stations if name not in written), None)
    if strange is not None:
        way_out = nearest(strange, names) or "'cardgen trace JOB' shows all"
        raise UserError(f"the job has no station '{strange}'", way_out)
    if options.stations:
        loads = [load for load in loads if {load.id, load.owner.id} & set(options.stations)]
    for name in options.stations:
        if name not in names:
            print(f"{name} cannot be traced: fix the errors first", file=sys.stderr)
    show = traces.as_json if options.format == "json" else traces.as_text
    print(show(examined.facts, loads))
    tell([p for p in examined.problems if p.verdict is Verdict.ERROR], options)
    return exit_code(examined)
