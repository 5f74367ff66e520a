"""Turn the first format of the kept revisions, which held rows of the legend, into the present one.

Records of that format are published, and their file must load for ever.  The sentences in it are
those of that time, so what they say is taken out of them by their words.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from cardgen.memory.codec import Unfit

_SENSOR = re.compile(
    r"(?P<id>[^:]+): (?P<kind>\w+) sensor(?: \((?P<where>.*)\))?(?:, (?P<contact>normally \w+))?"
    r"(?P<common>, in the common\. .*)?(?:, on SEN(?: by (?P<wires>.*))?\.)?"
)
_LINKED = "linked with "


def upgraded(revision: Any) -> Any:
    """One revision as JSON; what is not of that format is left for the loading to refuse."""
    try:
        controllers = [_controller(each) for each in revision["controllers"]]
    except (AttributeError, KeyError, TypeError, ValueError) as fault:
        raise Unfit("no revision of the first format") from fault
    return {**revision, "controllers": controllers}


def _controller(said: Mapping[str, Any]) -> dict[str, Any]:
    table = said["terminals"]
    rows = (dict(zip(table["columns"], row, strict=True)) for row in table["rows"])
    terminals = [_terminal(row) for row in rows]
    return {**said, "terminals": terminals, "sensors": [_sensor(s) for s in said["sensors"]]}


def _terminal(row: Mapping[str, Any]) -> dict[str, Any]:
    name, station, area = row["terminal"], row["station"], row["area"]
    linked = list(_linked(row.get("notes", "")))
    if station in ("common", "path") and not isinstance(row["colour at this end"], str):
        shown = name.lower() if station == "path" else name
        return {"name": shown, "use": station, "wire": row["colour at this end"]}
    if name.startswith("address "):
        return {"name": name.removeprefix("address "), "use": "address", "owners": [station]}
    if area == "empty":
        return {"name": name, "use": "empty", "linked": linked}
    if name == "SEN":
        return {"name": name, "use": "sensor", "owners": station.split()}
    return {"name": name, "use": "station", "owners": [station], "linked": linked}


def _linked(notes: str) -> Iterator[str]:
    for note in notes.split("; "):
        if note.startswith(_LINKED):
            yield from re.split(", | and ", note.removeprefix(_LINKED))


def _sensor(sentence: str) -> dict[str, Any]:
    found = _SENSOR.fullmatch(sentence)
    if found is None:
        raise Unfit("no sensor of the first format")
    return {
        "id": found["id"],
        "kind": found["kind"],
        "where": found["where"] or "",
        "contact": found["contact"] or "",
        "in_common": found["common"] is not None,
        "wires": found["wires"].split(", ") if found["wires"] else [],
    }
