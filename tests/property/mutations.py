"""Spoil the text of a sound file as hands and editors do, and judge what the program says of it."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from pathlib import Path
from random import Random

from cardgen.asbuilt import as_built
from cardgen.examine import examine_text
from cardgen.faults.explain import explain
from cardgen.layout.layout_checks import face_faults, stock_faults
from cardgen.layout.layout_fields import FACE, STOCK
from cardgen.problems import Problem
from cardgen.reading import parse
from cardgen.reading.shapes import Report
from cardgen.results import read_results
from cardgen.words import load_words

_SCALAR = re.compile(r"[\w#][\w./# -]*\w|\w")
_NUMBER = re.compile(r"\d+(?:\.\d+)?")
_LIST = re.compile(r"\[[^][]*\]")
_SIDE = re.compile(r" (?:in|out)\b")
_VALUES = (
    *("", "0", "-1", "1e999", "99999999999999999999", "0.0000001", "nan", "no", "~", "[]", "{}"),
    *("A", "C", "C 2", "A1 in", "K1", "1 to 9999", "9 to 1", "red", "24 V AC", "two-wire"),
    *("[[]]", "!!str x", "&a *a", "'", '"', "é\u0301", "\u202e", "<<: *x", "2026-02-30", "5 ohm"),
)
_ABSURD = ("0", "1", "-3", "99999999999999999999", "1e308", "0.000001", "007", "12345678")


def mutated(text: str, rng: Random) -> str:
    """With one to three slips."""
    for _ in range(rng.randint(1, 3)):
        text = rng.choice(_SLIPS)(text, rng)
    return text


def _lines(change: Callable[[list[str], Random], None]) -> Callable[[str, Random], str]:
    def slip(text: str, rng: Random) -> str:
        lines = text.split("\n")
        change(lines, rng)
        return "\n".join(lines)

    return slip


def _delete(lines: list[str], rng: Random) -> None:
    del lines[rng.randrange(len(lines))]


def _duplicate(lines: list[str], rng: Random) -> None:
    lines.insert(rng.randrange(len(lines)), rng.choice(lines))


def _exchange(lines: list[str], rng: Random) -> None:
    one, two = rng.randrange(len(lines)), rng.randrange(len(lines))
    lines[one], lines[two] = lines[two], lines[one]


def _indent(lines: list[str], rng: Random) -> None:
    lines[rng.randrange(len(lines))] = " " * rng.randint(0, 6) + rng.choice(lines).strip()


def _one_of(
    pattern: re.Pattern[str], change: Callable[[str, str, Random], str]
) -> Callable[[str, Random], str]:
    """Change one match; `change` also gets the whole text."""

    def slip(text: str, rng: Random) -> str:
        found = list(pattern.finditer(text))
        if not found:
            return text
        match = rng.choice(found)
        return text[: match.start()] + change(match[0], text, rng) + text[match.end() :]

    return slip


def _side(side: str, _: str, rng: Random) -> str:
    return rng.choice(["", " in" if side == " out" else " out"])


def _members(words: str, _: str, rng: Random) -> str:
    """Without one member, with one twice, or with none."""
    members = words[1:-1].split(", ")
    kept = [one for one in members if rng.random() < 0.7]
    return f"[{', '.join(rng.choice([kept, [*members, rng.choice(members)], []]))}]"


def _truncated(text: str, rng: Random) -> str:
    return text[: rng.randrange(len(text) + 1)]


def _lists_joined(text: str, rng: Random) -> str:
    parts = text.split("], [")
    at = rng.randrange(len(parts))
    joined = ", ".join(parts[at : at + 2])
    return "], [".join([*parts[:at], joined, *parts[at + 2 :]])


def _sign(text: str, rng: Random) -> str:
    at = rng.randrange(len(text) + 1)
    return text[:at] + rng.choice("[]{}:,'\"#-\t\n &*|\x00\u2028") + text[at + rng.randint(0, 1) :]


_SLIPS: tuple[Callable[[str, Random], str], ...] = (
    *map(_lines, (_delete, _duplicate, _exchange, _indent)),
    _one_of(_SCALAR, lambda _, __, rng: rng.choice(_VALUES)),
    _one_of(_SCALAR, lambda _, text, rng: rng.choice(_SCALAR.findall(text))),
    _one_of(_NUMBER, lambda _, __, rng: rng.choice(_ABSURD)),
    _one_of(_NUMBER, lambda _, text, rng: rng.choice(_NUMBER.findall(text))),
    _one_of(_SIDE, _side),
    _one_of(_LIST, _members),
    _one_of(_LIST, _members),
    _one_of(_LIST, lambda _, text, rng: rng.choice(_LIST.findall(text))),
    _truncated,
    _lists_joined,
    _sign,
)


# -- what the program makes of it ------------------------------------------------------------------


def judge_job(text: str) -> None:
    found = examine_text(text)
    _judge(text, found.problems)
    if found.facts is not None and not found.has_errors:
        as_built(found.facts)


def judge_stock(text: str) -> None:
    node, problems = parse(text, "stock.yaml")
    report = Report()
    stock = STOCK.read(node, node.span, report) if node else None
    _judge(text, (*problems, *report.problems, *(stock_faults(stock) if stock else ())))


def judge_face(text: str) -> None:
    node, problems = parse(text, "face.yaml")
    report = Report()
    face = FACE.read(node, node.span, report) if node else None
    _judge(text, (*problems, *report.problems, *(face_faults(face, ()) if face else ())))


def judge_readings(text: str) -> None:
    _, problems = read_results(text.encode("utf-8", "surrogatepass"), "readings.csv")
    _judge(text, problems)


def judge_words(text: str, folder: Path) -> None:
    """As texts of one's own beside the English ones."""
    path = folder / "words" / "en.yaml"
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    _judge(text, load_words(("en",), folder)[1])


def _judge(text: str, problems: Iterable[Problem]) -> None:
    """Each problem is in the file, and of a kind that is explained."""
    lines = re.split("\r\n|\r|\n", text)
    for problem in problems:
        assert explain(problem.code) is not None, problem
        for place in (problem.span, *(also.span for also in problem.also)):
            assert place.line >= 1 and place.column >= 1 and place.length >= 1, problem
            assert place.line <= len(lines) + 1, problem  # its end may be what is wrong
            if place.line <= len(lines):
                assert place.column <= len(lines[place.line - 1]) + 1, problem
