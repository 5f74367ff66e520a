"""Say which cables tee off in a box and which goes straight on, so that indents stay few."""

from __future__ import annotations

from cardgen.drawing.drawing_parts import BoxOnRun, CableRun


def depth_of(run: CableRun) -> int:
    """How many tees lie behind each other."""
    deepest = 0
    for index, stop in enumerate(run.stops):
        tees, onward = parted(stop, goes_on=index < len(run.stops) - 1)
        deepest = max(deepest, *(1 + depth_of(tee) for tee in tees), 0)
        deepest = max(deepest, depth_of(onward) if onward else 0)
    return deepest


def parted(stop: BoxOnRun, *, goes_on: bool) -> tuple[list[CableRun], CableRun | None]:
    """What tees off; where the cable itself ends, its longest extension goes straight on."""
    branches = list(stop.branches)
    if goes_on or not branches:
        return branches, None
    onward = max(branches, key=_size)
    branches.remove(onward)
    return branches, onward


def _size(run: CableRun) -> int:
    return sum(1 + sum(_size(branch) for branch in stop.branches) for stop in run.stops)
