"""Mark the notes that the job says are known, so that they are not told on every run."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardgen.acknowledgment import meant_by, names_of
from cardgen.english_lists import english_list
from cardgen.faults.known_faults import KNOWN
from cardgen.job.job_parts import Job
from cardgen.light_dataclass import replace
from cardgen.problems import Problem, Verdict, has_errors
from cardgen.reading.shapes import Written, nearest


def with_known(job: Job, problems: Sequence[Problem]) -> tuple[Problem, ...]:
    """All problems, the acknowledged ones marked, and what is acknowledged in vain.

    Only notes can be: an error must be put right, and a warning is to cost somebody something.
    """
    known: set[int] = set()
    wrong: list[Problem] = []
    for said in job.known:
        owner = said.value.partition(" ")[2]
        of_code, meant = meant_by(said.value, problems)
        fault = next(_in_vain(said, owner, of_code, meant, problems), None)
        if fault is None:
            known.update(id(p) for p in meant)
        elif not has_errors(problems) or meant:  # an error may hide the note that is meant
            wrong.append(fault)
    marked = (replace(p, known=True) if id(p) in known else p for p in problems)
    return (*marked, *wrong)


def _in_vain(
    said: Written[str],
    owner: str,
    of_code: Sequence[Problem],
    meant: Sequence[Problem],
    problems: Sequence[Problem],
) -> Iterator[Problem]:
    strict = next((p for p in meant if p.verdict is not Verdict.NOTE), None)
    if strict is not None:
        yield KNOWN.at(
            said.span, variant="not a note", code=strict.code, verdict=_a(strict.verdict)
        )
    elif not meant and of_code:
        names = english_list(sorted(set().union(*(names_of(p) for p in of_code))))
        yield KNOWN.at(said.span, variant="other owner", text=said.value, names=names)
    elif not meant:
        codes = sorted({p.code for p in problems if p.verdict is Verdict.NOTE})
        way_out = nearest(said.value.partition(" ")[0], codes) or "take it out of 'known'"
        yield KNOWN.at(said.span, text=said.value, way_out=way_out)
    elif not owner and len(meant) > 1:
        names = english_list(sorted(set().union(*(names_of(p) for p in meant))))
        yield KNOWN.at(said.span, variant="several", code=said.value, count=len(meant), names=names)


def _a(verdict: Verdict) -> str:
    return f"{'an' if verdict is Verdict.ERROR else 'a'} {verdict}"
