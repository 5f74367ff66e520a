"""How much more wire is ordered than the runs are long: common practice, no source.

Only the 24 in at each valve have one: WSU construction standard 32 80 00, which is public.  A job
may say otherwise.
"""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.units import Length, LengthUnit


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

    run: float = 0.10
    valve: Length = Length(24, LengthUnit.INCHES)
    coil: Length = Length(24, LengthUnit.INCHES)
    coil_every: Length = Length(200, LengthUnit.FEET)
    box_end: Length = Length(18, LengthUnit.INCHES)
    controller_end: Length = Length(5, LengthUnit.FEET)
