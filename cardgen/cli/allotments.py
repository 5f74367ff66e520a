"""Show which conductors were given to which station, and what each leg of cable needs."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from cardgen.allot import Allotment, LegNeed, Way
from cardgen.allot.demand import makeup
from cardgen.wiring.wiring_parts import Conductor, Hop

_STATION_HEAD = ("station", "conductors from the controller outward", "color changes")
_LEG_HEAD: tuple[str, ...] = ("cable", "leg", "needs", "has", "size", "smallest that would do")
STRANGE_FLAG = "flagged for something else: put its flag right"


def as_text(found: Allotment) -> str:
    """The stations with their conductors, then every leg of cable."""
    parts = []
    if found.ways:
        parts.append(_table([_STATION_HEAD, *_station_rows(found)]))
        parts.append(_total(found))
    if found.legs:
        rows = [_LEG_HEAD, *map(_leg_row, found.legs)]
        if found.text is None:
            rows = [row[:-1] for row in rows]  # without the hots no size can be judged
        parts.append(_table(rows))
    return "\n\n".join(parts) + "\n"


def _total(found: Allotment) -> str:
    changes = sum(way.cost.changes for way in found.ways.values())
    proof = ", not proven to be the fewest" if changes else ""
    return f"color changes in all: {changes}{proof}"


def _station_rows(found: Allotment) -> Iterator[tuple[str, ...]]:
    for station, way in found.ways.items():
        yield station, ", ".join(_hop_words(hop) for hop in way.hops), _changes(way)


def _hop_words(hop: Hop) -> str:
    places = hop.conductor.places
    return f"{hop.conductor.name} ({places[hop.start]} to {places[hop.end]})"


def _changes(way: Way) -> str:
    changed = [
        f"{one.insulation.word} to {two.insulation.word}"
        for one, two in zip(way.conductors, way.conductors[1:], strict=False)
        if one.insulation != two.insulation
    ]
    notes = [", ".join(changed) or "none"]
    if way.cost.foreign:
        notes.append(STRANGE_FLAG)
    return "; ".join(notes)


def _leg_row(leg: LegNeed) -> tuple[str, ...]:
    needs = f"{leg.needs} ({makeup(leg)})" if leg.needs else "0"
    short = " TOO FEW" if leg.needs > leg.has else ""
    return (
        leg.cable.id,
        f"{leg.start} to {leg.end}",
        needs,
        f"{leg.has}{short}",
        _sizes(leg),
        _least(leg),
    )


def _sizes(leg: LegNeed) -> str:
    gauges = [leg.cable.gauge, *(single.gauge for single in leg.cable.singles)]
    return ", ".join(dict.fromkeys(str(g.value or "not known") for g in gauges if g is not None))


def _least(leg: LegNeed) -> str:
    if leg.none_does:
        return "none"
    return str(leg.least) if leg.least else "not known"


def _table(rows: Sequence[Sequence[str]]) -> str:
    """Columns as wide as their widest word, under a line of heads."""
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    lines = [
        "  ".join(word.ljust(width) for word, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]
    rule = "  ".join("-" * width for width in widths)
    return "\n".join([lines[0], rule, *lines[1:]])


def as_json(found: Allotment) -> str:
    """The same for other programs; `given` says whether all stations have their hot."""
    return json.dumps(
        {
            "given": found.text is not None,
            "stations": [_way_dict(station, way) for station, way in found.ways.items()],
            "legs": [_leg_dict(leg) for leg in found.legs],
        },
        indent=2,
        ensure_ascii=False,
    )


def _way_dict(station: str, way: Way) -> dict[str, Any]:
    return {
        "station": station,
        "hot": _names(way.conductors),
        "path": [
            {
                "conductor": hop.conductor.name,
                "from": hop.conductor.places[hop.start],
                "to": hop.conductor.places[hop.end],
            }
            for hop in way.hops
        ],
        "color_changes": way.cost.changes,
        "splices": way.cost.splices,
    }


def _names(conductors: Iterable[Conductor]) -> list[str]:
    return [c.name for c in conductors]


def _leg_dict(leg: LegNeed) -> dict[str, Any]:
    return {
        "cable": leg.cable.id,
        "from": leg.start,
        "to": leg.end,
        "hots": leg.hots,
        "commons": leg.commons,
        "others": leg.others,
        "spares": leg.spares,
        "needs": leg.needs,
        "has": leg.has,
        "smallest_size": None if leg.least is None else str(leg.least),
        "no_size_does": leg.none_does,
    }
