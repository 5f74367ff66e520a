"""Work out which names change with one: of a controller its stations', of a station its flags."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from cardgen.job.job_parts import Job, Station
from cardgen.owners import common_of, path_of
from cardgen.wiring.loads import landing_words, read_name

# What is named in runs, joints and flags: in one job each of these names stands for one thing.
SECTIONS = (
    *("controllers", "boxes", "cables", "stations", "master valves", "relays", "decoders"),
    *("sensors", "spares", "pigtails"),
)
# What only fields of its kind name, so that a box may have the same name.
APART = ("coils", "palettes", "connectors")
_WITH_FLAGS = ("stations", "master valves", "relays", "decoders", "sensors", "spares")
_PATH_SIDES = (1, 2)


@dataclass(slots=True, kw_only=True)
class NewNames:
    """Old names and new ones.

    Attributes:
        names: of all things in `SECTIONS`, and of the valves of a station.
        apart: by section, of those in `APART`.
        flags: what is written on conductors.
        keys: where the things themselves have their names, as `("stations", "A1")`, inner first.
        lands: by the old name of a station, what it must say so that it stays on its terminal.
    """

    names: dict[str, str] = field(default_factory=dict)
    apart: dict[str, dict[str, str]] = field(default_factory=dict)
    flags: dict[str, str] = field(default_factory=dict)
    keys: dict[tuple[str, ...], str] = field(default_factory=dict)
    lands: dict[str, dict[str, str]] = field(default_factory=dict)

    @property
    def of_sections(self) -> dict[str, dict[str, str]]:
        """By section, of its entries alone."""
        found: dict[str, dict[str, str]] = {}
        for (section, old, *inner), name in self.keys.items():
            if not inner:
                found.setdefault(section, {})[old] = name
        return found


def new_names(job: Job, section: str, wanted: Mapping[str, str]) -> NewNames:
    """All that changes when things of a section get the names wanted."""
    found = NewNames()
    for old, new in wanted.items():
        if section == "controllers":
            _controller(job, old, new, found)
        elif section == "stations" and old in job.stations:
            _station(job, job.stations[old], new, found)
        else:
            _thing(section, old, new, found)
    return found


def _thing(section: str, old: str, new: str, found: NewNames) -> None:
    found.keys[(section, old)] = new
    if section in APART:
        found.apart.setdefault(section, {})[old] = new
        return
    found.names[old] = new
    if section in _WITH_FLAGS:
        found.flags[old] = new


def _controller(job: Job, old: str, new: str, found: NewNames) -> None:
    """A station that says its controller keeps its name; one whose name says it does not."""
    for station in job.stations.values():
        named, _ = read_name(station.id)
        if named == old and station.controller is None:
            _station(job, station, _on(new, station.id[len(old) :]), found, moves=True)
    _thing("controllers", old, new, found)
    found.flags[common_of(old)] = common_of(new)
    for side in _PATH_SIDES:
        found.flags[path_of(old, side)] = path_of(new, side)


def _on(controller: str, rest: str) -> str:
    """`P7` for the `7` of `A7`; `P1-7` where `P17` would say terminal 17 of P."""
    name = f"{controller}{rest}"
    return name if read_name(name)[0] == controller else f"{controller}-{rest}"


def _station(job: Job, station: Station, new: str, found: NewNames, *, moves: bool = False) -> None:
    """A name that says a terminal puts the station there; one that does not leaves it."""
    for valve in station.valves:
        if valve.startswith(station.id):
            name = f"{new}{valve[len(station.id) :]}"
            found.names[valve] = found.flags[valve] = name
            found.keys[("stations", station.id, "valves", valve)] = name
    _thing("stations", station.id, new, found)
    controller, terminal = landing_words(station)
    owner, number = read_name(new)
    stays = {"controller": controller} if not (moves or station.controller) else {}
    if owner in job.controllers:
        stays = {}
    if station.terminal is None and (stays or not number):
        stays["terminal"] = terminal
    found.lands[station.id] = {key: text for key, text in stays.items() if text}


def taken(job: Job, found: NewNames) -> Iterable[tuple[str, str]]:
    """New names that something else has already, each with the name that would get it."""
    there = {name for section in SECTIONS for name in getattr(job, section.replace(" ", "_"))}
    there |= {valve for station in job.stations.values() for valve in station.valves}
    there |= job.reported
    for old, new in found.names.items():
        if new in there - found.names.keys():
            yield old, new
    for section, names in found.apart.items():
        for old, new in names.items():
            if new in getattr(job, section).keys() - names.keys():
                yield old, new
