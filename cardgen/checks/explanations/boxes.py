"""Codes of boxes, connectors and lengths."""

from __future__ import annotations

from cardgen.checks.explanations.model import error, note, warning

_BOXES = "boxes:\n  VB-1: {place: walk}\n  VB-2: {place: bed}\n"
_CABLE = """
cables:
  K1:
    gauge: 18 AWG
    colours: [white, red, blue, green, yellow]
    run: [A, 85 ft, VB-1, 60 ft, VB-2]
"""
_COIL = "coils:\n  usual: {supply: 24 V AC, resistance: 30 ohm}\n"

ENTRIES = (
    note(
        "box-without-valves",
        "no valve is in a valve box",
        "It may be for splices or pulling, or a valve was put into another box by mistake.",
        "Say what it is for: 'kind: splice box' or 'kind: pull box'.",
        _BOXES + "  VB-3: {place: lawn}\n",
        _BOXES + "  VB-3: {place: lawn, kind: pull box}\n",
    ),
    warning(
        "joint-without-box",
        "a splice lies in the ground without a box",
        "Most faults are in splices, and this one nobody will find.",
        "Set a box over it. Until then write two distances to fixed points under 'ties'.",
        _BOXES + "  S-1: {kind: buried splice}\n",
        _BOXES + "  S-1: {kind: splice box}\n",
    ),
    error(
        "connector-overfilled",
        "a joint holds what no connector of the job takes",
        "One conductor slips out under the cap, and the fault comes and goes.",
        "Use two connectors with a jumper, or one that is rated for it.",
        "connectors: {small: {takes: 2 x 18 AWG}}",
        "connectors: {small: {takes: 2-5 x 18 AWG}}",
    ),
    warning(
        "units-mixed",
        "some legs are in feet and some in metres",
        "The odd one out is likely a slip, and the volts come out three times wrong.",
        "Write all legs in one unit.",
        _CABLE.replace("60 ft", "60 m"),
        _CABLE,
    ),
    warning(
        "leg-out-of-scale",
        "one leg is far longer than the others",
        "A nought too many, or metres for feet, hides a sound valve or a dead one.",
        "Look at the number and its unit.",
        _COIL + _CABLE.replace("60 ft", "6000 ft"),
        _COIL + _CABLE,
    ),
)
