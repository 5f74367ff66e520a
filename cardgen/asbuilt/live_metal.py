"""Say of a place what can be live in it, and from which controllers: what is locked off there."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cached_property

from cardgen.asbuilt.metal import Metal
from cardgen.asbuilt.model.built_conductors import in_use
from cardgen.checks.rings import legs_of_rings
from cardgen.facts import Facts
from cardgen.job.job_parts import MasterValve
from cardgen.wiring.uses import Role, Use
from cardgen.wiring.wiring_parts import Conductor


class LiveMetal:
    """What is in use in every box and at every controller."""

    def __init__(self, facts: Facts, metal: Metal) -> None:
        self.facts, self.metal = facts, metal
        self._uses: dict[str, set[Use]] = {}

    def present(self, at: str) -> Sequence[Conductor]:
        """Every conductor that comes to a place."""
        return self.facts.conductors_at.get(at, ())

    def uses(self, at: str) -> set[Use]:
        """All that is in use in a place."""
        if at not in self._uses:
            ends = (end for conductor in self.present(at) for end in conductor.ends_at(at))
            self._uses[at] = set(in_use(use for end in ends for use in self.metal.uses(end)))
        return self._uses[at]

    def controllers(self, at: str) -> tuple[str, ...]:
        """Those whose terminals feed something here; with those that hang or are here themselves.

        A master valve behind isolating relays is live from every controller that shares it.
        """
        found = {*self._feeding(self.uses(at)), *self._hanging.get(at, ())}
        for valve in self.facts.job.master_valves.values():
            sharing = {said.value for said in valve.controllers}
            if at in sharing:  # a wire to its isolating relay is on the terminal
                found |= sharing
        return self.in_order(found)

    def rings(self, at: str) -> tuple[str, ...]:
        """The controllers of which a ring comes through a place: it is fed from two sides."""
        found: set[str] = set()
        for conductor in self.present(at) if self._places_of_rings else ():
            for end in conductor.ends_at(at):
                if at in self._places_of_rings.get(self.facts.network.group(end), ()):
                    found |= set(self._feeding(in_use(self.metal.uses(end))))
        return self.in_order(found)

    @cached_property
    def _places_of_rings(self) -> Mapping[int, set[str]]:
        """By group; most jobs have none."""
        return {
            group: {at for leg in legs_of_rings(self.facts, group) for at in (leg.start, leg.end)}
            for group in sorted(self.facts.network.rings())
        }

    def _feeding(self, live: Iterable[Use]) -> Iterator[str]:
        for use in live:
            if use.role in (Role.HOT, Role.RETURN, Role.MAYBE_HOT):
                load = self.facts.loads_of[use.of][0]
                yield load.controller
                if isinstance(load.owner, MasterValve):
                    yield from (said.value for said in load.owner.controllers)
            elif use.role is Role.SENSOR:
                yield from (said.value for said in self.facts.job.sensors[use.of].controllers)
            else:
                yield use.of

    @cached_property
    def _hanging(self) -> Mapping[str, list[str]]:
        """Controllers by their own name, and by the box in which they are."""
        found: dict[str, list[str]] = defaultdict(list)
        for controller in self.facts.job.controllers.values():
            for at in (controller.id, controller.box.value if controller.box else ""):
                found[at].append(controller.id)
        return dict(found)

    def in_order(self, controllers: set[str]) -> tuple[str, ...]:
        """As the file has them."""
        return tuple(sorted(controllers & self._rank.keys(), key=self._rank.__getitem__))

    @cached_property
    def _rank(self) -> Mapping[str, int]:
        return {name: rank for rank, name in enumerate(self.facts.job.controllers)}
