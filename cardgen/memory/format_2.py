"""Turn a revision of the second format into the present one: uses were texts, a terminal had one
wire, and nothing told the stretches of a conductor.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from cardgen.asbuilt import Role
from cardgen.memory.codec import Unfit


def upgraded(revision: Any) -> Any:
    """One revision as JSON; what else is not of that format is left for the loading to refuse."""
    try:
        boxes = [_box(each) for each in revision["boxes"]]
        controllers = [_controller(each) for each in revision["controllers"]]
    except (AttributeError, KeyError, TypeError, ValueError) as fault:
        raise Unfit("no revision of the second format") from fault
    return {**revision, "boxes": boxes, "controllers": controllers}


def _box(said: Mapping[str, Any]) -> dict[str, Any]:
    return {
        **said,
        "joints": [_with_uses(each) for each in said["joints"]],
        "passing": [_with_uses(each) for each in said["passing"]],
    }


def _with_uses(said: Mapping[str, Any]) -> dict[str, Any]:
    return {**said, "uses": [_use(each) for each in said["uses"]]}


def _use(said: str) -> dict[str, str]:
    """Of `hot A7`, `common A`, `path 1 of D`."""
    role, _, of = said.partition(" ")
    side = ""
    if role == Role.PATH:
        side, _, of = of.partition(" of ")
    return {"role": Role(role).value, "of": of, "side": side}


def _controller(said: Mapping[str, Any]) -> dict[str, Any]:
    return {**said, "terminals": list(_terminals(said["id"], said["terminals"]))}


def _terminals(controller: str, said: Iterable[Mapping[str, Any]]) -> Iterator[dict[str, Any]]:
    """Each common and each side of a path had a row of its own for every conductor on it."""
    wires: dict[str, list[Any]] = {}
    for row in said:
        rest = {name: value for name, value in row.items() if name != "wire"}
        name, wire = rest["name"], row.get("wire")
        if wire is None:
            yield rest
            continue
        first = name not in wires
        landed = {"mark": wire, "uses": [_of_terminal(controller, rest["use"], name)]}
        found = wires.setdefault(name, [])
        if landed not in found:
            found.append(landed)
        if first:
            yield {**rest, "wires": found}


def _of_terminal(controller: str, use: str, name: str) -> dict[str, str]:
    side = name.removeprefix("path ") if use == Role.PATH else ""
    return {"role": Role(use).value, "of": controller, "side": side}
