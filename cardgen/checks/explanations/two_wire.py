"""Codes of two-wire paths and decoders."""

from __future__ import annotations

from cardgen.checks.explanations.model import error, note, warning

_STATIONS = """
stations:
  D1: {area: gate trees, box: DX-1, decoder: DC-1}
  D2: {area: oak trees, box: DX-2, decoder: DC-2}
  D3: {area: pine trees, box: DX-3, decoder: DC-3}
"""
_DECODERS = """
decoders:
  DC-1: {box: DX-1, address: 201, to valve: 6 ft}
  DC-2: {box: DX-2, address: 202, to valve: 6 ft}
  DC-3: {box: DX-3, address: 203, to valve: 6 ft}
"""
_JOINTS = """
joints:
  DX-2:
    - [M1 red, M2 red, DC-2 path 1]
    - [M1 black, M2 black, DC-2 path 2]
"""
_D = """
controllers:
  D:
    place: arboretum
    supply: two-wire
    stations: 8
    coil: usual
    path 1: [M1 red, M2 red]
    path 2: [M1 black, M2 black]
"""
_RING = """
controllers:
  D:
    place: arboretum
    supply: two-wire
    stations: 8
    coil: usual
    path 1: [M1 red, M2 red, M3 red]
    path 2: [M1 black, M2 black, M3 black]
cables:
  M1: {gauge: 14 AWG, colours: [red, black], run: [D, 410 ft, DX-1, 380 ft, DX-2]}
  M2: {gauge: 14 AWG, colours: [red, black], run: [DX-2, 300 ft, DX-3]}
  M3: {gauge: 14 AWG, colours: [red, black], run: [D, 300 ft, DX-3]}
"""

ENTRIES = (
    error(
        "station-without-decoder",
        "a station of a two-wire path names no decoder",
        "Nothing on the path answers for it.",
        "Name its decoder.",
        _STATIONS.replace(", decoder: DC-2", ""),
        _STATIONS,
        base="two-wire",
    ),
    error(
        "decoder-used-twice",
        "two stations are on one decoder address",
        "Both valves run at once.",
        "One decoder entry for each address.",
        _STATIONS.replace("DC-2", "DC-1"),
        _STATIONS,
        base="two-wire",
    ),
    error(
        "decoder-without-path",
        "a station with a decoder is on a controller without a path",
        "A decoder does nothing on a plain terminal.",
        "Leave 'decoder' out, or write 'supply: two-wire'.",
        """
        decoders: {DC-1: {box: VB-1, address: 1}}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red, decoder: DC-1}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
        """
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
    ),
    note(
        "decoder-without-station",
        "a decoder drives no station",
        "It may wait for one; the next crew will ask.",
        "Name it at its station, or leave it as it is.",
        _DECODERS + "  DC-4: {box: DX-3, address: 204}\n",
        _DECODERS,
        base="two-wire",
    ),
    error(
        "address-twice",
        "two decoders answer to one address",
        "Both valves run whenever one is called.",
        "Give each its own address, and write it on the tag.",
        _DECODERS.replace("202", "201"),
        _DECODERS,
        base="two-wire",
    ),
    warning(
        "decoder-too-far",
        "a decoder is farther from its valve than allowed",
        "The wire between them catches surges, and the coil loses volts.",
        "Move the decoder to the valve.",
        _DECODERS.replace("202, to valve: 6 ft", "202, to valve: 60 ft"),
        _DECODERS,
        base="two-wire",
    ),
    error(
        "decoder-outputs-joined",
        "the output of a decoder is joined with something else",
        "Decoders share no common: both outputs stop working or burn.",
        "Each output goes to its own valve by its own pair.",
        _JOINTS.replace("path 2]", "path 2, D2]"),
        _JOINTS,
        base="two-wire",
    ),
    error(
        "path-shorted",
        "the two sides of a path touch",
        "The controller switches the whole path off.",
        "Part them in the box that the message names.",
        _JOINTS.replace("M2 red, DC-2", "M2 red, M1 black, DC-2").replace("[M1 black, ", "["),
        _JOINTS,
        base="two-wire",
    ),
    error(
        "path-crossed",
        "the two sides of a path are exchanged in a box",
        "Where polarity matters, nothing beyond it answers.",
        "Join like with like.",
        _JOINTS.replace("M2 red", "M2 RED").replace("M2 black", "M2 red").replace("RED", "black"),
        _JOINTS,
        base="two-wire",
    ),
    error(
        "path-stops",
        "the path does not reach a decoder",
        "The decoder and all beyond it do not answer.",
        "Join both sides onward, and list every conductor of both under 'path 1' and 'path 2'.",
        _JOINTS.replace("M1 red, M2 red", "M1 red"),
        _JOINTS,
        base="two-wire",
    ),
    note(
        "path-ring",
        "a path is a ring",
        "A single break in it hides, and a fault cannot be halved without opening it.",
        "Mark the box in the middle of the ring, so that it can be opened there.",
        _RING,
        _D,
        base="two-wire",
    ),
    warning(
        "surge-unit-missing",
        "a stretch of path has no surge unit",
        "One thunderstorm takes all decoders of the stretch.",
        "Set a surge unit with its own ground rod within the distance that the maker gives.",
        _D + "    surge interval: 600 ft\n",
        _D + "    surge interval: 600 ft\nsurge units: [DX-1, DX-2, DX-3]\n",
        base="two-wire",
    ),
)
