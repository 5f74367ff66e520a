"""Random cables whose conductors change hands from box to box, said with `from`, `to` and joints.

The yard is laid out first, leg by leg, by drawing which conductor carries which station; what the
program traces must be that draw, whatever way it is said.
"""

from __future__ import annotations

from itertools import groupby
from random import Random

from tests.for_each import for_each
from tests.jobs import examined
from tests.wiring.trench import job, way

COLORS = ("red", "blue", "brown", "yellow", "green", "gray")


class Yard:
    """One cable through some boxes; `carries` gives each station its conductor on each leg."""

    def __init__(self, seed: int) -> None:
        self.random = Random(seed)
        self.places = ["A", *(f"VB-{n}" for n in range(1, self.random.randint(2, 6) + 1))]
        self.legs = len(self.places) - 1
        self.carries: dict[str, list[str]] = {
            f"A{n}": [] for n in range(1, self.random.randint(1, 5) + 1)
        }
        self.last = {name: self.random.randint(1, self.legs) for name in self.carries}
        for leg in range(self.legs):
            self._draw(leg)

    def _draw(self, leg: int) -> None:
        running = [name for name in self.carries if self.last[name] > leg]
        kept = {n: self.carries[n][-1] for n in running if leg and self.random.random() < 0.5}
        free = [color for color in COLORS if color not in kept.values()]
        self.random.shuffle(free)
        for name in running:
            self.carries[name].append(kept[name] if name in kept else free.pop())

    def text(self) -> str:
        boxes = ", ".join(f"{place}: {{kind: pull box}}" for place in self.places[1:])
        run = ", 50 ft, ".join(self.places)
        stations = "".join(
            f"  {n}: {{area: a, box: {self.places[self.last[n]]}, hot: [{self._hot(n)}]}}\n"
            for n in self.carries
        )
        pigtails, joints = self._joints()
        return job(
            f"cables:\n  K1: {{gauge: 18 AWG, colors: [white, {', '.join(COLORS)}], "
            f"run: [{run}]}}\nboxes: {{{boxes}}}\nstations:\n{stations}"
            f"spares:\n{self._spares()}{pigtails}{joints}"
        )

    def _hot(self, name: str) -> str:
        """Each takeover is said at one of its sides at least, the rest as it falls."""
        words, start, must = [], 0, False
        for color, legs in groupby(self.carries[name]):
            end = start + len(list(legs))
            begins = must or self.random.random() < 0.4
            ends = self.random.random() < 0.5
            word = f"K1 {color}" + (f" from {self.places[start]}" if begins else "")
            words.append(word + (f" to {self.places[end]}" if ends else ""))
            start, must = end, not ends
        return ", ".join(words)

    def _spares(self) -> str:
        lines: list[str] = []
        for color in COLORS:
            used = [
                any(row[leg : leg + 1] == [color] for row in self.carries.values())
                for leg in range(self.legs)
            ]
            for is_used, legs in groupby(range(self.legs), key=lambda leg: used[leg]):
                run = list(legs)
                if not is_used:
                    ends = self.places[run[0]], self.places[run[-1] + 1]
                    said = f"K1 {color}, from: {ends[0]}, to: {ends[1]}"
                    if self.random.random() < 0.5:
                        said = f"K1 {color} from {ends[0]} to {ends[1]}"
                    lines.append(f"  SP-{len(lines) + 1}: {{conductor: {said}}}\n")
        return "".join(lines)

    def _joints(self) -> tuple[str, str]:
        pigtails: list[str] = []
        joints: list[str] = []
        for leg, place in enumerate(self.places[1:], 1):
            if self.random.random() < 0.5:
                continue
            joints.append(f"  {place}:\n")
            leads = [name for name in self.carries if self.last[name] == leg]
            white = ["K1 white in", *(["K1 white out"] if leg < self.legs else [])]
            found = [[f"K1 {self.carries[n][-1]} in", n] for n in leads]
            if leads:
                found.append([*white, *leads])
            found += [
                [f"K1 {row[leg - 1]} in", f"K1 {row[leg]} out"]
                for row in self.carries.values()
                if len(row) > leg and row[leg - 1] != row[leg]
            ]
            for first, *rest in found:
                before = first
                if self.random.random() < 0.3:
                    name = f"PT-{len(pigtails) + 1}"
                    pigtails.append(f"  {name}: {{at: {place}, gauge: 18 AWG, length: 8 in}}\n")
                    joints.append(f"    - [{first}, {name}]\n")
                    before = name
                joints.append(f"    - [{', '.join((before, *rest))}]\n")
            if not found:
                joints[-1] = f"  {place}: []\n"
        return "pigtails:\n" * bool(pigtails) + "".join(pigtails), (
            "joints:\n" * bool(joints) + "".join(joints)
        )


@for_each("seed", range(150))
def test_what_is_traced_is_what_was_laid(seed: int) -> None:
    yard = Yard(seed)
    text = yard.text()
    found = examined(text)
    told = [p for p in found.problems if p.verdict.value == "error" or "spare-" in p.code]
    assert told == [], text
    assert {name: way(circuit.hot) for name, circuit in found.circuits.items()} == {
        name: " - ".join(
            [
                *(f"{at} - K1 {color}" for at, color in zip(yard.places, row, strict=False)),
                yard.places[len(row)],
            ]
        )
        for name, row in yard.carries.items()
    }, text
    assert {way(c.back).split(" - ")[-1] for c in found.circuits.values()} == {
        yard.places[leg] for leg in yard.last.values()
    }
