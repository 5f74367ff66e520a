"""Say how far a walk is: how many valves are measured, outside their band, not measured yet."""

from __future__ import annotations

from cardgen.record.judging import JudgedResults, newest
from cardgen.results import Kind, Outcome
from cardgen.server.job_context import JobContext
from cardgen.server.shared_terminals import speaks_of, with_mates


def overview(context: JobContext, results: JudgedResults) -> str:
    """How far the walk is: a valve is measured when something of today's wiring was read at it."""
    judged = [last for all_ in results.by_valve.values() for last in newest(all_).values()]
    done, outside = set(), set()
    for each in judged:
        if each.outdated_by is not None or each.measured.kind is Kind.NOT_REACHED:
            continue
        for valve in with_mates(context.now, each.measured.valve):
            if speaks_of(context.now, each.measured, valve):
                done.add(valve)
                if each.finding.outcome is Outcome.LOOK:
                    outside.add(valve)
    every = set(context.now.valve)
    done, outside = done & every, outside & every
    numbers = {"measured": len(done), "all": len(every), "outside": len(outside)}
    return context.text("overview", **numbers, left=len(every - done))
