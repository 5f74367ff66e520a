"""Count valves and devices: coils by kind, controllers, isolating relays, decoders, sensors."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator

from cardgen.asbuilt import BuiltValve
from cardgen.cards.material import Material
from cardgen.cards.printable import Printable
from cardgen.words import Text


def devices(printable: Printable) -> Iterator[Material]:
    words, known = printable.words, printable.asbuilt
    basis = words("materials.in the job")
    kinds = Counter(_coil(printable, valve) for valve in known.in_order)
    for what, number in kinds.items():
        yield Material(group="devices", what=what, quantity=number, basis=basis)
    controllers = tuple(known.controller)
    yield Material(
        group="devices",
        what=words("materials.controller"),
        quantity=len(controllers),
        basis=", ".join(controllers),
    )
    yield from _isolating_relays(printable)
    if known.decoders:
        what = words("materials.decoder")
        yield Material(group="devices", what=what, quantity=known.decoders, basis=basis)
    if known.surge_units:
        yield Material(
            group="devices",
            what=words("materials.surge unit"),
            quantity=len(known.surge_units),
            basis=", ".join(known.surge_units),
        )
    yield from _sensors(printable)


def _coil(printable: Printable, valve: BuiltValve) -> Text:
    what = "pump start relay" if valve.kind == "relay" else valve.kind
    coil = valve.coil_id or printable.words("terms.not known")
    return printable.words("materials.coil", what=printable.words(f"terms.{what}"), coil=coil)


def _isolating_relays(printable: Printable) -> Iterator[Material]:
    """One at each controller that shares a valve through them."""
    shared = {v.id: v.isolators for v in printable.asbuilt.in_order if v.isolators}
    if shared:
        yield Material(
            group="devices",
            what=printable.words("materials.isolating relay"),
            quantity=sum(map(len, shared.values())),
            basis="; ".join(f"{valve}: {', '.join(names)}" for valve, names in shared.items()),
        )


def _sensors(printable: Printable) -> Iterator[Material]:
    kinds: dict[str, list[str]] = defaultdict(list)
    for sensor in printable.asbuilt.sensors:
        kinds[sensor.kind].append(sensor.id)
    for kind, names in kinds.items():
        what = printable.words(f"materials.sensor {kind}")
        yield Material(group="devices", what=what, quantity=len(names), basis=", ".join(names))
