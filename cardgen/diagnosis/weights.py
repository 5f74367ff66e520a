"""How often what goes wrong, how exactly a meter and a coil are what they say.

All of it is common practice, no source, in round numbers; only ratios matter.  `tests/benchmarks`
draws its faults by other weights.
"""

from __future__ import annotations

from cardgen.diagnosis.diagnosed import FaultKind, StepKind

# Errors, each one standard deviation.
METER_OHMS = 0.5
METER_PART = 0.006  # of the reading
COIL_SCATTER = 0.04  # between coils of one kind and batch
COIL_BATCH = 0.08  # of a whole batch against what the job says, the temperature in it
WIRE_PART = 0.04  # of all wire alike: temperature, and lengths that a person paced
WIRE_SCATTER = 0.03  # of the wire of one circuit
WHOLE_CURRENT = 1 - 1e-4  # a part of it that is more than this is all: nothing goes another way

# What a meter shows when nothing but damp soil conducts.
OPEN_FROM_OHMS = 20_000.0
MOST_EXTRA_OHMS = 20_000.0
LEAST_EXTRA_OHMS = 2.0

# Log of what a value costs that nothing explains: as much as any second fault and its ohms.
UNEXPLAINED = -22.0
# Within this of the likeliest (log 20) a suspect is kept: 20 to 1.
KEPT = 3.0
# So much likelier than a sound yard must a fault be before anything is said.
ALARM = 3.0

# By kind, log of how often it is there for each thing that may have it, against a sound yard.
# What one value shows by itself, a leak or joined commons, is not weighed.
LOG_WEIGHT = {
    FaultKind.OPEN: -7.0,  # each splice
    FaultKind.RESISTIVE: -7.0,  # each splice
    FaultKind.CUT: -8.5,  # each leg of a cable
    FaultKind.CONTACT: -7.0,
    FaultKind.COIL_OPEN: -7.0,
    FaultKind.COIL_LOW: -8.0,
    FaultKind.SECOND_COIL: -9.0,
    FaultKind.HOTS_TOUCH: -10.0,  # each two hots of a leg
    FaultKind.HOT_ON_COMMON: -9.0,  # each leg
    FaultKind.EXCHANGED: -10.0,  # each two stations
    FaultKind.MOVED_ON: -11.5,  # each three stations
    FaultKind.COMMON_EXCHANGED: -9.0,  # each station
    FaultKind.WRONG_RETURN: -8.5,  # each two stations of a box
    FaultKind.OTHER_COMMON: -9.0,
    FaultKind.NO_OUTPUT: -7.0,
    FaultKind.VALVE_SHUT: -6.0,
    FaultKind.WRONG_BOX: -10.5,
    FaultKind.WRONG_LENGTH: -9.0,
    FaultKind.WRONG_GAUGE: -9.0,
    FaultKind.WRONG_COIL: -9.0,
    FaultKind.WRONG_READING: -10.5,
}
PER_LEG = 0.3  # of a splice's weight: a leg itself, between its splices

# How much work each is; common practice, no source: opening a box costs a walk and a lid,
# opening splices in it costs new connectors, bypassing a sensor two terminals.
EFFORT = {
    StepKind.BYPASS: 0.5,
    StepKind.AGAIN: 1.0,
    StepKind.CONTROLLER: 1.0,
    StepKind.HOT_TO_HOT: 1.0,
    StepKind.COIL: 3.0,
    StepKind.COIL_WIRES: 3.0,
    StepKind.OUTWARD: 3.0,
    StepKind.OPEN_SPLICE: 5.0,
    StepKind.RUN: 1.0,
}
