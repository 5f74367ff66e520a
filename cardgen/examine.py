"""Stages 1 to 5 in a row: turn a job file into circuits, readings and all that is wrong with it."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from cardgen.checks import check
from cardgen.checks.known_notes import with_known
from cardgen.electrics import ExpectedReading, StepTable, read_all, run_all
from cardgen.facts import Facts
from cardgen.gc_pause import gc_paused
from cardgen.job import load, load_text
from cardgen.job.job_loader import load_nodes
from cardgen.job.job_parts import Job
from cardgen.light_dataclass import dataclass
from cardgen.problems import Problem, has_errors, in_order
from cardgen.reading.nodes import Node
from cardgen.stages import Stage
from cardgen.wiring import Network, make_up, trace
from cardgen.wiring.wiring_parts import Circuit, Wiring


@dataclass(frozen=True, slots=True, kw_only=True)
class Examined:
    """A job with everything found out about it; empty where the file could not be read so far.

    Attributes:
        problems: all of them, in the order of the file.
    """

    job: Job | None
    problems: tuple[Problem, ...]
    facts: Facts | None = None

    @property
    def circuits(self) -> Mapping[str, Circuit]:
        return self.facts.circuits if self.facts else {}

    @property
    def readings(self) -> Mapping[str, ExpectedReading]:
        return self.facts.readings if self.facts else {}

    @property
    def wiring(self) -> Wiring | None:
        return self.facts.wiring if self.facts else None

    @property
    def network(self) -> Network | None:
        return self.facts.network if self.facts else None

    @property
    def has_errors(self) -> bool:
        return has_errors(self.problems)


def examine(path: Path) -> Examined:
    """Examine a job file; never raises for what a person wrote."""
    with gc_paused():
        return _examine(*load(path))


def examine_text(text: str, name: str = "job.yaml") -> Examined:
    """Examine the text of a job file; `name` is what problems call it."""
    with gc_paused():
        return _examine(*load_text(text, name))


def examine_nodes(root: Node, name: str) -> Examined:
    """Examine a text in which no fault was found when it was read into nodes."""
    with gc_paused():
        return _examine(*load_nodes(root, name))


def _examine(job: Job | None, problems: tuple[Problem, ...]) -> Examined:
    if job is None:
        return Examined(job=None, problems=in_order(problems))
    Stage.WIRING.begins()
    wiring, wiring_problems = make_up(job)
    network = Network(wiring)
    circuits = trace(wiring, network)
    Stage.ELECTRICS.begins()
    table = StepTable(network)
    readings = read_all(circuits, table)
    running = run_all(circuits, table)
    facts = Facts(
        job=job,
        wiring=wiring,
        network=network,
        circuits=circuits,
        readings=readings,
        running=running,
    )
    Stage.CHECKS.begins()
    found = in_order((*problems, *wiring_problems, *check(facts)))
    return Examined(
        job=job,
        problems=in_order(with_known(job, found)) if job.known else found,
        facts=facts,
    )
