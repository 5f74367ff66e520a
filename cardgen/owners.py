"""Whose a conductor or an end is: a station's, a common, a terminal on which nothing hangs."""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple


class OwnerKind(StrEnum):
    """STATION is whatever has a coil: a station, a master valve, a relay.

    UNKNOWN is what may be the hot of such a one.
    """

    STATION = "station"
    COMMON = "common"
    PATH = "path"
    TERMINAL = "terminal"
    SENSOR = "sensor"
    SPARE = "spare"
    UNKNOWN = "unknown"


class Owner(NamedTuple):
    """What a conductor serves, whether it is its hot or its return.

    Attributes:
        id: of the station, sensor or spare; the controller of a common, a path or a terminal.
        side: of a path `1` or `2`; of a terminal its name.
    """

    kind: OwnerKind
    id: str
    side: str = ""

    @property
    def words(self) -> str:
        """As a sentence names it: `A2`, `the common of A`, `terminal 3 of A`."""
        match self.kind:
            case OwnerKind.COMMON:
                return f"the common of {self.id}"
            case OwnerKind.PATH | OwnerKind.TERMINAL:
                return f"{self.kind} {self.side} of {self.id}"
        return self.id

    @property
    def hot_words(self) -> str:
        """Its hot, as a sentence names it; a terminal is its own hot."""
        return self.words if self.kind is OwnerKind.TERMINAL else f"the hot of {self.words}"


def station(name: str) -> Owner:
    return Owner(OwnerKind.STATION, name)


def common(controller: str) -> Owner:
    return Owner(OwnerKind.COMMON, controller)


def common_of(controller: str) -> str:
    """Its name on a flag."""
    return f"COM-{controller}"


def path_of(controller: str, side: object) -> str:
    """The name of one side of a two-wire path on a flag."""
    return f"PATH-{controller}{side}"
