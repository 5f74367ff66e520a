"""What a server puts into the pages of a record: HTML that depends on what crews have entered.

It brings no style and no script, so the digests in a page's policy hold for it too.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from cardgen.record.html import Markup


@dataclass(frozen=True, slots=True, kw_only=True)
class Slots:
    """What goes into one page.

    Attributes:
        below_valve: by valve, below all that the record says of it.
        at_place: what can be done at this box or controller, or with the whole job.
    """

    below_valve: Mapping[str, Markup] = field(default_factory=dict)
    at_place: Markup | None = None


EMPTY = Slots()  # the record as it is published


@dataclass(frozen=True, slots=True, kw_only=True)
class ServedParts:
    """What a server adds to every page.

    Attributes:
        above: by the way from the page to the job's folder, what stands above its contents.
        scripts: what runs beside the page's own; they may ask the server.
    """

    above: Callable[[str], Markup]
    scripts: tuple[str, ...]
