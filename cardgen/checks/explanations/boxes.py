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
_FOUR = """
controllers:
  A:
    place: hut
    supply: 24 V AC
    stations: 8
    coil: usual
    common: [K1 white, K2 gray, K3 pink, K4 black]
cables:
  K1: {gauge: 14 AWG, colours: [white, red, tan], run: [A, 85 ft, VB-1]}
  K2: {gauge: 14 AWG, colours: [gray, red, tan], run: [A, 85 ft, VB-2]}
  K3: {gauge: 14 AWG, colours: [pink, red, tan], run: [A, 85 ft, VB-3]}
  K4: {gauge: 14 AWG, colours: [black, red, tan], run: [A, 85 ft, VB-4]}
boxes: {VB-1: {}, VB-2: {}, VB-3: {}, VB-4: {}}
stations:
  A1: {area: lawn 1, box: VB-1, hot: K1 red}
  A2: {area: lawn 2, box: VB-2, hot: K2 red}
  A3: {area: lawn 3, box: VB-3, hot: K3 red}
  A4: {area: lawn 4, box: VB-4, hot: K4 red}
"""

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
        "Use two connectors with a pigtail, or one that is rated for it.",
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
        "Look at the number and its unit; where it is so long, nothing is to be changed.",
        _COIL + _CABLE.replace("60 ft", "600 ft"),
        _COIL + _CABLE,
    ),
    warning(
        "gauge-odd",
        "one cable is much thinner than all the others",
        "18 written where 14 lies in the ground gives wrong ohms and wrong volts.",
        "Look at the jacket; where it is so thin, nothing is to be changed.",
        _FOUR.replace("gauge: 14 AWG", "gauge: 18 AWG", 1),
        _FOUR,
    ),
)
