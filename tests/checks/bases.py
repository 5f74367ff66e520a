"""A few sound jobs as sections of text: a snippet takes the place of the sections it names."""

from __future__ import annotations

import re
from collections.abc import Mapping

_HEAD = """\
job: {code: DEMO-1, site: Demo Court, revision: 2, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
"""
_USUAL_COIL = """\
coils:
  usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A, minimum: 20 V}
"""
_PLAIN = """\
controllers:
  A: {place: garage wall, supply: 24 V AC, stations: 8, coil: usual, common: K1 white}
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, blue, green, yellow]
    run: [A, 85 ft, VB-1, 60 ft, VB-2]
boxes:
  VB-1: {place: front walk}
  VB-2: {place: front bed}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K1 blue}
"""
_TWO_CONTROLLERS = """\
controllers:
  A: {place: garage wall, supply: 24 V AC, stations: 8, coil: usual, common: K1 white}
  B: {place: pump house, supply: 24 V AC, stations: 8, coil: usual, common: K2 gray}
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, green], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
  K2: {gauge: 18 AWG, colors: [gray, brown, black, orange], run: [B, 140 ft, VB-3, 90 ft, VB-2]}
boxes:
  VB-1: {place: front walk}
  VB-2: {place: front bed}
  VB-3: {place: back lawn}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K1 blue}
  B1: {area: back lawn, box: VB-3, hot: K2 brown}
"""
_LATCHING = """\
coils:
  latching: {supply: DC latching, resistance: 5 ohm}
  usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A, minimum: 20 V}
controllers:
  P:
    place: in the first box
    supply: 9 V DC latching
    stations: 4
    coil: latching
    common: K1 white
    polarity: {hot: red, common: black}
    wire limit: 100 ft
cables:
  K1: {gauge: 14 AWG, colors: [white, red, blue, green], run: [P, 20 ft, VB-1, 40 ft, VB-2]}
boxes:
  VB-1: {place: front walk}
  VB-2: {place: front bed}
stations:
  P1: {area: front planters, box: VB-1, hot: K1 red}
  P2: {area: side planters, box: VB-2, hot: K1 blue}
"""
_TWO_WIRE = """\
controllers:
  D:
    place: arboretum
    supply: two-wire
    stations: 8
    coil: usual
    path 1: [M1 red, M2 red]
    path 2: [M1 black, M2 black]
    path polarity: yes
    decoder limit: 20 ft
cables:
  M1: {gauge: 14 AWG, colors: [red, black], run: [D, 410 ft, DX-1, 380 ft, DX-2]}
  M2: {gauge: 14 AWG, colors: [red, black], run: [DX-2, 300 ft, DX-3]}
boxes:
  DX-1: {place: gate}
  DX-2: {place: oak circle}
  DX-3: {place: pine ridge}
stations:
  D1: {area: gate trees, box: DX-1, decoder: DC-1}
  D2: {area: oak trees, box: DX-2, decoder: DC-2}
  D3: {area: pine trees, box: DX-3, decoder: DC-3}
decoders:
  DC-1: {box: DX-1, address: 201, to valve: 6 ft}
  DC-2: {box: DX-2, address: 202, to valve: 6 ft}
  DC-3: {box: DX-3, address: 203, to valve: 6 ft}
"""
BASES: Mapping[str, str] = {
    "plain": _HEAD + _USUAL_COIL + _PLAIN,
    "two controllers": _HEAD + _USUAL_COIL + _TWO_CONTROLLERS,
    "latching": _HEAD + _LATCHING,
    "two-wire": _HEAD + _USUAL_COIL + _TWO_WIRE,
}


def completed(snippet: str, base: str = "plain") -> str:
    """The job that the snippet makes of a base: its own sections, then the base's other ones."""
    own = set(_sections(snippet))
    rest = [text for key, text in _sections(BASES[base]).items() if key not in own]
    return "".join([snippet.rstrip("\n") + "\n" if snippet else "", *rest])


def _sections(text: str) -> dict[str, str]:
    """The text of each top-level section, by its key."""
    parts = re.split(r"^(?=[a-z][a-z ]*:)", text, flags=re.MULTILINE)
    return {part.partition(":")[0]: part for part in parts if part.strip()}
