"""A small job to lay wires in, and what is made of them in few words."""

from __future__ import annotations

from textwrap import dedent

from cardgen.examine import Examined
from cardgen.job import load_text
from cardgen.problems import Problem
from cardgen.wiring import make_up
from cardgen.wiring.wiring_parts import Leg, Step, ThroughContact, Wiring
from tests.jobs import examined, well_said

HEAD = """\
job: {code: WIRE-1, site: Wiring, revision: 1, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
coils: {usual: {supply: 24 V AC, resistance: 30 ohm}}
"""


def job(body: str, common: str = "K1 white") -> str:
    """A job with one controller A, whose common is given."""
    controller = f"A: {{place: wall, supply: 24 V AC, stations: 8, coil: usual, common: {common}}}"
    return f"{HEAD}controllers:\n  {controller}\n{dedent(body)}"


def wired(text: str) -> tuple[Wiring, tuple[Problem, ...]]:
    read, problems = load_text(text, "job.yaml")
    assert read is not None, problems
    wiring, faults = make_up(read)
    return wiring, tuple(well_said(problem) for problem in faults)


def said(text: str) -> list[str]:
    """Code and sentence of what making up the wiring finds."""
    return [f"{p.code}: {p.sentence}" for p in wired(text)[1]]


def joints(text: str, at: str) -> list[set[str]]:
    """What lies in each connector of a place, as `A-K1 red in`."""
    wiring, problems = wired(text)
    assert not problems
    return [
        {f"{end.of} {end.side}" for end in joint.ends} for joint in wiring.joints if joint.at == at
    ]


def ways(text: str) -> dict[str, str]:
    """By coil, its circuit as `A K1 red VB-1 | A K1 white VB-1`."""
    found: Examined = examined(text)
    return {
        name: f"{way(circuit.hot)} | {way(circuit.back)}"
        for name, circuit in found.circuits.items()
    }


def way(steps: tuple[Step, ...]) -> str:
    """Place, conductor, place and so on; a conductor stands once for all its legs in a row."""
    words: list[str] = []
    for step in steps:
        if isinstance(step, ThroughContact):
            words += [step.at, f"({step.sensor})"]
        elif isinstance(step, Leg):
            words += [step.start, step.conductor.name]
    last = [step.end for step in steps if isinstance(step, Leg)][-1:]
    return " - ".join((*words, *last))
