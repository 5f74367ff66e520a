"""Parks of a town as a seeded maker draws them, with its own table of what each tag must say."""

from __future__ import annotations

import random
from dataclasses import dataclass

_COLORS = [
    "red",
    "blue",
    "green",
    "yellow",
    "orange",
    "brown",
    "violet",
    "gray",
    "pink",
    "tan",
    "black",
]
_PER_BOX = 3
_PLANTS = ("lawn", "roses", "hedge", "meadow", "shrubs")


@dataclass(frozen=True, slots=True, kw_only=True)
class ParkValve:
    """What hangs where."""

    valve: str
    terminal: int
    area: str
    box: str
    cable: str
    color: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Park:
    """Attributes:
    unknown: legs of which nobody knows the length, each by cable, from and to.
    """

    name: str
    site: str
    text: str
    valves: tuple[ParkValve, ...]
    legs: int
    unknown: frozenset[tuple[str, str, str]]


def park(number: int, stations: int = 42) -> Park:
    """The same for a number each time; a third of its legs have no length."""
    chance = random.Random(number)  # no secret
    name, site = f"park-{number:02}", f"Park {number:02}"
    rows: list[ParkValve] = []
    runs: dict[str, list[str]] = {}
    terminals = chance.sample(range(1, 49), stations)
    for first in range(0, stations, len(_COLORS)):
        cable = f"A-K{first // len(_COLORS) + 1}"
        colors = chance.sample(_COLORS, min(len(_COLORS), stations - first))
        for place, color in enumerate(colors):
            box = f"VB-{cable[-1]}{place // _PER_BOX + 1}"
            if box not in runs.setdefault(cable, []):
                runs[cable].append(box)
            terminal = terminals[first + place]
            plant = f"{chance.choice(_PLANTS)} {number}.{terminal}"
            rows.append(
                ParkValve(
                    valve=f"A{terminal}", terminal=terminal, area=plant, box=box,
                    cable=cable, color=color,
                )
            )  # fmt: skip
    legs = [
        (cable, *leg)
        for cable, boxes in runs.items()
        for leg in zip(["A", *boxes], boxes, strict=False)
    ]
    unknown = frozenset(chance.sample(legs, round(len(legs) / 3)))
    text = _text(number, name, site, rows, legs, unknown, chance)
    return Park(
        name=name, site=site, text=text, valves=tuple(rows), legs=len(legs), unknown=unknown
    )


def _text(
    number: int,
    name: str,
    site: str,
    rows: list[ParkValve],
    legs: list[tuple[str, str, str]],
    unknown: frozenset[tuple[str, str, str]],
    chance: random.Random,
) -> str:
    cables = dict.fromkeys(row.cable for row in rows)
    runs = []
    for cable in cables:
        parts = ["A"]
        for leg in legs:
            if leg[0] == cable:
                parts += ["not known" if leg in unknown else f"{chance.randint(20, 120)} ft"]
                parts += [leg[2]]
        runs.append(f"  {cable}: {{gauge: 18 AWG, palette: twelve, run: [{', '.join(parts)}]}}")
    commons = ", ".join(f"{cable} white" for cable in cables)
    boxes = dict.fromkeys(row.box for row in rows)
    lines = [
        f"job: {{code: {name.upper()}, site: {site}, revision: 1, date: 2026-03-14}}",
        f"record: {{address: https://jobs.example.com, key: 7Q2F9KX4{number:04}}}",
        "palettes:",
        f"  twelve: [white, {', '.join(_COLORS)}]",
        "coils:",
        "  usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A,",
        "    minimum: 19 V}",
        "connectors:",
        "  small: {takes: [2-5 x 18 AWG]}",
        "controllers:",
        "  A: {place: shed, supply: 24 V AC, stations: 48, coil: usual, station limit: 0.5 A,",
        f"    total limit: 1 A, terminals: [C, C, C, C, 1 to 48], common: [{commons}]}}",
        "boxes:",
        *(f"  {box}: {{place: path {box[-2:]}}}" for box in boxes),
        "cables:",
        *runs,
        "stations:",
        *(
            f"  {row.valve}: {{area: {row.area}, box: {row.box}, hot: {row.cable} {row.color}}}"
            for row in rows
        ),
    ]
    return "\n".join(lines) + "\n"
