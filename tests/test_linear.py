"""Twice the stations take twice the work: counted in calls, which do not depend on the machine."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable
from functools import cache, partial
from types import FrameType

import pytest

from cardgen.asbuilt import as_built
from cardgen.cards import MAKERS, CardKind, Printable, cards_of
from cardgen.checks import check
from cardgen.drawing import home_runs
from cardgen.drawing.run_blocks import Maker
from cardgen.drawing.shapes import DrawnBlock
from cardgen.drawing.sheet_size import COLUMN
from cardgen.examine import Examined, examine_text
from cardgen.facts import Facts
from cardgen.output.as_printable import as_printable
from tests.benchmarks.campus import PER_CONTROLLER, campus

MORE = PER_CONTROLLER
SLACK = 1.005  # of what as many stations more took before
# It goes through all boxes in the order walked for each controller.
OF_ALL_CONTROLLERS = {CardKind.SURVEY}


def sound(text: str) -> str:
    return text


def on_the_hot_of_the_next(text: str) -> str:
    """Every second station names the hot of the one after it."""
    odd = re.compile(r"red (\d*[13579])(?=[,\]]}?)")
    return odd.sub(lambda match: f"red {int(match[1]) + 1}", text)


def on_a_spare(text: str) -> str:
    """Every tenth station in a near box is on a conductor that is promised as a spare."""
    return re.sub(r"-N red \d*0\]", "-N orange SP-1]", text)


@pytest.mark.parametrize("spoiled", [sound, on_the_hot_of_the_next, on_a_spare])
def test_as_many_stations_more_take_as_many_calls_more(spoiled: Callable[[str], str]) -> None:
    _build(examine_text(spoiled(campus(3 * MORE))))  # what is made once for all is not counted
    calls = [_calls_for(spoiled(campus(stations))) for stations in (MORE, 2 * MORE, 3 * MORE)]
    assert spoiled is sound or examine_text(spoiled(campus(MORE))).has_errors
    first, second = calls[1] - calls[0], calls[2] - calls[1]
    assert 0 < second <= SLACK * first


@pytest.mark.parametrize("kind", [k for k in MAKERS if k not in OF_ALL_CONTROLLERS], ids=str)
def test_cards_of_as_many_stations_more_take_as_many_calls_more(kind: CardKind) -> None:
    jobs = [as_printable(examined(n * MORE)) for n in (1, 1, 2, 3)]
    _, *calls = (_calls(partial(cards_of, job, [kind])) for job in jobs if job is not None)
    assert 0 < calls[2] - calls[1] <= SLACK * (calls[1] - calls[0])


@cache
def examined(stations: int) -> Examined:
    """What cards are made of is made anew of it for each kind, so that all of it is counted."""
    return examine_text(campus(stations))


def test_the_drawing_of_as_many_stations_more_takes_as_many_calls_more() -> None:
    """The index is set anew where it moves what follows it, so the blocks alone are counted."""
    jobs = [as_printable(examined(n * MORE)) for n in (1, 1, 2, 3)]
    _, *calls = (_calls(partial(_drawn, job)) for job in jobs if job is not None)
    assert 0 < calls[2] - calls[1] <= SLACK * (calls[1] - calls[0])


def _drawn(job: Printable) -> list[list[DrawnBlock]]:
    return [Maker(home, COLUMN, 200.0, []).blocks() for home in home_runs(job)]


def _calls_for(text: str) -> int:
    return _calls(lambda: _build(examine_text(text)))


def _calls(work: Callable[[], object]) -> int:
    count = 0

    def note(_: FrameType, event: str, __: object) -> None:
        nonlocal count
        count += event in ("call", "c_call")

    before = sys.getprofile()
    sys.setprofile(note)
    try:
        work()
    finally:
        sys.setprofile(before)
    return count


def _build(examined: Examined) -> None:
    assert examined.facts is not None
    if not examined.has_errors:
        as_built(examined.facts, examined.problems)


def test_a_quadratic_step_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of each station all others are looked at, once."""

    def slow(facts: Facts) -> int:
        loads = facts.wiring.loads.values()
        return sum(1 for one in loads for other in loads if one.id < other.id)

    monkeypatch.setattr("cardgen.examine.check", lambda facts: check(facts) if slow(facts) else ())
    with pytest.raises(AssertionError):
        test_as_many_stations_more_take_as_many_calls_more(sound)
