"""What a job file says of ordering wire: slack, and the reels on which it is sold."""

from __future__ import annotations

from typing import Any

from cardgen.job import quantities
from cardgen.reading.shapes import BlockShape, Field, ListOf
from cardgen.trade.slack import Slack

USUAL = Slack()


def _slack(**said: Any) -> Slack:
    """Without its place: no check looks at it."""
    return Slack(**{name: value for name, value in said.items() if name != "span"})


SLACK = BlockShape(
    "'slack'",
    _slack,
    Field(
        "run",
        quantities.PERCENT,
        default=USUAL.run,
        help="part of each leg that is added to it, '10 %' if left out",
    ),
    Field(
        "valve",
        quantities.SLACK_LENGTH,
        default=USUAL.valve,
        help="at each valve, '24 in' if left out",
    ),
    Field(
        "coil",
        quantities.SLACK_LENGTH,
        default=USUAL.coil,
        help="in each loop in the trench, '24 in' if left out",
    ),
    Field(
        "coil every",
        quantities.LENGTH,
        default=USUAL.coil_every,
        help="length of a leg for which there is one loop, '200 ft' if left out",
    ),
    Field(
        "box end",
        quantities.SLACK_LENGTH,
        default=USUAL.box_end,
        help="where a leg begins or ends in a box: its depth, '18 in' if left out",
    ),
    Field(
        "controller end",
        quantities.SLACK_LENGTH,
        default=USUAL.controller_end,
        help="tail where a leg begins or ends at a controller, '5 ft' if left out",
    ),
)
REELS = ListOf(quantities.LENGTH, what="a list of reels", example="[500 ft, 1000 ft]", single=True)
