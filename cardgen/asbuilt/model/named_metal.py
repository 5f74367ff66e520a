"""Find the metal that a flag names: of a hot its station, of a common COM-A, of a spare its own."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.asbuilt.model.as_built import AsBuilt
from cardgen.asbuilt.model.built_conductors import BuiltConductor
from cardgen.owners import common_of, path_of
from cardgen.wiring.uses import Role, Use


def flag_name(use: Use) -> str:
    """`A7`, `A7-RTN`, `COM-A`, `SP-1`."""
    match use.role:
        case Role.RETURN:
            return f"{use.of}-RTN"
        case Role.COMMON:
            return common_of(use.of)
        case Role.PATH:
            return path_of(use.of, use.side)
        case Role.TERMINAL:
            return f"{use.of} {use.side}"
    return use.of


# Of these the name on the flag is the name that a reading has for them, too.
_NAMED = (Role.HOT, Role.COMMON, Role.PATH, Role.SPARE, Role.DEAD)


def metal_by_place(asbuilt: AsBuilt) -> Mapping[str, Mapping[str, Role]]:
    """By place what a meter can be put on there; what no flag names, as the job names it."""
    found: dict[str, dict[str, Role]] = {}
    for conductor in asbuilt.conductors:
        for stretch in conductor.stretches:
            for use in stretch.uses:
                name = flag_name(use) if use.role in _NAMED else conductor.name
                for place in stretch.places:
                    found.setdefault(place, {})[name] = use.role
    return found


def metal_named(asbuilt: AsBuilt, name: str) -> frozenset[tuple[str, tuple[str, ...]]]:
    """The stretches of that name, each as its conductor and the places that it passes."""
    return frozenset(
        (conductor.name, stretch.places)
        for conductor in asbuilt.conductors
        for stretch in conductor.stretches
        if name in _names(conductor, stretch.uses)
    )


def _names(conductor: BuiltConductor, uses: tuple[Use, ...]) -> set[str]:
    return {conductor.name, *map(flag_name, uses)}
