"""Faults of coils and of battery controllers."""

from __future__ import annotations

from cardgen.faults.fault import ERROR, NOTE, WARNING, Fault

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

COIL_UNKNOWN = Fault(
    code="coil-unknown",
    verdict=WARNING,
    thing="owners",
    title="nothing says which coil a valve has",
    sentence="no coil is named for {stations}, so its tag gives no ohms",
    way_out="describe it under 'coils' and name it in the station: 'coil: usual'",
    variants={
        "several": (
            "no coil is named for {stations}, so their tags give no ohms",
            "describe it under 'coils' and name it in {controller}: 'coil: usual'",
        ),
    },
    why="Its tag can give no ohms, so a later reading has nothing to be compared with.",
    fix="Describe the coil under 'coils' and name it.",
    wrong="controllers:\n  A: {place: hut, supply: 24 V AC, stations: 8, common: K1 white}\n",
    right="controllers:\n"
    "  A: {place: hut, supply: 24 V AC, stations: 8, coil: usual, common: K1 white}\n",
)

COIL_IMPOSSIBLE = Fault(
    code="coil-impossible",
    verdict=ERROR,
    title="the data of a coil do not fit together",
    sentence=(
        "the coil '{coil}' is impossible: {name} of {amperes} A is more than {ohms} ohm "
        "let through at {supply} ({most} A)"
    ),
    way_out="copy ohms and amperes from the coil's data sheet",
    variants={
        "holding above inrush": (
            "the coil '{coil}' is impossible: holding of {holding} A is more than inrush of "
            "{inrush} A"
        ),
    },
    why="Ohms and volts on every tag are calculated from them.",
    fix="Copy ohms and amperes from the coil's data sheet.",
    wrong=_COIL.replace("0.40 A", "4.0 A"),
    right=_COIL,
)

COIL_ON_WRONG_SUPPLY = Fault(
    code="coil-on-wrong-supply",
    verdict=ERROR,
    title="a coil is made for another supply than its controller gives",
    sentence="the coil '{coil}' of {valves} is for {made_for}, but {controller} gives {supply}",
    way_out="the ohms may look right and the valve still never opens: install the right coil",
    variants={
        "burns": (
            (
                "the coil '{coil}' of {valves} is for {made_for}, but {controller} gives "
                "{supply}, which destroys it"
            ),
            (
                "do not switch it on: a latching coil takes pulses, and steady AC burns it; "
                "install the right coil"
            ),
        ),
    },
    why="The ohms may look right, and the valve still never opens, or the coil burns.",
    fix="Install the right coil, or correct 'supply'.",
    wrong=_P.replace("coil: latching", "coil: usual"),
    right=_P,
    base="latching",
)

TOLERANCE_UNUSED = Fault(
    code="tolerance-unused",
    verdict=WARNING,
    title="a supply tolerance where no volts are expected",
    sentence=(
        "{controller} has a supply tolerance, but {supply} gives no steady AC volts to compare"
    ),
    way_out="delete 'supply tolerance', or correct 'supply'",
    why="It is the band of the volts at a valve, and with this supply there are none to expect.",
    fix="Delete the line, or write the supply that the controller has.",
    wrong=_P.replace("    stations: 4\n", "    supply tolerance: -10/+10 %\n    stations: 4\n"),
    right=_P,
    base="latching",
)

POLARITY_MISSING = Fault(
    code="polarity-missing",
    verdict=ERROR,
    title="nothing says which lead of a latching coil goes to the hot",
    sentence="nothing says which lead of a latching coil goes to the hot of {controller}",
    way_out="write 'polarity: {{hot: red, common: black}}' from its manual",
    why="Makers differ, and a valve with its leads swapped closes when told to open.",
    fix="Write 'polarity' as the controller's manual says it.",
    wrong=_P.replace("    polarity: {hot: red, common: black}\n", ""),
    right=_P,
    base="latching",
)

POLARITY_UNUSUAL = Fault(
    code="polarity-unusual",
    verdict=NOTE,
    thing="controller",
    title="a controller wants another lead on the hot than is usual",
    sentence="{controller} wants {hot} on the hot and {common} on the common",
    way_out="usual is red on the hot; each tag prints this rule",
    why="Crews connect red to the hot by habit.",
    fix="Nothing to fix; each tag prints the rule.",
    wrong=_P.replace("{hot: red, common: black}", "{hot: black, common: red}"),
    right=_P,
    base="latching",
)

POLARITY_REVERSED = Fault(
    code="polarity-reversed",
    verdict=ERROR,
    title="the leads of a latching valve are swapped",
    sentence="{valve} has its latching leads swapped: it would close when told to open",
    way_out="put each lead where 'polarity' of {controller} says",
    why="It closes when told to open; ohms are the same either way, so only the record shows it.",
    fix="Swap the two leads.",
    wrong=_JOINTS.replace("red", "RED").replace("black", "red").replace("RED", "black"),
    right=_JOINTS,
    base="latching",
)

RUN_TOO_LONG = Fault(
    code="run-too-long",
    verdict=WARNING,
    thing="controller",
    title="a latching valve is farther away than the controller allows",
    sentence="{valve} is {wire} of wire from {controller}; its limit is {limit}",
    way_out="use a thicker conductor, or a controller nearer by",
    variants={
        "several": (
            "{valve} is {wire} of wire from {controller}; its limit is {limit}; too far as "
            "well: {others}"
        ),
    },
    why="The pulse gets too weak to move the plunger, first when the battery is low.",
    fix="Use a thicker conductor, or a controller nearer by.",
    wrong=_P + "    wire limit: 50 ft\n",
    right=_P + "    wire limit: 100 ft\n",
    base="latching",
)
