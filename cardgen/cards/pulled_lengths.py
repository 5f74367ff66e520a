"""How much wire is ordered for a piece that is pulled from place to place, slack and all."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from enum import StrEnum

from cardgen.asbuilt import AsBuilt
from cardgen.light_dataclass import dataclass
from cardgen.trade.slack import Slack
from cardgen.units import Meters


class LegEnd(StrEnum):
    """Where a leg begins or ends."""

    BOX = "box"
    CONTROLLER = "controller"
    GROUND = "ground"  # a splice without a box: the wire stays in the trench


@dataclass(frozen=True, slots=True, kw_only=True)
class PulledPiece:
    """A cable, or one single of a bundle.

    Attributes:
        legs: in meters, None where they are not known.
        box_ends, controller_ends: of how many ends of legs there is slack.
        valves: how many it serves.
    """

    legs: tuple[float | None, ...]
    box_ends: int
    controller_ends: int
    valves: int

    @property
    def known(self) -> tuple[float, ...]:
        return tuple(leg for leg in self.legs if leg is not None)

    @property
    def run(self) -> Meters:
        """Of the legs that are known."""
        return Meters(sum(self.known))

    def loops(self, slack: Slack) -> int:
        """One for each full length of a leg."""
        return sum(math.floor(leg / slack.coil_every.meters + 1e-9) for leg in self.known)

    def ordered(self, slack: Slack) -> Meters:
        """At least: a leg that is not known adds nothing."""
        return Meters(
            self.run * (1 + slack.run)
            + self.valves * slack.valve.meters
            + self.loops(slack) * slack.coil.meters
            + self.box_ends * slack.box_end.meters
            + self.controller_ends * slack.controller_end.meters
        )


def piece(
    known: AsBuilt, places: Sequence[str], legs: Sequence[float | None], valves: int
) -> PulledPiece:
    """What is pulled through these places: each leg has two ends."""
    ends = Counter(_end(known, place) for place in (*places[:-1], *places[1:]))
    return PulledPiece(
        legs=tuple(legs),
        box_ends=ends[LegEnd.BOX],
        controller_ends=ends[LegEnd.CONTROLLER],
        valves=valves,
    )


def _end(known: AsBuilt, place: str) -> LegEnd:
    """A controller that hangs in a box has no more wall before it than the box has depth."""
    controller = known.controller.get(place)
    if controller is not None:
        return LegEnd.BOX if controller.box else LegEnd.CONTROLLER
    return LegEnd.GROUND if known.box[place].buried else LegEnd.BOX
