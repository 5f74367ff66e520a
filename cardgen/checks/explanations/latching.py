"""Codes of coils and of battery controllers."""

from __future__ import annotations

from cardgen.checks.explanations.model import error, note, warning

_COIL = "coils:\n  usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A}\n"
_P = """
controllers:
  P:
    place: in the first box
    supply: 9 V DC latching
    stations: 4
    coil: latching
    common: K1 white
    polarity: {hot: red, common: black}
"""
_JOINTS = """
joints:
  VB-2:
    - [K1 blue, P2 red]
    - [K1 white, P2 black]
"""

ENTRIES = (
    warning(
        "coil-unknown",
        "nothing says which coil a valve has",
        "Its tag can give no ohms, so a later reading has nothing to be compared with.",
        "Describe the coil under 'coils' and name it.",
        "controllers:\n  A: {place: hut, supply: 24 V AC, stations: 8, common: K1 white}\n",
        "controllers:\n"
        "  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: K1 white}\n",
    ),
    error(
        "coil-impossible",
        "the data of a coil do not fit together",
        "Ohms and volts on every tag are reckoned from them.",
        "Copy ohms and amperes from the coil's data sheet.",
        _COIL.replace("0.40 A", "4.0 A"),
        _COIL,
    ),
    error(
        "coil-on-wrong-supply",
        "a coil is made for another supply than its controller gives",
        "Ohms may look well, and the valve still never opens, or the coil burns.",
        "Fit the other coil, or correct 'supply'.",
        _P.replace("coil: latching", "coil: usual"),
        _P,
        base="latching",
    ),
    error(
        "polarity-missing",
        "nothing says which lead of a latching coil goes to the hot",
        "Makers differ, and a valve with its leads exchanged closes when told to open.",
        "Write 'polarity' as the controller's manual says it.",
        _P.replace("    polarity: {hot: red, common: black}\n", ""),
        _P,
        base="latching",
    ),
    note(
        "polarity-unusual",
        "a controller wants another lead on the hot than is usual",
        "Crews connect red to the hot by habit.",
        "Nothing to mend; each tag prints the rule.",
        _P.replace("{hot: red, common: black}", "{hot: black, common: red}"),
        _P,
        base="latching",
    ),
    error(
        "polarity-reversed",
        "the leads of a latching valve are exchanged",
        "It closes when told to open; ohms are the same either way, so only the record shows it.",
        "Exchange the two leads.",
        _JOINTS.replace("red", "RED").replace("black", "red").replace("RED", "black"),
        _JOINTS,
        base="latching",
    ),
    warning(
        "run-too-long",
        "a latching valve is farther away than the controller allows",
        "The pulse gets too weak to move the plunger, first when the battery is low.",
        "A thicker conductor, or a controller nearer by.",
        _P + "    wire limit: 50 ft\n",
        _P + "    wire limit: 100 ft\n",
        base="latching",
    ),
)
