"""Turn each coil into the tag that hangs beside it."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.cards.expected import (
    BOUND,
    OHMS,
    beside,
    known,
    milliamperes,
    volts_at_box,
)
from cardgen.cards.expected import at_controller as ohms_at_controller
from cardgen.cards.model import Card, CardKind, FieldValue
from cardgen.cards.of_loads import coil_alone
from cardgen.cards.printable import Printable, mark
from cardgen.job.model import MasterValve, Station
from cardgen.units import SupplyKind
from cardgen.wiring.model import Load, LoadKind


def valve_tags(job: Printable) -> Iterator[Card]:
    """One tag for each valve and relay, in the order of the file."""
    for loads in job.owners.values():
        for load in loads:
            yield Card(
                kind=CardKind.VALVE_TAG,
                id=load.id,
                at=load.box,
                owner=load.owner.id,
                place=load.place,
                fields=_fields(job, load),
            )


def _fields(job: Printable, load: Load) -> dict[str, FieldValue]:
    fields: dict[str, FieldValue] = {
        "headline": load.id,
        "box": load.box,
        "area": _what(job, load),
        "terminal": _landing(job, load),
        "code": job.code_of(load.box),
        "stamp": job.stamp,
        **job.warning,
    }
    fields |= _conductors(job, load)
    lines = boxed_lines(job, load)
    if lines:
        fields["boxed"] = lines
    twin = twin_line(job, load)
    if twin:
        fields["twin"] = twin
    return fields | {name: said for name, said in _readings(job, load) if said}


def _landing(job: Printable, load: Load) -> str:
    """Where its hot lands: on a terminal, or on the isolators of the controllers that share it."""
    words = job.words
    if load.hot_end.of != load.controller and isinstance(load.owner, MasterValve):
        names = [said.value for said in load.owner.controllers]
        both, plus = words.listed(names), " + ".join(names)
        shared = words("valve tag.shared", terminal=load.terminal, controllers=both, plus=plus)
        return f"{shared}, {words('valve tag.isolators')}"
    controller, terminal = words("valve tag.controller"), words("valve tag.terminal")
    return f"{controller} {load.controller}, {terminal} {load.terminal}"


def _conductors(job: Printable, load: Load) -> dict[str, FieldValue]:
    words = job.words
    circuit = job.circuits.get(load.id)
    if circuit is None:
        assert load.decoder is not None  # a job without errors has a circuit for all others
        controller, path = words("valve tag.controller"), words("valve tag.path")
        return {"terminal": f"{controller} {load.controller}, {path}"}
    back: str = words("valve tag.return")
    if load.back is None:
        back = f"{words('valve tag.common')} {load.controller}"
    return {
        "hot_label": words("valve tag.hot"),
        "hot": mark(circuit.hot_at_valve),
        "common_label": back,
        "common": mark(circuit.back_at_valve),
    }


def _what(job: Printable, load: Load) -> str:
    """What it waters; in capitals, where it is no common valve."""
    area = area_of(job, load)
    return area if isinstance(load.owner, Station) else area.upper()


def area_of(job: Printable, load: Load) -> str:
    """What it waters, in the words of the job, or what it is."""
    if isinstance(load.owner, Station):
        return load.owner.area.value
    what = "master valve" if load.kind is LoadKind.MASTER_VALVE else "pump start relay"
    return job.words(f"terms.{what}")


def boxed_lines(job: Printable, load: Load) -> tuple[str, ...]:
    """What a hand must know before it touches this one."""
    words = job.words
    lines: list[str] = []
    if isinstance(load.owner, MasterValve) and load.owner.normally_open:
        lines.append(words("terms.normally open").upper())
    if load.kind is LoadKind.RELAY:
        lines.append(words("valve tag.pump side"))
    controller = job.job.controllers[load.controller]
    if controller.supply.value.kind is SupplyKind.LATCHING and controller.polarity:
        rule = controller.polarity
        hot, common = words.colour(rule.hot), words.colour(rule.common)
        lines.append(words("valve tag.latching", hot=hot, common=common))
    circuit = job.circuits.get(load.id)
    if circuit and circuit.hot_at_controller.insulation != circuit.hot_at_valve.insulation:
        first = circuit.hot_at_controller
        there = f"{first.cable.id} {words.colour(first.insulation.word)}"
        lines.append(f"{words('valve tag.hot at controller')} {there}")
    if load.decoder is not None:
        lines.append(f"{words('valve tag.decoder')} {load.decoder.address.value}")
        if load.decoder.serial:
            lines.append(f"{words('valve tag.serial')} {load.decoder.serial}")
    if isinstance(load.owner, Station) and load.owner.device:
        lines.append(words("terms.behind", device=load.owner.device.value).upper())
    return tuple(lines)


def twin_line(job: Printable, load: Load) -> str:
    """`1 of 2, other valve A10b in VB-9`."""
    loads = job.owners[load.owner.id]
    if len(loads) < 2:
        return ""
    words, number = job.words, loads.index(load) + 1
    others = words.joined(
        words("valve tag.other", valve=o.id, box=o.box) for o in loads if o is not load
    )
    return words("valve tag.twin", number=number, count=len(loads), others=others)


def _readings(job: Printable, load: Load) -> Iterator[tuple[str, str]]:
    """What a meter must show at the controller, at the coil alone, and at the box while it runs."""
    words = job.words
    for ohms in known((ohms_at_controller(job, load.owner.id, OHMS),)):
        where = "controller" if load.hot_end.of == load.controller else "isolators"
        yield "ohms", f"{ohms} {words(f'valve tag.at the {where}')}"
    if load.coil is not None:
        yield "coil", f"{words('valve tag.coil')} {coil_alone(load.coil)}"
    for volts in known((volts_at_box(job, load),)):
        others = beside(job, load)
        with_them = words("valve tag.with", others=words.listed(others)) if others else ""
        said = f"{volts}{BOUND}V, {milliamperes(job, load)}{BOUND}mA"
        yield "running", " ".join(x for x in (f"{words('valve tag.on')}:", said, with_them) if x)
