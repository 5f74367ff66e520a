"""Hold what the program finds out about a yard against the tracer: each difference in words."""

from __future__ import annotations

from collections.abc import Iterator

from cardgen.examine import Examined, examine_text
from cardgen.wiring.model import IN, OUT, End
from tests.oracle.tracer import Label, Traced

Terminal = tuple[str, str]


def differences(text: str) -> list[str]:
    """What the program says of a job and the tracer does not, and the other way round."""
    traced, found = Traced(text), examine_text(text)
    return [*_conductors(traced, found), *_legs(traced, found)]


def _conductors(traced: Traced, found: Examined) -> Iterator[str]:
    """Which conductors there are, and how far each goes."""
    assert found.wiring, found.problems
    ours = {name: conductor.places for name, conductor in traced.conductors.items()}
    program = {name: conductor.places for name, conductor in found.wiring.conductors.items()}
    for name in sorted(ours.keys() | program.keys()):
        if ours.get(name) != program.get(name):
            yield f"{name} goes {program.get(name)}, as typed {ours.get(name)}"


def _legs(traced: Traced, found: Examined) -> Iterator[str]:
    """On which terminals each leg is."""
    assert found.network, found.problems
    members = found.network.members()
    for (name, leg), labels in traced.legs.items():
        places = traced.conductors[name].places
        ends = End(name, places[leg], OUT), End(name, places[leg + 1], IN)
        groups = {found.network.group(end) for end in ends}
        program = {
            (end.of, end.side)
            for group in groups
            for end in members[group]
            if end.of in traced.controllers and end.at == end.of
        }
        ours = {_terminal(traced, label) for label in labels}
        if program != ours:
            at = f"{places[leg]} to {places[leg + 1]}"
            yield f"{name}, {at}: on {sorted(program)}, by its joints on {sorted(ours)}"


def _terminal(traced: Traced, label: Label) -> Terminal:
    """The terminal that a label stands for."""
    role, of, *rest = label
    if role in ("hot", "return"):
        load = traced.loads[of]
        return load.controller, load.terminal if role == "hot" else "C"
    if role == "sensor":
        return traced.job["sensors"][of]["controllers"], "SEN"
    return of, rest[0] if rest else "C"
