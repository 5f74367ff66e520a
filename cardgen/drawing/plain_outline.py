"""Turn home runs into indented lines of plain text, for readers, digests and tests."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.asbuilt import ConductorMark
from cardgen.drawing.drawing_parts import BoxLine, CableRun, HomeRun, RunLeg
from cardgen.words import Words, apart

STEP = "  "


def outline(home: HomeRun) -> str:
    """The whole home run, one thing a line, each deeper than what it hangs on."""
    return "\n".join(_home_run(home)) + "\n"


def _home_run(home: HomeRun) -> Iterator[str]:
    yield apart((home.title, home.about))
    yield from (STEP + in_words(line, home.run.cable, home.words) for line in home.lines)
    yield from _run(home.run, STEP, home.words)


def _run(run: CableRun, indent: str, words: Words) -> Iterator[str]:
    for stop in run.stops:
        yield indent + stretch_in_words(stop.stretch)
        yield indent + apart((stop.title, stop.about))
        yield from (indent + STEP + in_words(line, run.cable, words) for line in stop.lines)
        for branch in stop.branches:
            yield from _run(branch, indent + STEP, words)


def stretch_in_words(stretch: RunLeg) -> str:
    """`A-K1, 85 ft, 7 × 18 AWG, for A1 to A6`."""
    parts = (stretch.cable, stretch.band, stretch.length, stretch.inside)
    return ", ".join(part for part in parts if part)


def in_words(line: BoxLine, cable: str, words: Words) -> str:
    """`red RD · terminal 1 · valve A1 · front lawn`; conductors of other cables by full name."""
    found = ", ".join(color_of(mark, cable) for mark in line.marks) or line.source
    joined = words.list_of(color_of(mark, cable) for mark in line.joined).printed
    lands = f"{line.lands} {joined}".strip()
    return apart((found, lands, line.name, line.text))


def color_of(mark: ConductorMark, cable: str) -> str:
    other = mark.cable if mark.cable != cable else ""
    flag = f"({mark.flag})" if mark.flag else ""
    return " ".join(part for part in (other, mark.word, mark.code, flag) if part)
