"""How paper and pages name conductors, uses and lists: written down here apart from the program."""

from __future__ import annotations

import re
from collections.abc import Iterable

from tests.oracle.tracer import Label, Traced

# IEC 60757, but for tan and light-blue.  Codes of two colors have a stroke between them.
CODES = {
    "black": "BK", "brown": "BN", "red": "RD", "orange": "OG", "yellow": "YE", "green": "GN",
    "blue": "BU", "light-blue": "LB", "violet": "VT", "gray": "GY", "white": "WH", "pink": "PK",
    "gold": "GD", "turquoise": "TQ", "silver": "SR", "tan": "TN",
}  # fmt: skip


def color(word: str) -> str:
    """`red RD`, `orange/white OG/WH`."""
    return f"{word} {'/'.join(CODES[part] for part in word.split('/'))}"


class Names:
    """The conductors of a yard as they are printed."""

    def __init__(self, traced: Traced) -> None:
        self.mark: dict[str, str] = {}  # by conductor, `A-S1 red RD + tape 1 (flag A3)`
        self.plain: dict[str, str] = {}  # the same without its flag
        self.flag: dict[str, str] = {}
        self.short: dict[str, str] = {}  # without cable and band, where the cable is told
        for name, conductor in traced.conductors.items():
            word, _, flag = conductor.word.partition(" ")
            band = traced.job["cables"][conductor.cable]["band"]
            self.flag[name] = flag
            told = f" (flag {flag})" if flag else ""
            self.plain[name] = f"{conductor.cable} {color(word)} + {band}"
            self.mark[name] = self.plain[name] + told
            self.short[name] = color(word) + told


def use(label: Label) -> str:
    """`hot A1`, `common A`, `terminal 7 of A`."""
    match label:
        case ("terminal", of, terminal):
            return f"terminal {terminal} of {of}"
        case ("path", of, side):
            return f"path {side} of {of}"
    role, *of_what = label
    return " ".join((role, *of_what))


def headline(label: Label) -> str:
    """As a flag says it: `A1`, `COM-A`, `MV-A-RTN`."""
    role, of, *rest = label
    match role:
        case "return":
            return f"{of}-RTN"
        case "common":
            return f"COM-{of}"
        case "path":
            return f"PATH-{of}{rest[0]}"
        case "terminal":
            return f"{of} {rest[0]}"
    return of


def each_of(said: str) -> tuple[str, ...]:
    """`VB-1, VB-3 and VB-5 to VB-7` one by one; where room is scarce it is `VB-5–VB-7`."""
    found: list[str] = []
    for part in re.split(r", | and ", said):
        first, to, last = re.sub(r"(?<=\S)–", " to ", part).partition(" to ")
        stem, start = split_number(first)
        found += [first]
        if to:
            end = split_number(last)[1]
            found += [
                f"{stem}{number:0{len(start)}d}" for number in range(int(start) + 1, int(end) + 1)
            ]
    return tuple(part for part in found if part not in ("", "–"))


def split_number(name: str) -> tuple[str, str]:
    stem = name.rstrip("0123456789")
    return stem, name[len(stem) :]


def uses(labels: Iterable[Label]) -> frozenset[str]:
    return frozenset(map(use, labels))
