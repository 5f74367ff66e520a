"""A small yard to diagnose: the worked tree of eight stations, and its readings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import cache

from cardgen.asbuilt import AsBuilt, as_built, network_values
from cardgen.examine import examine_text
from cardgen.results import OL, Kind, Measured

TREE = """\
job: {code: TREE-08, site: Worked tree, revision: 1, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
palettes:
  nine: [white, red, blue, green, yellow, orange, brown, black, purple]
coils:
  usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A, minimum: 19 V}
connectors:
  small: {takes: [2-5 x 18 AWG]}
controllers:
  A:
    place: garage wall
    supply: 24 V AC
    stations: 8
    terminals: [C, 1 to 8]
    coil: usual
    common: A-K1 white
cables:
  A-K1: {gauge: 18 AWG, palette: nine, run: [A, 200 ft, B1, 150 ft, B2, 250 ft, B3, 300 ft, B4]}
boxes: {B1: {place: one}, B2: {place: two}, B3: {place: three}, B4: {place: four}}
stations:
  A1: {area: a, box: B1, hot: A-K1 red}
  A2: {area: b, box: B1, hot: A-K1 blue}
  A3: {area: c, box: B2, hot: A-K1 green}
  A4: {area: d, box: B2, hot: A-K1 yellow}
  A5: {area: e, box: B3, hot: A-K1 orange}
  A6: {area: f, box: B3, hot: A-K1 brown}
  A7: {area: g, box: B4, hot: A-K1 black}
  A8: {area: h, box: B4, hot: A-K1 purple}
"""
# Ohms at the controller, calculated by hand for 18 AWG copper at 20 C and coils of 30 ohm.
SOUND = dict(zip("12345678", (32.6, 32.6, 34.5, 34.5, 37.7, 37.7, 41.5, 41.5), strict=True))


@cache
def as_built_of(text: str = TREE) -> AsBuilt:
    """With its network."""
    facts = examine_text(text, "job.yaml").facts
    assert facts is not None
    return replace(as_built(facts), network=network_values(facts))


def measured(valve: str, kind: Kind, value: float, **more: str) -> Measured:
    name = f"{valve} {kind} {value} {more}"
    fields = {"id": name, "when": "2026-11-01", "record_key": "", "box": "", **more}
    return Measured(valve=valve, kind=kind, value=value, **fields)


def walk(changed: Mapping[int, float]) -> list[Measured]:
    """Every station at the controller, some otherwise than sound."""
    values = {**{int(name): ohms for name, ohms in SOUND.items()}, **changed}
    return [measured(f"A{n}", Kind.CONTROLLER, ohms) for n, ohms in values.items()]


__all__ = ["OL", "SOUND", "TREE", "as_built_of", "measured", "walk"]
