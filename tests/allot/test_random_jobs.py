"""Random jobs robbed of their hots: all get one again, clean, the same in any order."""

from __future__ import annotations

import json
import math
import random
import re
from collections.abc import Iterable
from dataclasses import replace
from itertools import islice, product
from typing import Any

from hypothesis import event, given, settings
from hypothesis import strategies as st

from cardgen.allot import Allotment, allot
from cardgen.allot.allotment import Way, total
from cardgen.allot.choose import searches_of
from cardgen.allot.give import chosen
from cardgen.allot.needs import needs_of
from cardgen.allot.supply import FreeConductors
from cardgen.checks.spares import reaching
from cardgen.examine import examine_text
from cardgen.problems import Verdict
from tests.property.jobs import Wish, plans, random_plan, wishes
from tests.property.plan import Plan, to_text
from tests.property.test_random_jobs import scrawled

some = settings(max_examples=20)
# Joints as built would name the valves of stations that are not there yet.
unwritten = wishes(15).map(lambda wish: random_plan(replace(wish, written=0.0)))
_HOT = re.compile(r', "hot": ("[^"]*"|\[[^\]]*\])')
# Sections in which the order of entries says nothing.
_UNORDERED = ("palettes", "controllers", "cables", "boxes", "spares", "joints", "master valves")


def robbed(plan: Plan, rng: random.Random) -> dict[str, Any]:
    """The job without the hots of some stations, or of all."""
    sections = plan.copy()
    share = rng.choice((0.2, 0.5, 1.0))
    for entry in sections["stations"].values():
        if rng.random() < share:
            entry.pop("hot", None)
    return sections


def hots(found: Allotment) -> dict[str, tuple[str, ...]]:
    assert found.text is not None, [p.sentence for p in found.problems]
    return {name: tuple(c.name for c in way.conductors) for name, way in found.ways.items()}


@some
@given(plans(25), st.randoms(use_true_random=False))
def test_every_station_gets_a_hot_and_the_job_is_clean(plan: Plan, rng: random.Random) -> None:
    sections = robbed(plan, rng)
    text = to_text(sections)
    found = allot(text)
    given_now = hots(found)
    missing = {n for n, e in sections["stations"].items() if "hot" not in e and "decoder" not in e}
    assert given_now.keys() == missing
    assert found.text is not None
    problems = examine_text(found.text).problems
    assert [p.sentence for p in problems if p.verdict is Verdict.ERROR] == []
    assert all(leg.needs <= leg.has for leg in found.legs)
    assert_only_hots_are_new(text, found.text, missing)


def assert_only_hots_are_new(old: str, new: str, stations: set[str]) -> None:
    for before, after in zip(old.splitlines(True), new.splitlines(True), strict=True):
        if before != after:
            assert before.split(":")[0].strip() in stations
            assert _HOT.sub("", after) == before


@some
@given(plans(15), st.randoms(use_true_random=False))
def test_the_order_of_all_but_the_stations_means_nothing(plan: Plan, rng: random.Random) -> None:
    sections = robbed(plan, rng)
    other = dict(sections)
    for name in _UNORDERED:
        if isinstance(entries := other.get(name), dict):
            other[name] = {key: entries[key] for key in rng.sample(list(entries), len(entries))}
    keys = rng.sample(list(other), len(other))
    assert hots(allot(to_text({key: other[key] for key in keys}))) == hots(allot(to_text(sections)))


@some
@given(plans(15), st.randoms(use_true_random=False))
def test_remarks_and_blank_lines_mean_nothing_and_stay(plan: Plan, rng: random.Random) -> None:
    text = to_text(robbed(plan, rng))
    lines = text.splitlines(keepends=True)
    for n in range(rng.randint(1, 9)):
        remark = rng.choice(("\n", f"# remark {n}: hot, {{box}}\n", f"    # {n}\n"))
        lines.insert(rng.randint(0, len(lines)), remark)
    plain, remarked = allot(text), allot("".join(lines))
    assert hots(plain) == hots(remarked)
    assert remarked.text is not None
    for before, after in zip(lines, remarked.text.splitlines(keepends=True), strict=True):
        assert _HOT.sub("", after) == before or '"hot"' in before


MOST_WAYS, MOST_COMBINED = 60, 30_000


