"""Put the lengths that a list says into the runs of a job that is there already."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from cardgen.faults.sheet_faults import SHEET_BOX
from cardgen.job.job_parts import Cable, Job, Station
from cardgen.job.quantities import LENGTH
from cardgen.problems import Problem
from cardgen.reading import nodes
from cardgen.reading.nodes import Node, Scalar
from cardgen.units import NOT_KNOWN
from cardgen.workbook.list_legs import ListedLeg
from cardgen.workbook.sheets_out import one_line, value_at


class LegsInto:
    """Attributes:
    changed: by cable, its run with other lengths.
    """

    def __init__(self, job: Job, root: Node) -> None:
        self._job, self._root = job, root
        self.changed: dict[str, nodes.Sequence] = {}

    def is_open(self, controller: str, station: Station | None, heading: str) -> bool:
        """Whether the job does not say runs yet, or keeps this column as it is."""
        is_kept = station is not None and heading in station.extra
        return is_kept or not any(self._of(controller))

    def put(
        self, leg: ListedLeg, controller: str, station: Station | None, name: str
    ) -> Iterator[Problem]:
        """Into the cable of the station's hot, else into the only one with such a leg."""
        found = [
            (cable, at) for cable in self._cables(controller, station)
            for at, ends in enumerate(pairwise(stop.at for stop in cable.run))
            if {*ends} == {leg.start, leg.box}
        ]  # fmt: skip
        if len(found) != 1:
            yield SHEET_BOX.at(
                leg.span, variant="which" if found else "none", count=len(found),
                station=name, start=leg.start, box=leg.box,
            )  # fmt: skip
            return
        cable, at = found[0]
        run = self.changed.get(cable.id) or value_at(self._root, ("cables", cable.id, "run"))
        if leg.length and isinstance(run, nodes.Sequence):
            index = 2 * at + 1
            if not _is_same(one_line(run.items[index]), leg.length):
                items = list(run.items)
                items[index] = Scalar(leg.span, leg.length)
                self.changed[cable.id] = nodes.Sequence(run.span, tuple(items))

    def _of(self, controller: str) -> Iterator[Cable]:
        for cable in self._job.cables.values():
            if cable.run[0].at.casefold() == controller.casefold():
                yield cable

    def _cables(self, controller: str, station: Station | None) -> list[Cable]:
        """That of the hot at the valve, if the job says it."""
        hot = cable_of_hot(station)
        if hot in self._job.cables:
            return [self._job.cables[hot]]
        return [*self._of(controller)]


def cable_of_hot(station: Station | None) -> str:
    """The cable in which the hot comes to the valve; empty where nobody knows it."""
    hots = station.hot if station is not None and station.hot else ()
    return hots[-1].value.split()[0] if hots else ""


def _is_same(one: str, two: str) -> bool:
    """`85 ft` is `85.0 ft`; what is not known is the same however it is written."""
    if NOT_KNOWN in (one.casefold(), two.casefold()):
        return one.casefold() == two.casefold()
    return LENGTH.parse(one) == LENGTH.parse(two)
