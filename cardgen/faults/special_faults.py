"""Faults of master valves and pump start relays."""

from __future__ import annotations

from cardgen.faults.fault import ERROR, NOTE, WARNING, Fault

_CABLE = """
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, blue, green, yellow, tan]
    run: [A, 85 ft, VB-1, 60 ft, VB-2]
"""
_MASTER = (
    _CABLE
    + """
master valves:
  MV-1: {controllers: A, box: VB-1, hot: K1 green}
"""
)
_TWO = """
cables:
  K1:
    gauge: 18 AWG
    colors: [white, red, blue, green, tan, pink]
    run: [A, 9 ft, VB-1, 9 ft, VB-2]
  K2: {gauge: 18 AWG, colors: [gray, brown, black, orange], run: [B, 9 ft, VB-3, 90 ft, VB-2]}
master valves:
  MV-1: {controllers: [A, B], isolators: [A, B], box: VB-1, hot: K1 green, return: K1 tan}
"""
_COILS = """
coils:
  usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A, minimum: 18 V}
  relay: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.60 A, holding: 0.35 A, minimum: 20 V}
"""
_RELAY = (
    _COILS
    + _CABLE
    + """
relays:
  PUMP-1: {controller: A, box: VB-1, hot: K1 green, return: K1 yellow, coil: relay}
"""
)

MASTER_VALVE = Fault(
    code="master-valve",
    verdict=NOTE,
    title="a master valve runs with every station",
    sentence="{valve} in '{box}' runs with every station of {controllers}",
    way_out="measured at the controller, the current is that of station and master valve",
    why="Measured at the controller, the current is that of station and master valve together.",
    fix="Nothing to fix; the legend and the test sheet say so.",
    wrong=_MASTER,
    right=_CABLE,
)

NORMALLY_OPEN = Fault(
    code="normally-open",
    verdict=NOTE,
    thing="valve",
    title="a master valve that power closes",
    sentence="{valve} in '{box}' is normally open: power closes it",
    way_out="its tag says so",
    why="Tested like the others it seems to work the wrong way round.",
    fix="Nothing to fix; its tag says so.",
    wrong=_MASTER.replace("K1 green", "K1 green, normally open: yes, live only to close: yes"),
    right=_MASTER,
)

NORMALLY_OPEN_ON_MV = Fault(
    code="normally-open-on-mv",
    verdict=WARNING,
    thing="valve",
    title="a normally open master valve may close while stations run",
    sentence=(
        "{valve} in '{box}' is normally open: is {terminal} of {controllers} live while stations "
        "run? It would shut their water off"
    ),
    way_out=(
        "if {terminal} is live only to shut the water off, answer 'live only to close: yes'; else "
        "set {controllers} up for a normally open valve, or use another terminal"
    ),
    why=(
        "Most controllers switch MV on with every station: the valve would shut its water off. "
        "With the power locked off it opens, and the main line has pressure."
    ),
    fix="Look at the controller, then write 'live only to close: yes' where its terminal is so.",
    wrong=_MASTER.replace("K1 green", "K1 green, normally open: yes, terminal: MV"),
    right=_MASTER.replace("K1 green", "K1 green, normally open: yes, live only to close: yes"),
)

MASTER_VALVE_ON_STATION = Fault(
    code="master-valve-on-station",
    verdict=ERROR,
    title="a master valve is on a station terminal",
    sentence="{valve} is on station terminal {terminal}: it would open only with that station",
    way_out="a master valve belongs on MV, which runs with every station",
    variants={
        "by its area": (
            "{station} is called '{area}' but is a station: it would open only in its own turn",
            "describe it under 'master valves'; it belongs on MV",
        ),
    },
    why="It opens only with that station; all others stay dry.",
    fix="Land it on MV and describe it under 'master valves'.",
    wrong=_MASTER.replace("K1 green", "K1 green, terminal: 3"),
    right=_MASTER,
)

