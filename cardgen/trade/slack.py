"""How much more wire is ordered than the runs are long: common practice, no source.

Only the 24 in at each valve have one: WSU construction standard 32 80 00, which is public.  A job
may say otherwise.
"""

from __future__ import annotations

from cardgen.light_dataclass import dataclass
from cardgen.units import Length, LengthUnit

PART_OF_THE_RUN = 0.10
AT_A_VALVE = Length(24.0, LengthUnit.INCHES)
IN_A_COIL = Length(24.0, LengthUnit.INCHES)  # its length is assumed: that at a valve
A_COIL_EVERY = Length(200.0, LengthUnit.FEET)
BOX_DEPTH = Length(18.0, LengthUnit.INCHES)
CONTROLLER_TAIL = Length(5.0, LengthUnit.FEET)


@dataclass(frozen=True, slots=True, kw_only=True)
class Slack:
    """What a piece of wire is longer than its run, end by end.

    ```
    controller_end        coil, one for each full coil_every of a leg
        |  .--------------------oo-------.   <- the run, and a part of it more
        '--'                             |  box_end: the depth of the box
                                      valve
    ```

    Attributes:
        run: the part of each leg that is added, for a trench is never straight.
        valve: at each valve that the piece serves, so that a splice can be lifted out of the box.
        coil, coil_every: loops in the trench, because wire shrinks in the cold.
        box_end: where a leg begins or ends in a box, from the trench up to the lid.
        controller_end: where it begins or ends at a controller, up the wall and to the terminal.
    """

    run: float = PART_OF_THE_RUN
    valve: Length = AT_A_VALVE
    coil: Length = IN_A_COIL
    coil_every: Length = A_COIL_EVERY
    box_end: Length = BOX_DEPTH
    controller_end: Length = CONTROLLER_TAIL
