"""Show a diagnosis to a person as text, or to another program as JSON."""

from __future__ import annotations

import json
import math
import textwrap
from collections.abc import Iterable, Iterator
from dataclasses import fields, is_dataclass
from typing import Any

from cardgen.advice import Advice, AdvisedStep, ToldSuspect, cautions_of
from cardgen.advice.way_stops import off_in_words
from cardgen.cards import Printable
from cardgen.output.diagnosing import DiagnosedJob, DiagnosedPart
from cardgen.words import Said, Words, printed

WIDTH = 88  # letters of a line


def as_text(made: DiagnosedJob) -> str:
    """Part by part the verdict, suspects, what to measure next, what is cleared and excluded."""
    words, lines = made.printable.words, [made.printable.asbuilt.site, printed(made.dates)]
    if not made.parts:
        lines += ["", *_wrapped([words("diagnosis.nothing counts")])]
    for part in made.parts:
        if len(made.parts) > 1:
            lines += _heading(words, part.advice)
        lines += _part(made.printable, part)
    return "\n".join(lines)


def _heading(words: Words, advice: Advice) -> list[str]:
    """`CONTROLLER A`, underlined."""
    title = printed(words("terms.controller", controller=words.list_of(advice.controllers)))
    return ["", "", title, "=" * len(title)]


def _part(printable: Printable, part: DiagnosedPart) -> list[str]:
    words, advice = printable.words, part.advice
    lines = ["", *_wrapped(advice.verdict)]
    lines += _listed("", (off_in_words(words, value) for value in advice.off))
    if advice.suspects:
        lines += ["", printed(words("diagnosis.suspects"))]
        lines += [line for suspect in advice.suspects for line in _suspect(suspect)]
        lines += _wrapped([words("diagnosis.weights"), words("diagnosis.code")])
    for title, steps in (("next", advice.steps[:1]), ("after that", advice.other_steps)):
        if steps:
            lines += ["", printed(words(f"diagnosis.{title}"))]
            lines += [line for step in steps for line in _step(step)]
    lines += _listed(printed(words("diagnosis.then what")), advice.follows)
    lines += _listed(printed(words("diagnosis.what is cleared")), advice.cleared)
    lines += _listed(printed(words("diagnosis.what is excluded")), advice.excluded)
    if not part.is_sound:
        said = cautions_of(words, printable.asbuilt, advice)
        lines += _listed(printed(words.own("titles", "BEFORE YOU WORK")), said)
    return lines


def _suspect(suspect: ToldSuspect) -> Iterator[str]:
    yield from _wrapped([suspect.says], f"{suspect.number:2}  {suspect.weight:>5}  ", " " * 11)
    for each in suspect.kneeling:
        yield from _wrapped([each.where], f"{each.mark:>9}  ", " " * 11)
    if suspect.same is not None:
        yield from _wrapped([suspect.same], " " * 11, " " * 11)


def _step(step: AdvisedStep) -> Iterator[str]:
    yield from _wrapped([step.do], "    ", "    ")
    for outcome in step.outcomes:
        yield f"        {printed(outcome.shows)}: {printed(outcome.then)}"


def _listed(title: str, said: Iterable[Said]) -> list[str]:
    lines = [line for each in said for line in _wrapped([each], "    ", "    ")]
    return ["", *([title] if title else []), *lines] if lines else []


def _wrapped(said: Iterable[Said], first: str = "", then: str = "") -> list[str]:
    """Each from a line of its own on."""
    return [
        line
        for each in said
        for line in textwrap.wrap(
            printed(each), WIDTH, initial_indent=first, subsequent_indent=then
        )
    ]


def as_json(made: DiagnosedJob) -> str:
    """All values as they are, and each suspect and step also in words."""
    content = {
        "job": made.printable.asbuilt.job_code,
        "revision": made.printable.asbuilt.revision,
        "diagnoses": [_as_dict(part) for part in made.parts],
    }
    return json.dumps(content, indent=2, ensure_ascii=False)


def _as_dict(part: DiagnosedPart) -> dict[str, Any]:
    suspects = zip(part.diagnosis.suspects, part.advice.suspects, strict=True)
    steps = zip(part.diagnosis.steps, part.advice.steps, strict=True)
    return {
        **_plain(part.diagnosis),
        "says": [printed(said) for said in part.advice.verdict],
        "suspects": [
            {
                **_plain(suspect),
                "says": printed(told.says),
                "places": [{"mark": k.mark, "says": printed(k.where)} for k in told.kneeling],
                "follows": [printed(said) for said in told.follows],
            }
            for suspect, told in suspects
        ],
        "steps": [{**_plain(step), "says": printed(told.do)} for step, told in steps],
    }


def _plain(value: Any) -> Any:
    """As JSON has it, which knows no number for OL."""
    if is_dataclass(value):
        return {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, tuple):
        return [_plain(each) for each in value]
    if isinstance(value, float):
        return "OL" if math.isinf(value) else round(value, 4)
    return value
