"""Codes of master valves and pump start relays."""

from __future__ import annotations

from cardgen.checks.explanations.model import error, note, warning

_CABLE = """
cables:
  K1:
    gauge: 18 AWG
    colours: [white, red, blue, green, yellow, tan]
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
    colours: [white, red, blue, green, tan, pink]
    run: [A, 9 ft, VB-1, 9 ft, VB-2]
  K2: {gauge: 18 AWG, colours: [gray, brown, black, orange], run: [B, 9 ft, VB-3, 90 ft, VB-2]}
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

ENTRIES = (
    note(
        "master-valve",
        "a master valve runs with every station",
        "Measured at the controller, the current is that of station and master valve together.",
        "Nothing to mend; the legend and the test sheet say so.",
        _MASTER,
        _CABLE,
    ),
    note(
        "normally-open",
        "a master valve that power closes",
        "Tested like the others it seems to work the wrong way round.",
        "Nothing to mend; its tag says so.",
        _MASTER.replace("K1 green", "K1 green, normally open: yes, terminal: MV"),
        _MASTER,
    ),
    warning(
        "normally-open-on-mv",
        "a master valve that power closes is on MV, and nothing says it may be",
        "Most controllers switch MV on with every station: the valve would shut its water off.",
        "Write 'terminal: MV' where MV is set up for it, or name the terminal it is on.",
        _MASTER.replace("K1 green", "K1 green, normally open: yes"),
        _MASTER.replace("K1 green", "K1 green, normally open: yes, terminal: MV"),
    ),
    error(
        "master-valve-on-station",
        "a master valve hangs on a station",
        "It opens only with that station; all others stay dry.",
        "Land it on MV and describe it under 'master valves'.",
        _MASTER.replace("K1 green", "K1 green, terminal: 3"),
        _MASTER,
    ),
    error(
        "master-valve-tied",
        "two controllers share a master valve without isolators",
        "It ties the controllers together: each feeds the other's transformer.",
        "Give each controller an isolating relay and list them under 'isolators'.",
        _TWO.replace(" isolators: [A, B],", ""),
        _TWO,
        base="two controllers",
    ),
    note(
        "master-valve-shared",
        "two controllers share a master valve through isolators",
        "Its return is nobody's common and must be kept apart.",
        "Nothing to mend; the tags say so.",
        _TWO,
        _TWO[: _TWO.index("master valves:")],
        base="two controllers",
    ),
    note(
        "pump-relay",
        "a terminal starts a pump through a relay",
        "Only the relay's coil is on the terminal; the pump side has line voltage.",
        "Nothing to mend; the pump side is for a licensed electrician.",
        _RELAY,
        _CABLE,
    ),
    warning(
        "relay-shares-common",
        "a pump relay returns on the valves' common",
        "The volts lost by the valves are lost to the relay too, and it chatters.",
        "Give it a return of its own.",
        _RELAY.replace(" return: K1 yellow,", ""),
        _RELAY,
    ),
    warning(
        "relay-too-near",
        "a pump relay sits close to its controller",
        "Its contacts disturb the controller each time the pump starts.",
        "Keep it 15 ft (4.6 m) of wire away or more.",
        _RELAY.replace("85 ft", "10 ft"),
        _RELAY,
    ),
    error(
        "relay-chatter",
        "too few volts are left at a pump relay",
        "It chatters, and its contacts burn.",
        "A thicker conductor to the relay.",
        _RELAY.replace("85 ft", "900 ft").replace("60 ft", "160 ft"),
        _RELAY,
    ),
)
