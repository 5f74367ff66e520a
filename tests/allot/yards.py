"""Short jobs whose stations have no hot, and what they are given."""

from __future__ import annotations

from textwrap import dedent

from cardgen.allot import Allotment, allot
from cardgen.examine import examine_text
from cardgen.problems import Verdict
from tests.jobs import well_said

HEAD = """\
job: {code: DEMO-1, site: Demo Court, revision: 2, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
coils:
  usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A, minimum: 20 V}
"""


def job(text: str) -> str:
    """The text under the sections that are the same in every job."""
    return HEAD + dedent(text).lstrip("\n")


def given(text: str) -> dict[str, list[str]]:
    """By station the conductors that it is given, with the new job seen to be sound."""
    found = allot(text)
    assert [p.sentence for p in found.problems] == []
    assert found.text is not None
    after = examine_text(found.text)
    assert [p for p in after.problems if p.verdict is Verdict.ERROR] == []
    assert all(leg.needs <= leg.has for leg in found.legs)
    return {name: [c.name for c in way.conductors] for name, way in found.ways.items()}


def refused(text: str) -> Allotment:
    """What is found where there is no way, with every problem fit for a person."""
    found = allot(text)
    assert found.text is None and not found.ways
    assert found.problems
    for problem in found.problems:
        well_said(problem)
    return found


def sentences(text: str) -> list[str]:
    return [f"{p.code}: {p.sentence}" for p in refused(text).problems]
