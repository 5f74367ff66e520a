"""The tree of the worked table: eight stations on one 18 AWG cable, two in each of four boxes.

C and 1 to 8, 18 AWG: B1 at 200 ft, B2 at 350, B3 at 600, B4 at 900; coils of 30 ohms.
"""

from __future__ import annotations

from tests.diagnosis.plans import COLORS, Plan, PlannedCable, PlannedValve

BOXES = ("B1", "B2", "B3", "B4")
FEET = (200.0, 150.0, 250.0, 300.0)
CABLE = "A-K1"


def trade_yard(ohms: float = 30.0) -> Plan:
    hots = {f"A{number}": f"{CABLE} {COLORS[number - 1]}" for number in range(1, 9)}
    plan = Plan(seed=0, coils={"usual": ohms}, controllers=["A"], boxes=list(BOXES))
    plan.cables[CABLE] = PlannedCable(
        id=CABLE,
        controller="A",
        places=["A", *BOXES],
        feet=list(FEET),
        gauge="18 AWG",
        common_gauge="18 AWG",
        is_bundle=False,
        hots=hots,
    )
    for number, (station, hot) in enumerate(hots.items()):
        plan.valves[station] = PlannedValve(
            id=station,
            station=station,
            controller="A",
            terminal=station[1:],
            box=BOXES[number // 2],
            coil="usual",
            hots=[hot],
        )
    return plan


PLAN = trade_yard()
COMMON = PLAN.cables[CABLE].common


def hot(station: int) -> str:
    return PLAN.cables[CABLE].hots[f"A{station}"]
