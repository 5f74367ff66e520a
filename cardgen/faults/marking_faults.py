"""Faults of what is side by side and must be told apart."""

from __future__ import annotations

from cardgen.faults.fault import ERROR, NOTE, WARNING, Fault

_TWO = """
controllers:
  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: [K1 white, K2 white]}
cables:
  K1: {gauge: 18 AWG, colors: [white, red, tan], run: [A, 85 ft, VB-1]}
  K2: {gauge: 18 AWG, colors: [white, red, tan], band: yellow tape, run: [A, 85 ft, VB-2]}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K2 red}
"""
_COMMONS = """
controllers:
  A: {place: garage, supply: 24 V AC, stations: 8, coil: usual, common: K1 white}
  B: {place: shed, supply: 24 V AC, stations: 8, coil: usual, common: K2 white}
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue, tan], run: [A, 85 ft, VB-1, 60 ft, VB-2]}
  K2:
    gauge: 18 AWG
    colors: [white, brown, tan]
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

CABLES_LOOK_ALIKE = Fault(
    code="cables-look-alike",
    verdict=WARNING,
    thing="at",
    title="two cables of the same colors meet and no band tells them apart",
    sentence="{first} and {second} both reach '{at}' and both have '{conductor}'",
    way_out=(
        "put a band of tape on one of them at every end and write it down: 'band: yellow tape'"
    ),
    why="Two reds are in one box; someone will swap them sooner or later.",
    fix="Put a band of tape on one cable at every end and write it down under 'band'.",
    wrong=_TWO.replace(" band: yellow tape,", ""),
    right=_TWO,
)

COMMONS_LOOK_ALIKE = Fault(
    code="commons-look-alike",
    verdict=WARNING,
    thing="box",
    title="the commons of two controllers meet and look the same",
    sentence="in '{box}' the commons of {first} and {second} are both {color}",
    way_out="band or stripe the common of {second} at every end",
    why="They get joined at the next repair, which can damage both controllers.",
    fix="Band or stripe one of them at every end.",
    wrong=_COMMONS.replace("    band: blue tape\n", ""),
    right=_COMMONS,
    base="two controllers",
)

NAMES_LOOK_ALIKE = Fault(
    code="names-look-alike",
    verdict=WARNING,
    title="two names read as one",
    sentence="'{first}' and '{second}' are two {kind} names that read as one",
    way_out="is it one {kind}? then write it one way; else make the names more different",
    why="VB-3 and VB-03 are two boxes in the file and one in the crew's head.",
    fix="If it is one thing write it one way, else make the names more different.",
    wrong=_BOXES + "  PB-03: {kind: pull box}\n",
    right=_BOXES + "  PB-4: {kind: pull box}\n",
)

ADDRESS_USED_TWICE = Fault(
    code="address-used-twice",
    verdict=ERROR,
    title="two boxes would have one address in the record",
    sentence=(
        "the boxes '{first}' and '{second}' would share the address '{address}' in the job record"
    ),
    way_out="give one of them another name",
    why="Addresses are in capitals, so the code on two tags would lead to one page.",
    fix="Give one of them another name.",
    wrong=_BOXES + "  pb-3: {kind: pull box}\n",
    right=_BOXES + "  PB-4: {kind: pull box}\n",
)

SHARED_BOX = Fault(
    code="shared-box",
    verdict=NOTE,
    thing="box",
    title="valves of two controllers are in one box",
    sentence="'{box}' has valves of {controllers} ({valves})",
    way_out=(
        "each keeps its own common; their commons must not touch; lock off {controllers}, or take "
        "the battery out, before work in the box"
    ),
    why=(
        "Each keeps its own common, and the two must not touch. Who stops only one of them works "
        "on live wires."
    ),
    fix="Nothing to fix; tags carry the controller in the headline.",
    wrong=_SHARED + "  B2: {area: back bed, box: VB-2, hot: K2 black}\n",
    right=_SHARED,
    base="two controllers",
)
