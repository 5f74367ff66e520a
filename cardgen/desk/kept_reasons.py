"""Why something was not done, kept so that a page can tell it later in its own language."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass, field
from typing import Any

from cardgen.alike_problems import told_once
from cardgen.problems import Problem, UserError, Verdict

_PLAIN = (str, int, float)
Value = str | int | float


@dataclass(frozen=True, slots=True, kw_only=True)
class Reason:
    """A problem or a refusal without its place.

    Attributes:
        sentence, help: in English.
        code, variant, values, things: of a problem, as it has them; a refusal has none.
        same_for: what else it says the same of.
    """

    sentence: str
    help: str = ""
    code: str = ""
    variant: str = ""
    values: Mapping[str, Value] = field(default_factory=dict)
    things: tuple[str, ...] = ()
    same_for: tuple[str, ...] = ()


def reason_of(fault: UserError) -> Reason:
    return Reason(sentence=fault.sentence, help=fault.help)


def reasons_of(problems: Iterable[Problem]) -> tuple[Reason, ...]:
    """The errors among them; those that are alike are one."""
    errors = [problem for problem in problems if problem.verdict is Verdict.ERROR]
    return tuple(
        Reason(
            sentence=problem.sentence,
            help=problem.help,
            code=problem.code,
            variant=problem.variant,
            values=dict(_plain(problem.values)),
            things=problem.things,
            same_for=tuple(dict.fromkeys(each.name for each in others)),
        )
        for problem, others in told_once(errors)
    )


def _plain(values: Mapping[str, object]) -> Iterator[tuple[str, Value]]:
    for name, value in values.items():
        yield name, value if isinstance(value, _PLAIN) else str(value)


# ---- as text -------------------------------------------------------------------------------


def as_json(reasons: Iterable[Reason]) -> str:
    return json.dumps([asdict(reason) for reason in reasons])


def from_json(text: str) -> tuple[Reason, ...]:
    """Raises:
    ValueError, TypeError: if it is nothing that was kept.
    """
    return tuple(_reason(each) for each in json.loads(text))


def _reason(found: Any) -> Reason:
    if isinstance(found, list):  # of an older desk, which kept the English words alone
        sentence, help_ = found
        return Reason(sentence=str(sentence), help=str(help_))
    lists = {name: tuple(found.get(name, ())) for name in ("things", "same_for")}
    return Reason(**{**found, **lists})
