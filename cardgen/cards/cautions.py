"""Which cautions each paper carries, by what hands meet there: names of texts, in their order.

What can hurt someone at a controller or a box.  Sources: breaker off first and one-call before
digging, public utility and safety pages; the rest is common practice, no source.  Nothing here
claims that a job meets any code.

A paper's order names all that it may carry; of these it carries what its situation asks for:
"lock off" only where a controller with power of its own is live, "line" only where line voltage
can be met.  The texts are those of the catalogue's section `cautions`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from cardgen.asbuilt import AsBuilt, BuiltBox, BuiltController, BuiltValve
from cardgen.light_dataclass import dataclass, replace
from cardgen.units import SupplyKind
from cardgen.words import Text, Words

IF_SEVERAL = " if several"  # behind a name: only where more than one controller is live
# What a hand must know first stands first.
SPLICE_CARD = (
    *("pump", "reclaimed", "lock off", "take battery out", "prove dead", "fed backward"),
    *("path", "ring", "opens without power"),
)
VALVE_TAG = ("lock off on tag if several", "take battery out if several")
SMALL_VALVE_TAG = ("lock off on small tag if several", "take battery out if several")
BOX_TAG = ("pump", *SMALL_VALVE_TAG)
LEGEND = (
    *("pump", "power", "lock off if several", "prove dead if several", "battery", "path"),
    *("opens without power", "line", "dig", "reach", "storm", "code"),
)
BEFORE = "photo"
TEST_SHEET = (
    *("pump", "pump alone", "reclaimed", "lock off if several", "prove dead if several", "path"),
    "opens without power",
)
# Of who goes from the controller to a box, meter in hand, and may dig.
FAULT_SHEET = (
    *("pump", "pump alone", "reclaimed", "lock off", "take battery out", "prove dead"),
    *("fed backward", "path", "ring", "opens without power", "line", "photo", "dig", "reach"),
    *("storm", "code"),
)
SPARE_LIST = ("lock off", "take battery out", "prove dead")
SURVEY = ("lock off", "take battery out", "prove dead", "reach", "dig")
CLOSING = ("pump", "power", "battery", "line", "dig", "reach", "storm")
# At the head of a page of the record, and at the foot of every page.
PAGE_OF_BOX = (
    *("pump", "pump alone", "lock off", "take battery out", "prove dead", "fed backward"),
    *("path", "ring", "opens without power"),
)
PAGE_OF_CONTROLLER = (
    *("pump", "pump alone", "power", "lock off", "battery", "prove dead", "fed backward"),
    *("path", "opens without power"),
)
FOOT_OF_PAGE = ("power", "battery", "line", "reach", "photo", "dig", "storm", "code")


@dataclass(frozen=True, slots=True, kw_only=True)
class Situation:
    """What hands meet at a place, as names.

    Attributes:
        powered: controllers that are live there and have line voltage on their other side.
        batteries: controllers that are live there and run on a battery.
        paths: those of the powered that drive a two-wire path.
        relays: pump start relays there; a pump's line voltage is beside them.
        rings: controllers whose common or path is fed from two sides there.
        open_valves: master valves there that let water through while they have no power.
        water: `reclaimed`, or empty.
    """

    powered: tuple[str, ...] = ()
    batteries: tuple[str, ...] = ()
    paths: tuple[str, ...] = ()
    relays: tuple[str, ...] = ()
    rings: tuple[str, ...] = ()
    open_valves: tuple[str, ...] = ()
    water: str = ""

    @property
    def several(self) -> bool:
        """Who stops one controller has not stopped the other."""
        return len(self.powered) + len(self.batteries) > 1


@dataclass(frozen=True, slots=True)
class Caution:
    """A text of the catalogue's section `cautions`, and the names in it."""

    name: str
    about: tuple[str, ...] = ()