MASTER_VALVE_TIED = Fault(
    code="master-valve-tied",
    verdict=ERROR,
    title="two controllers share a master valve without isolating relays",
    sentence=(
        "{valve} is on {controllers} with no isolating relay for {bare}: it ties the "
        "controllers together"
    ),
    way_out=(
        "lock off {controllers} and prove dead with the meter first, for a stopped controller can "
        "be fed backward through its transformer; then give each an isolating relay and write "
        "'isolators: [{names}]'"
    ),
    why="It ties the controllers together: each feeds the other's transformer.",
    fix=(
        "Lock off all of them and prove dead with the meter before you touch. Give each controller "
        "an isolating relay and list them under 'isolators'."
    ),
    wrong=_TWO.replace(" isolators: [A, B],", ""),
    right=_TWO,
    base="two controllers",
)

MASTER_VALVE_SHARED = Fault(
    code="master-valve-shared",
    verdict=NOTE,
    thing="valve",
    title="two controllers share a master valve through isolating relays",
    sentence="{valve} in '{box}' serves {controllers}, each through its own isolating relay",
    way_out=(
        "its return is nobody's common: keep it separate; lock off {controllers} before work on it"
    ),
    why=(
        "Its return is nobody's common and must be kept separate; it is live from each of them, so "
        "all of them are locked off before work on it."
    ),
    fix="Nothing to fix; the tags say so.",
    wrong=_TWO,
    right=_TWO[: _TWO.index("master valves:")],
    base="two controllers",
)

PUMP_RELAY = Fault(
    code="pump-relay",
    verdict=NOTE,
    thing="relay",
    title="a terminal starts a pump through a relay",
    sentence="{relay} in '{box}' starts a pump through a relay on {terminal} of {controller}",
    way_out=(
        "only the relay's coil is on the terminal; the pump side is for a licensed electrician, "
        "and the pump disconnect is locked off too; test the relay only with a station open"
    ),
    why=(
        "Only the relay's coil is on the terminal; the pump side has line voltage. Energized by "
        "itself it runs the pump against closed valves."
    ),
    fix=(
        "Nothing to fix. Lock off the pump disconnect too; the pump side is for a licensed "
        "electrician. Test the relay only with a station open."
    ),
    wrong=_RELAY,
    right=_CABLE,
)

RELAY_SHARES_COMMON = Fault(
    code="relay-shares-common",
    verdict=WARNING,
    thing="relay",
    title="a pump relay returns on the valves' common",
    sentence="{relay} returns on the common of the valves and may chatter",
    way_out="give it a separate return: 'return: ...'",
    why="The volts lost by the valves are lost to the relay too, and it chatters.",
    fix="Give it a separate return.",
    wrong=_RELAY.replace(" return: K1 yellow,", ""),
    right=_RELAY,
)

RELAY_TOO_NEAR = Fault(
    code="relay-too-near",
    verdict=WARNING,
    thing="relay",
    title="a pump relay is too close to its controller",
    sentence="{relay} is {feet} ft of wire from {controller}",
    way_out="keep a relay 15 ft (4.6 m) or more away: its contacts disturb the controller",
    why="Its contacts disturb the controller each time the pump starts.",
    fix="Keep it 15 ft (4.6 m) of wire away or more.",
    wrong=_RELAY.replace("85 ft", "10 ft"),
    right=_RELAY,
)

RELAY_CHATTER = Fault(
    code="relay-chatter",
    verdict=ERROR,
    title="too few volts are left at a pump relay",
    sentence="{coil}{beside} has {volts} V at inrush and needs {least} V: the relay will chatter",
    way_out=(
        "most is lost in {conductor} from '{start}' to '{end}' ({gauge}, {length}); "
        "{ways} would do; one such coil alone: {reach}"
    ),
    variants={
        "no gauge": (
            "",
            (
                "most is lost in {conductor} from '{start}' to '{end}' ({gauge}, {length}); no "
                "gauge that is made would do: bring the controller nearer, or use a relay; one "
                "such coil alone: {reach}"
            ),
        ),
    },
    why="It chatters, and its contacts burn.",
    fix="Use a thicker conductor to the relay.",
    wrong=_RELAY.replace("85 ft", "900 ft").replace("60 ft", "160 ft"),
    right=_RELAY,
)
