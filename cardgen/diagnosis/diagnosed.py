"""What a diagnosis says: suspects with their weights, what is cleared, what to measure next.

Plain values without a sentence; the words of each are in the catalogue's section `diagnosis`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class FaultKind(StrEnum):
    """What may be wrong; each is put into the network and solved.

    Attributes:
        OPEN: a conductor or one of its splices carries nothing.
        RESISTIVE: a conductor or one of its splices has ohms that it should not have.
        CUT: all conductors of a cable between two places carry nothing.
        CONTACT: the contact of a sensor in the common is open.
        COIL_OPEN, COIL_LOW: a coil, or a splice of its leads; a coil with burnt turns.
        SECOND_COIL: a coil more hangs on the terminal than the job says.
        HOTS_TOUCH: two hots touch somewhere along a stretch, or in a box.
        HOT_ON_COMMON: a hot touches its common.
        EXCHANGED: the hots of two stations are exchanged.
        MOVED_ON: the hots of three stations, each on the terminal of the next.
        COMMON_EXCHANGED: a hot is on C, and the common on that hot's terminal.
        WRONG_RETURN: a valve hangs between its own hot and another valve's, not on the common.
        OTHER_COMMON: a valve returns on the common of another controller.
        COMMONS_JOINED: the commons of two controllers touch.
        SPARE_TOUCHES: a spare touches the wire that it was to be tied to farther out.
        SPARE_LIVE: a spare has volts under load: something live touches it.
        GROUND: insulation to ground is low.
        NO_OUTPUT: the wires are good, and nothing flows: the controller gives nothing there.
        VALVE_SHUT: the wires are good, and nothing ran: the valve itself, or its water.
        WRONG_BOX, WRONG_LENGTH, WRONG_GAUGE, WRONG_COIL: the job is wrong there, the wires are not.
        WRONG_READING: one value was read or written wrong.
    """

    OPEN = "open"
    RESISTIVE = "resistive"
    CUT = "cut"
    CONTACT = "contact open"
    COIL_OPEN = "coil open"
    COIL_LOW = "coil low"
    SECOND_COIL = "second coil"
    HOTS_TOUCH = "hots touch"
    HOT_ON_COMMON = "hot on common"
    EXCHANGED = "exchanged"
    MOVED_ON = "moved on"
    COMMON_EXCHANGED = "common exchanged"
    WRONG_RETURN = "wrong return"
    OTHER_COMMON = "other common"
    COMMONS_JOINED = "commons joined"
    SPARE_TOUCHES = "spare touches"
    SPARE_LIVE = "spare live"
    GROUND = "ground"
    NO_OUTPUT = "no output"
    VALVE_SHUT = "valve shut"
    WRONG_BOX = "wrong box"
    WRONG_LENGTH = "wrong length"
    WRONG_GAUGE = "wrong gauge"
    WRONG_COIL = "wrong coil"
    WRONG_READING = "wrong reading"


@dataclass(frozen=True, slots=True, kw_only=True)
class SuspectSite:
    """Where it may be, as far as the readings tell; no order is better than another.

    Attributes:
        conductor: as the job names it; empty where it is a coil, a contact, a terminal.
        start, end: between these two places, from the controller outward, both with their
            splices; the same place where it can only be a splice, a coil or a terminal there.
        least_m, most_m: how far from `start`, in meters; None where nothing tells.
    """

    conductor: str
    start: str
    end: str
    least_m: float | None = None
    most_m: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SuspectedFault:
    """Attributes:
    valves: those it names: whose hot, coil or reading; the two that are exchanged or touch; of
        three moved on each before the one whose terminal its hot is on.
    sites: all that the readings cannot tell apart; the likeliest first.
    ohms: what it adds, or has between what touches; None where it has none to tell.
    name: of the sensor, the cable, the kind of coil, the other controller or box, the common.
    alike: of exchanged hots, valves that would read the same, so that one of them may be it.
    """

    kind: FaultKind
    valves: tuple[str, ...]
    sites: tuple[SuspectSite, ...]
    ohms: float | None = None
    name: str = ""
    alike: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspect:
    """One fault, or two together, that would make the meter show what it showed.

    Attributes:
        share: of the weight of all that fits, 0 to 1; two that go together have each their own.
        meanwhile: valves that do not run as long as it is not repaired.
        again: valves to be read again then: it changes their values, so that what else may be
            wrong with them hardly shows now.
        beside: suspects by index of which one goes with it; none where it explains all alone.
    """

    faults: tuple[SuspectedFault, ...]
    share: float
    meanwhile: tuple[str, ...] = ()
    again: tuple[str, ...] = ()
    beside: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Exclusion:
    """A kind of fault that was thought of, and the value that speaks most against the best of it.

    Attributes:
        expected: what would have been read if it were so; infinite for OL.
    """

    kind: FaultKind
    valve: str
    expected: float
    read: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PossibleOutcome:
    """Between what the meter shows, and which suspects that would leave, by their index.

    Attributes:
        low, high: in the unit of the measurement; both infinite for OL.
    sites: where it would be then.
    """

    low: float
    high: float
    suspects: tuple[int, ...]
    sites: tuple[SuspectSite, ...] = ()


class StepKind(StrEnum):
    """What can be measured or done next.

    Attributes:
        COIL: ohms at the leads of a coil, taken off, in its box.
        COIL_WIRES: ohms at the wires from which the leads of a coil were taken, back from its box.
        CONTROLLER: ohms at the controller, of a valve not measured yet.
        HOT_TO_HOT: ohms between two hots at the controller.
        BYPASS: ohms at the controller once more, the contact of a sensor bypassed.
        OUTWARD: in a box, a splice opened, ohms from there toward the valve.
        OPEN_SPLICE: look at the splices of a place; ohms cannot tell more.
        RUN: run stations one by one and see whose area gets wet; ohms cannot tell more.
        AGAIN: the same value once more.
    """

    COIL = "coil"
    COIL_WIRES = "coil wires"
    CONTROLLER = "controller"
    HOT_TO_HOT = "hot to hot"
    BYPASS = "bypass"
    OUTWARD = "outward"
    OPEN_SPLICE = "open splice"
    RUN = "run"
    AGAIN = "again"


@dataclass(frozen=True, slots=True, kw_only=True)
class NextStep:
    """Attributes:
    valves: one, or two of a measurement between hots.
    at: the box or controller where it is done.
    effort: 1 is a measurement at the controller; assumed, common practice, no source.
    left: how much of the suspects' number it leaves on average, 0 to 1.
    name: of the sensor to bypass, of the conductor to look at.
    """

    kind: StepKind
    valves: tuple[str, ...]
    at: str
    effort: float
    left: float
    outcomes: tuple[PossibleOutcome, ...]
    name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClearedStretch:
    """A stretch that carries what it should, by the values that were read."""

    conductor: str
    start: str
    end: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FittedValue:
    """One reading in ohms beside what a sound wiring would show in this yard, on this day.

    Attributes:
        expected: None where it means nothing.
        low, high: where most sound readings lie.
    """

    reading: str
    valve: str
    value: float
    expected: float | None
    low: float | None
    high: float | None
    is_off: bool


class HiddenKind(StrEnum):
    """What may be wrong although all that was measured is good.

    Attributes:
        SMALL: a few ohms more or fewer than there should be.
        SWAPPED: hots of stations with like ohms exchanged.
        POLARITY: the leads of a latching coil exchanged.
        RUNS: no output of the controller, or a valve that does not open.
        GROUND: a leak to ground.
        COMMONS: commons of two controllers that touch.
    """

    SMALL = "small"
    SWAPPED = "swapped"
    POLARITY = "polarity"
    RUNS = "runs"
    GROUND = "ground"
    COMMONS = "commons"


@dataclass(frozen=True, slots=True, kw_only=True)
class HiddenFault:
    """Attributes:
    ohms: how many more or fewer do not show; None where it is not of ohms.
    valves: whose; or the controllers whose commons they are.
    """

    kind: HiddenKind
    ohms: float | None = None
    valves: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagnosis:
    """Attributes:
    suspects: within 20 to 1 of the likeliest, that first; empty where nothing is wrong.
    is_healthy: nothing that was measured speaks of a fault, `apart` left out.
    is_several: no single fault and no two explain it: the first found is to be repaired and
        the walk read again.
    apart: what one value shows by itself, whatever the others say: a leak, joined commons.
    coil_factors: by kind of coil, what its coils have of the ohms that the job says.
    celsius: of the conductors, as fitted; 20 where nothing speaks against it.
    counted: ids of all readings that were compared with something.
    hidden: of a healthy walk, what it leaves open.
    """

    controllers: tuple[str, ...]
    values: tuple[FittedValue, ...]
    is_healthy: bool
    is_several: bool
    suspects: tuple[Suspect, ...]
    excluded: tuple[Exclusion, ...]
    cleared: tuple[ClearedStretch, ...]
    steps: tuple[NextStep, ...]
    apart: tuple[SuspectedFault, ...] = ()
    coil_factors: tuple[tuple[str, float], ...] = ()
    celsius: float = 20.0
    counted: tuple[str, ...] = ()
    hidden: tuple[HiddenFault, ...] = ()
