"""Random yards that the program takes, each with what the tracer and the program make of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from itertools import count, islice

from cardgen.cards import Printable
from cardgen.examine import Examined, examine_text
from cardgen.output.as_printable import as_printable
from cardgen.problems import Verdict
from tests.oracle.tracer import Traced
from tests.oracle.yards import Yard, random_yard


@dataclass(frozen=True, kw_only=True, slots=True)
class Case:
    """A yard without errors."""

    yard: Yard
    traced: Traced
    examined: Examined = field(repr=False)
    printable: Printable = field(repr=False)


def case(seed: int) -> tuple[Case | None, frozenset[str]]:
    """The yard of a seed, or None with the codes of what the program says is wrong in it."""
    yard = random_yard(seed)
    examined = examine_text(yard.text)
    printable = as_printable(examined)
    if printable is None:
        errors = (p.code for p in examined.problems if p.verdict is Verdict.ERROR)
        return None, frozenset(errors)
    return Case(
        yard=yard, traced=Traced(yard.text), examined=examined, printable=printable
    ), frozenset()


def cases(refused: Counter[str] | None = None) -> Iterator[Case]:
    """One after the other; `refused` counts the codes of those between."""
    for seed in count():
        found, codes = case(seed)
        if refused is not None:
            refused.update(codes)
        if found is not None:
            yield found


@cache
def _more_cases() -> tuple[list[Case], Iterator[Case]]:
    return [], cases()


def first_cases(number: int) -> Sequence[Case]:
    """As `cases` has them; each is made once, however many are asked for."""
    made, others = _more_cases()
    made += islice(others, max(number - len(made), 0))
    return made[:number]
