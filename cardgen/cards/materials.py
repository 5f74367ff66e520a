"""Turn a job into what it takes: wire with slack, connectors, boxes, tags, devices."""

from __future__ import annotations

from cardgen.cards.connector_materials import connectors
from cardgen.cards.device_materials import devices
from cardgen.cards.marking_materials import boxes, marking
from cardgen.cards.material import Material
from cardgen.cards.printable import Printable
from cardgen.cards.wire_materials import wires


def materials(printable: Printable) -> tuple[Material, ...]:
    """The whole list, group by group."""
    return (
        *wires(printable),
        *connectors(printable),
        *boxes(printable),
        *marking(printable),
        *devices(printable),
    )
