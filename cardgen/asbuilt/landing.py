"""Find what is on each terminal of a controller: by itself, or by way of pigtails."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Sequence
from typing import NamedTuple

from cardgen.facts import Facts
from cardgen.light_dataclass import dataclass
from cardgen.wiring.wiring_parts import COMMON_TERMINAL, End, Joint
from cardgen.wiring.written import CONTACT_SIDES

Key = tuple[str, int]  # of a terminal: its name, and which of that name along the strip


class LandingEnd(NamedTuple):
    """An end of a conductor, the pigtails and the contact that lie between terminal and it."""

    end: End
    by: tuple[str, ...]
    behind: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TerminalWires:
    """What is on one terminal.

    Attributes:
        pigtails: all that are on it, with a conductor behind them or not.
    """

    ends: tuple[LandingEnd, ...]
    pigtails: tuple[str, ...]


class LandingWay(NamedTuple):
    """The terminals that a joint is on, and what lies between: pigtails, a sensor's contact."""

    keys: list[Key]
    by: tuple[str, ...] = ()
    behind: str = ""


def landings(facts: Facts, controller: str) -> dict[Key, TerminalWires]:
    """By terminal; where terminals are one, an end is on that of its hot."""
    ends: dict[Key, list[LandingEnd]] = defaultdict(list)
    pigtails: dict[Key, dict[str, None]] = defaultdict(dict)
    homes = _homes(facts, controller)
    reached = _reached(facts, controller)
    for number, joint in enumerate(facts.joints_at.get(controller, ())):
        if number not in reached:
            continue
        keys, by, behind = reached[number]
        for end in joint.ends:
            if end.of in facts.wiring.conductors:
                home = homes.get(end.of, "")
                key = next((each for each in keys if each[0] == home), keys[0])
                ends[key].append(LandingEnd(end, by, behind))
            elif end.of in facts.job.pigtails:
                pigtails[keys[0]][end.of] = None
    return {
        key: TerminalWires(ends=tuple(ends[key]), pigtails=tuple(pigtails[key]))
        for key in dict.fromkeys((*ends, *pigtails))
    }


def _reached(facts: Facts, controller: str) -> dict[int, LandingWay]:
    """By number of a joint the terminals it is on, with the fewest pigtails that lead there.

    What is behind a contact in the common is on the C before it; on the first where none is.
    """
    joints = facts.joints_at.get(controller, [])
    links = _links(facts, joints)
    found: dict[int, LandingWay] = {}
    terminals = {
        number: LandingWay(_keys(joint, controller)) for number, joint in enumerate(joints)
    }
    contacts = {
        number: LandingWay([(COMMON_TERMINAL, 1)], behind=sensor)
        for number, joint in enumerate(joints)
        for sensor in [next((e.of for e in joint.ends if e.side in CONTACT_SIDES), "")]
        if sensor
    }
    for roots in (terminals, contacts):
        queue = deque(number for number, way in roots.items() if way.keys and number not in found)
        found |= {number: roots[number] for number in queue}
        while queue:
            number = queue.popleft()
            for name in dict.fromkeys(end.of for end in joints[number].ends):
                for further in links.get(name, ()):
                    if further not in found:
                        found[further] = _beyond(facts, found[number], name)
                        queue.append(further)
    return found


def _beyond(facts: Facts, way: LandingWay, name: str) -> LandingWay:
    """The way to a joint on the other side of a pigtail or of a sensor's contact."""
    if name in facts.job.pigtails:
        return way._replace(by=(*way.by, name))
    return way._replace(behind=name)


def _links(facts: Facts, joints: Sequence[Joint]) -> dict[str, list[int]]:
    """By pigtail, and by sensor with a contact, the numbers of the joints that it links."""
    found: dict[str, list[int]] = defaultdict(list)
    for number, joint in enumerate(joints):
        for end in joint.ends:
            if end.of in facts.job.pigtails or end.side in CONTACT_SIDES:
                found[end.of].append(number)
    return found


def _keys(joint: Joint, controller: str) -> list[Key]:
    """The terminals in a joint; of several C the one that it names, else the first."""
    names = [end.side for end in joint.ends if end.of == controller]
    return [(name, joint.which or 1 if name == COMMON_TERMINAL else 1) for name in names]


def _homes(facts: Facts, controller: str) -> dict[str, str]:
    """By conductor the terminal from which it is fed as a hot."""
    return {
        circuit.hot_at_controller.name: circuit.load.hot_end.side
        for circuit in facts.circuits_of.get(controller, ())
        if circuit.load.hot_end.of == controller
    }