# By caution the names that it speaks of; without any it is left out.
_ABOUT: Mapping[str, Callable[[Situation], tuple[str, ...]]] = {
    "pump": lambda at: at.relays,
    "pump alone": lambda at: at.relays,
    "lock off": lambda at: at.powered,
    "lock off on tag": lambda at: at.powered,
    "lock off on small tag": lambda at: at.powered,
    "take battery out": lambda at: at.batteries,
    "battery": lambda at: at.batteries,
    "fed backward": lambda at: at.powered if len(at.powered) > 1 else (),
    "path": lambda at: at.paths,
    "ring": lambda at: at.rings,
    "opens without power": lambda at: at.open_valves,
}
# Those that name nothing and hold not everywhere.
_WHERE: Mapping[str, Callable[[Situation], bool]] = {
    "reclaimed": lambda at: bool(at.water),
    "power": lambda at: bool(at.powered),
    "prove dead": lambda at: bool(at.powered),
    "line": lambda at: bool(at.powered or at.relays),
}


def cautions_for(order: Sequence[str], at: Situation) -> Iterator[Caution]:
    """Those of a paper's order that its situation asks for."""
    for entry in order:
        name = entry.removesuffix(IF_SEVERAL)
        if name != entry and not at.several:
            continue
        if name in _ABOUT:
            about = _ABOUT[name](at)
            if about:
                yield Caution(name, about)
        elif name not in _WHERE or _WHERE[name](at):
            yield Caution(name)


def in_words(words: Words, order: Sequence[str], at: Situation) -> tuple[Text, ...]:
    """The same as they are printed; a name that a text has no place for is not in it."""
    return tuple(
        words(
            f"cautions.{caution.name}",
            names=words.list_of(caution.about),
            plus=" + ".join(caution.about),
        )
        for caution in cautions_for(order, at)
    )


def in_box(known: AsBuilt, box: BuiltBox) -> Situation:
    return _situation(known, box.controllers, box.valves, rings=box.rings)


def at_valves(known: AsBuilt, valves: Sequence[BuiltValve]) -> Situation:
    """One, or those of a station: what its conductors are live from."""
    live = dict.fromkeys(name for valve in valves for name in valve.controllers)
    beside = dict.fromkeys(relay for valve in valves for relay in known.box[valve.box].relays)
    return replace(_situation(known, live, valves), relays=tuple(beside))


def at_controller(known: AsBuilt, controller: BuiltController) -> Situation:
    """Its strip, and what hangs on it outside."""
    live = controller.controllers or (controller.id,)
    return _situation(known, live, known.valves_live_from(controller.id))


def at_places(known: AsBuilt, places: Iterable[str]) -> Situation:
    """Several boxes and controllers that somebody goes to in turn."""
    named = dict.fromkeys(places)
    boxes = [known.box[place] for place in named if place in known.box]
    live = [name for box in boxes for name in box.controllers]
    for place in named:
        if place in known.controller:
            live += known.controller[place].controllers or (place,)
    valves = [valve for box in boxes for valve in box.valves]
    rings = tuple(dict.fromkeys(ring for box in boxes for ring in box.rings))
    in_order = [name for name in known.controller if name in live]
    return _situation(known, in_order, valves, rings=rings)


def in_job(known: AsBuilt) -> Situation:
    return _situation(known, known.controller, known.valves)


def _situation(
    known: AsBuilt,
    live: Iterable[str],
    valves: Iterable[BuiltValve],
    *,
    rings: tuple[str, ...] = (),
) -> Situation:
    controllers, valves = [known.controller[name] for name in live], tuple(valves)
    return Situation(
        powered=tuple(c.id for c in controllers if not c.battery),
        batteries=tuple(c.id for c in controllers if c.battery),
        paths=tuple(c.id for c in controllers if c.supply_kind == SupplyKind.TWO_WIRE),
        relays=tuple(valve.id for valve in valves if valve.kind == "relay"),
        rings=rings,
        open_valves=tuple(valve.id for valve in valves if valve.normally_open),
        water=known.water,
    )
