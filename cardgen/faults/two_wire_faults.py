"""Faults of two-wire paths and decoders."""

from __future__ import annotations

from cardgen.faults.fault import ERROR, NOTE, WARNING, Fault

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
  M1: {gauge: 14 AWG, colors: [red, black], run: [D, 410 ft, DX-1, 380 ft, DX-2]}
  M2: {gauge: 14 AWG, colors: [red, black], run: [DX-2, 300 ft, DX-3]}
  M3: {gauge: 14 AWG, colors: [red, black], run: [D, 300 ft, DX-3]}
"""

STATION_WITHOUT_DECODER = Fault(
    code="station-without-decoder",
    verdict=ERROR,
    title="a station of a two-wire path names no decoder",
    sentence="{station} is on the two-wire path of {controller} and names no decoder",
    way_out="write 'decoder: ...'",
    why="Nothing on the path answers for it.",
    fix="Name its decoder.",
    wrong=_STATIONS.replace(", decoder: DC-2", ""),
    right=_STATIONS,
    base="two-wire",
)

DECODER_USED_TWICE = Fault(
    code="decoder-used-twice",
    verdict=ERROR,
    title="two stations are on one decoder address",
    sentence="{decoder} drives {first} and {second}",
    way_out="two valves would run at once: one decoder entry for each address",
    why="Both valves run at once.",
    fix="Write one decoder entry for each address.",
    wrong=_STATIONS.replace("DC-2", "DC-1"),
    right=_STATIONS,
    base="two-wire",
)

DECODER_WITHOUT_PATH = Fault(
    code="decoder-without-path",
    verdict=ERROR,
    title="a station with a decoder is on a controller without a path",
    sentence="{station} names a decoder, but {controller} is not a two-wire controller",
    way_out="leave 'decoder' out, or write 'supply: two-wire'",
    why="A decoder does nothing on a plain terminal.",
    fix="Leave 'decoder' out, or write 'supply: two-wire'.",
    wrong="""
        decoders: {DC-1: {box: VB-1, address: 1}}
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red, decoder: DC-1}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
    right="""
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2: {area: side lawn, box: VB-2, hot: K1 blue}
        """,
)

DECODER_WITHOUT_STATION = Fault(
    code="decoder-without-station",
    verdict=NOTE,
    title="a decoder drives no station",
    sentence="{decoder} drives no station",
    way_out="say which station it is for, or that it waits for one",
    why="It may wait for one; the next crew will ask.",
    fix="Name it at its station, or leave it as it is.",
    wrong=_DECODERS + "  DC-4: {box: DX-3, address: 204}\n",
    right=_DECODERS,
    base="two-wire",
)

ADDRESS_TWICE = Fault(
    code="address-twice",
    verdict=ERROR,
    title="two decoders answer to one address",
    sentence="{first} and {second} both answer to address {address}",
    way_out="two valves would run at once: give each its own address",
    why="Both valves run whenever one is called.",
    fix="Give each its own address, and write it on the tag.",
    wrong=_DECODERS.replace("202", "201"),
    right=_DECODERS,
    base="two-wire",
)

DECODER_TOO_FAR = Fault(
    code="decoder-too-far",
    verdict=WARNING,
    thing="decoder",
    title="a decoder is farther from its valve than allowed",
    sentence="{decoder} is {length} from its valve; the limit is {limit}",
    way_out="move the decoder to the valve",
    why="The wire between them catches surges, and the coil loses volts.",
    fix="Move the decoder to the valve.",
    wrong=_DECODERS.replace("202, to valve: 6 ft", "202, to valve: 60 ft"),
    right=_DECODERS,
    base="two-wire",
)

DECODER_OUTPUTS_JOINED = Fault(
    code="decoder-outputs-joined",
    verdict=ERROR,
    title="the output of a decoder is joined with something else",
    sentence="in '{at}' the output of {decoders} is joined with something else",
    way_out="each decoder output goes to its own valve by its own pair and nowhere else",
    variants={
        "several": "in '{at}' the outputs of {decoders} are joined",
    },
    why="Decoders share no common: both outputs stop working or burn.",
    fix="Each output goes to its own valve by its own pair.",
    wrong=_JOINTS.replace("path 2]", "path 2, D2]"),
    right=_JOINTS,
    base="two-wire",
)

PATH_SHORTED = Fault(
    code="path-shorted",
    verdict=ERROR,
    title="the two sides of a path touch",
    sentence="the two sides of the path of {controller} are joined{where}",
    way_out="separate them",
    why="The controller switches the whole path off.",
    fix="Separate them in the box that the message names.",
    wrong=_JOINTS.replace("M2 red, DC-2", "M2 red, M1 black, DC-2").replace("[M1 black, ", "["),
    right=_JOINTS,
    base="two-wire",
)

PATH_CROSSED = Fault(
    code="path-crossed",
    verdict=ERROR,
    title="the two sides of a path are swapped in a box",
    sentence="in '{at}' the path of {controller} is crossed: nothing beyond will answer",
    way_out="join like with like",
    why="Where polarity matters, nothing beyond it answers.",
    fix="Join like with like.",
    wrong=_JOINTS.replace("M2 red", "M2 RED").replace("M2 black", "M2 red").replace("RED", "black"),
    right=_JOINTS,
    base="two-wire",
)

PATH_STOPS = Fault(
    code="path-stops",
    verdict=ERROR,
    title="the path does not reach a decoder",
    sentence="the path of {controller} stops in '{at}': {decoders} will not answer",
    way_out="join both sides onward, each decoder with both",
    variants={
        "does not come": (
            "the path of {controller} does not reach '{box}': {decoders} will not answer",
            "list both sides' conductors under 'path 1' and 'path 2'",
        ),
    },
    why="The decoder and all beyond it do not answer.",
    fix="Join both sides onward, and list both sides' conductors under 'path 1' and 'path 2'.",
    wrong=_JOINTS.replace("M1 red, M2 red", "M1 red"),
    right=_JOINTS,
    base="two-wire",
)

PATH_RING = Fault(
    code="path-ring",
    verdict=NOTE,
    thing="controller",
    title="a path is a ring",
    sentence="the path of {controller} is a ring over {boxes}: a break in it hides",
    way_out="mark the box in the middle of the ring, so that it can be opened there",
    why="A single break in it hides, and a fault cannot be halved without opening it.",
    fix="Mark the box in the middle of the ring, so that it can be opened there.",
    wrong=_RING,
    right=_D,
    base="two-wire",
)

SURGE_UNIT_MISSING = Fault(
    code="surge-unit-missing",
    verdict=WARNING,
    thing="box",
    title="a stretch of path has no surge unit",
    sentence="'{box}' is {reach} of path beyond the last surge unit of {controller}",
    way_out="set one within {interval}",
    variants={
        "by decoders": ("", "set one at every {most} decoders"),
    },
    why="One storm can take out every decoder of the stretch.",
    fix="Set a surge unit with its own ground rod within the distance that the maker gives.",
    wrong=_D + "    surge interval: 600 ft\n",
    right=_D + "    surge interval: 600 ft\nsurge units: [DX-1, DX-2, DX-3]\n",
    base="two-wire",
)
