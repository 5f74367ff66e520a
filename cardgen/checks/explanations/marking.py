"""Codes of what lies side by side and must be told apart."""

from __future__ import annotations

from cardgen.checks.explanations.model import error, note, warning

_TWO = """
controllers:
  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
cables:
  K1: {gauge: 18 AWG, colours: [white, red, tan], run: [A, 85 ft, VB-1]}
  K2: {gauge: 18 AWG, colours: [white, red, tan], band: yellow tape, run: [A, 85 ft, VB-2]}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K2 red}
"""
_COMMONS = """
controllers:
  A: {place: garage, supply: 24 V AC, stations: 8, coil: usual, common: K1 white}
  B: {place: shed, supply: 24 V AC, stations: 8, coil: usual, common: K2 white}
cables:
  K1: {gauge: 18 AWG, colours: [white, red, blue, tan], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
  K2:
    gauge: 18 AWG
    colours: [white, brown, tan]
    band: blue tape
    run: [B, 140 ft, VB-3, 90 ft, VB-2]
"""
_SHARED = """
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K1 blue}
  B1: {area: back lawn, box: VB-3, hot: K2 brown}
"""
_BOXES = "boxes:\n  VB-1: {}\n  VB-2: {}\n  PB-3: {kind: pull box}\n"

ENTRIES = (
    warning(
        "cables-look-alike",
        "two cables of the same colours meet and no band tells them apart",
        "Two reds lie in one box; sooner or later somebody swaps them.",
        "Put a band of tape on one cable at every end and write it down under 'band'.",
        _TWO.replace(" band: yellow tape,", ""),
        _TWO,
    ),
    warning(
        "commons-look-alike",
        "the commons of two controllers meet and look the same",
        "They get joined at the next repair, which can damage both controllers.",
        "Band or stripe one of them at every end.",
        _COMMONS.replace("    band: blue tape\n", ""),
        _COMMONS,
        base="two controllers",
    ),
    warning(
        "names-look-alike",
        "two names read as one",
        "VB-3 and VB-03 are two boxes in the file and one in the crew's head.",
        "If it is one thing write it one way, else name them further apart.",
        _BOXES + "  PB-03: {kind: pull box}\n",
        _BOXES + "  PB-4: {kind: pull box}\n",
    ),
    error(
        "address-used-twice",
        "two boxes would have one address in the record",
        "Addresses are in capitals, so the code on two tags would lead to one page.",
        "Give one of them another name.",
        _BOXES + "  pb-3: {kind: pull box}\n",
        _BOXES + "  PB-4: {kind: pull box}\n",
    ),
    note(
        "shared-box",
        "valves of two controllers lie in one box",
        "Each keeps its own common, and the two must not touch.",
        "Nothing to mend; tags carry the controller in the headline.",
        _SHARED + "  B2: {area: back bed, box: VB-2, hot: K2 black}\n",
        _SHARED,
        base="two controllers",
    ),
)