@settings(max_examples=80)
@given(plans(5), st.randoms(use_true_random=False))
def test_no_combination_is_missed_or_beaten(plan: Plan, rng: random.Random) -> None:
    """Flags, twins, joints as built, spares: every combination of ways is tried."""
    sections = robbed(plan, rng)
    for box in rng.sample(list(sections["boxes"]), min(2, len(sections["boxes"]))):
        sections["boxes"][box]["spares"] = rng.randint(0, 2)
    text = to_text(sections)
    facts = examine_text(text).facts
    assert facts
    needs = needs_of(facts.job)
    supply = FreeConductors(facts, needs)
    searches = searches_of(supply, needs, {})
    ways = [list(islice(search.ways(), MOST_WAYS)) for search in searches]
    if any(len(found) == MOST_WAYS for found in ways) or math.prod(map(len, ways)) > MOST_COMBINED:
        event("too many to try")
        return
    choice = chosen(supply, needs, {})
    costs = [
        total(way.cost for way in some_ways)
        for some_ways in product(*ways)
        if disjoint(some_ways) and supply.leaves_spares({n for w in some_ways for n in w.names})
    ]
    assert bool(choice.missed) == (not costs)
    if not choice.missed:
        cost = total(way.cost for way in choice.ways.values())
        assert cost >= min(costs)
        event("the best" if cost == min(costs) else "not the best")


def disjoint(ways: Iterable[Way]) -> bool:
    names = [name for way in ways for name in way.names]
    return len(names) == len(set(names))


@some
@given(unwritten, st.randoms(use_true_random=False))
def test_a_station_added_anywhere_moves_no_other(plan: Plan, rng: random.Random) -> None:
    """What has been written stays, character for character."""
    sections = robbed(plan, rng)
    lost = [n for n, e in sections["stations"].items() if "hot" not in e and "decoder" not in e]
    late = rng.sample(lost, min(len(lost), 2))
    early = {n: e for n, e in sections["stations"].items() if n not in late}
    first = allot(to_text(sections | {"stations": early}))
    assert first.text is not None
    lines = first.text.splitlines(keepends=True)
    begin = lines.index("stations:\n") + 1 if early else 0
    if not begin:
        return  # the added stations are all there are
    added: set[int] = set()
    for name in late:
        at = rng.randint(begin, begin + len(early) + len(added))
        added = {n + (n >= at) for n in added} | {at}
        lines.insert(at, f"  {name}: {json.dumps(sections['stations'][name])}\n")
    after = allot("".join(lines))
    if after.text is None:
        assert {p.code for p in after.problems} <= {"conductors-short", "hot-without-way"}
        event("refused")
        return
    assert hots(after).keys() == set(late)
    kept = [x for n, x in enumerate(after.text.splitlines(keepends=True)) if n not in added]
    assert "".join(kept) == first.text


@some
@given(plans(15), st.randoms(use_true_random=False))
def test_no_box_is_left_with_fewer_spares_than_it_asks_for(plan: Plan, rng: random.Random) -> None:
    """As many as the job had before it was robbed."""
    whole = examine_text(plan.text).facts
    assert whole is not None
    free = whole.free
    sections = robbed(plan, rng)
    boxes = list(sections["boxes"])
    for box in rng.sample(boxes, min(3, len(boxes))):
        there = reaching(free, whole.job.controllers, box, 9)
        sections["boxes"][box]["spares"] = there
    found = allot(to_text(sections))
    if found.text is not None:
        assert "spares-too-few" not in {p.code for p in examine_text(found.text).problems}
        assert all(leg.needs <= leg.has for leg in found.legs)
    else:
        assert {p.code for p in found.problems} <= {"conductors-short", "hot-without-way"}
        event("refused")


@some
@given(plans(8), st.randoms(use_true_random=False))
def test_a_file_full_of_slips_of_the_hand_never_stops_the_program(
    plan: Plan, rng: random.Random
) -> None:
    found = allot(scrawled(to_text(robbed(plan, rng)), rng))
    assert (found.text is None) == bool(found.problems)


def test_the_same_job_gives_the_same_text() -> None:
    text = to_text(robbed(random_plan(Wish(seed=7, stations=30)), random.Random(1)))
    assert allot(text).text == allot(text).text


def test_two_hundred_stations() -> None:
    wish = Wish(seed=1, stations=200, controllers=3, splices=0.8, sharing=0.3)
    sections = random_plan(wish).copy()
    for entry in sections["stations"].values():
        entry.pop("hot", None)
    assert len(hots(allot(to_text(sections)))) >= 180
