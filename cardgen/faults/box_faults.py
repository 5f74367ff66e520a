"""Faults of boxes, connectors and lengths."""

from __future__ import annotations

from cardgen.faults.fault import ERROR, NOTE, WARNING, Fault

_BOXES = "boxes:\n  VB-1: {place: walk}\n  VB-2: {place: bed}\n"
_CABLE = """
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, blue, green, yellow]
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
  K1: {gauge: 14 AWG, colors: [white, red, tan], run: [A, 85 ft, VB-1]}
  K2: {gauge: 14 AWG, colors: [gray, red, tan], run: [A, 85 ft, VB-2]}
  K3: {gauge: 14 AWG, colors: [pink, red, tan], run: [A, 85 ft, VB-3]}
  K4: {gauge: 14 AWG, colors: [black, red, tan], run: [A, 85 ft, VB-4]}
boxes: {VB-1: {}, VB-2: {}, VB-3: {}, VB-4: {}}
stations:
  A1: {area: lawn 1, box: VB-1, hot: K1 red}
  A2: {area: lawn 2, box: VB-2, hot: K2 red}
  A3: {area: lawn 3, box: VB-3, hot: K3 red}
  A4: {area: lawn 4, box: VB-4, hot: K4 red}
"""

BOX_WITHOUT_VALVES = Fault(
    code="box-without-valves",
    verdict=NOTE,
    title="no valve is in a valve box",
    sentence="no valve is in '{box}'",
    way_out="if it is for splices or pulling, write 'kind: splice box' or 'kind: pull box'",
    why="It may be for splices or pulling, or a valve was put into another box by mistake.",
    fix="Say what it is for: 'kind: splice box' or 'kind: pull box'.",
    wrong=_BOXES + "  VB-3: {place: lawn}\n",
    right=_BOXES + "  VB-3: {place: lawn, kind: pull box}\n",
)

_ROUND = """
boxes:
  VB-1: {place: walk, size: 10 in round}
  VB-2: {place: bed}
stations:
  A1: {area: front lawn, box: VB-1, hot: K1 red}
  A2: {area: side lawn, box: VB-2, hot: K1 blue}
  A3: {area: back lawn, box: VB-2, hot: K1 green}
"""
BOX_TOO_SMALL = Fault(
    code="box-too-small",
    verdict=NOTE,
    title="a round box is too small for its valves and splices",
    sentence="'{box}' is {size}, and {count} valves with their splices do not fit in it",
    way_out="plan a rectangular box or a box for each valve; if another is there, write its size",
    why=(
        "Splices that are pressed under a lid break, and nobody can lift them out to measure "
        "(common practice, no source)."
    ),
    fix="Set a rectangular box, or give each valve its own round one.",
    wrong=_ROUND.replace("box: VB-2", "box: VB-1", 1),
    right=_ROUND,
)

JOINT_WITHOUT_BOX = Fault(
    code="joint-without-box",
    verdict=WARNING,
    thing="splice",
    title="a splice is in the ground without a box",
    sentence="the splice '{splice}' has no box",
    way_out="set a box over it, or write two distances to fixed points under 'ties'",
    variants={
        "not measured": "the splice '{splice}' has no box and fewer than two distances say where",
    },
    why="Most faults are in splices, and this one nobody will find.",
    fix="Set a box over it. Until then write two distances to fixed points under 'ties'.",
    wrong=_BOXES + "  S-1: {kind: buried splice}\n",
    right=_BOXES + "  S-1: {kind: splice box}\n",
)

CONNECTOR_OVERFILLED = Fault(
    code="connector-overfilled",
    verdict=ERROR,
    title="a joint has more than any connector in the job accepts",
    sentence=(
        "a joint in '{box}' has {wires} ({ends}){alike}; no connector of this job accepts that"
    ),
    way_out=(
        "use two connectors and {pigtail}, with PT-1 in both joints of '{box}'; or "
        "describe a connector that accepts it"
    ),
    variants={
        "leads in AWG": (
            "",
            (
                "use two connectors and {pigtail}, with PT-1 in both joints of '{box}'; or "
                "describe a connector that accepts it; if the leads of the valve are not {lead}, "
                "say so under its coil: 'leads: {wire}'"
            ),
        ),
    },
    why="One conductor slips out under the cap, and the fault comes and goes.",
    fix="Use two connectors with a pigtail, or one that is rated for it.",
    wrong="connectors: {small: {takes: 2 x 18 AWG}}",
    right="connectors: {small: {takes: 2-5 x 18 AWG}}",
)

STILL_UNKNOWN = Fault(
    code="not-known",
    verdict=NOTE,
    title="the job says that something is not known",
    sentence="not known: {what}",
    way_out=(
        "nothing is calculated from it; take the questions along as a list, "
        "'cardgen print JOB --out DIR --only survey', and write what you find in place of "
        "'not known'"
    ),
    why="What depends on it is left open on every tag and sheet, with room to write it in.",
    fix="Print the survey list, find it out on site and write it in place of 'not known'.",
    wrong=_CABLE.replace("60 ft", "not known"),
    right=_CABLE,
)

UNITS_MIXED = Fault(
    code="units-mixed",
    verdict=WARNING,
    title="some legs are in feet and some in meters",
    sentence="this leg is {leg}, while {others} in {unit}",
    way_out="is it {amount} {unit}? one unit for all legs avoids the question",
    why="The odd one out is likely a typing error, and the volts come out three times wrong.",
    fix="Write all legs in one unit.",
    wrong=_CABLE.replace("60 ft", "60 m"),
    right=_CABLE,
)

LEG_OUT_OF_SCALE = Fault(
    code="leg-out-of-scale",
    verdict=WARNING,
    thing="cable",
    title="one leg is far longer than the others",
    sentence="this leg is {leg}, {times} times as long as is usual in this job ({usual}){others}",
    way_out="check number and unit; if it is as long as that, there is nothing to change",
    variants={
        "very long": "this leg is {leg}, far longer than is usual between two boxes{others}",
    },
    why="A zero too many, or meters for feet, hides a good valve or a dead one.",
    fix="Look at the number and its unit; if it is as long as that, there is nothing to change.",
    wrong=_COIL + _CABLE.replace("60 ft", "600 ft"),
    right=_COIL + _CABLE,
)

GAUGE_ODD = Fault(
    code="gauge-odd",
    verdict=WARNING,
    thing="cable",
    title="one cable is much thinner than all the others",
    sentence="the hots of {cable} are {gauge}, and those of the other {count} cables are {usual}",
    way_out="is it {usual}? if it is as thin as that, there is nothing to change",
    why="18 written where 14 is in the ground gives wrong ohms and wrong volts.",
    fix="Look at the jacket; if it is as thin as that, there is nothing to change.",
    wrong=_FOUR.replace("gauge: 14 AWG", "gauge: 18 AWG", 1),
    right=_FOUR,
)
