"""Breaks: each spoils a right job in one spot, and names the one code that must come of it."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from tests.property.jobs import Wish
from tests.property.plan import Metal, Plan

Sections = dict[str, Any]
Spoil = Callable[[Plan, random.Random], Sections | None]

_AS_BUILT = Wish(written=1.0, splices=0.5, sharing=0.3, twins=0.1)
_USUAL = Wish(written=0.0, splices=0.5, sharing=0.3, twins=0.1)
_TWO = Wish(written=1.0, controllers=2, sharing=1.0, stations=16)


@dataclass(frozen=True, slots=True, kw_only=True)
class Break:
    """`spoil` gives the spoiled job, or None where this job offers no spot for it.

    Attributes:
        wish: the kind of job in which there is a spot.
    """

    code: str
    spoil: Spoil
    wish: Wish = field(default=_AS_BUILT)

    @property
    def name(self) -> str:
        return self.spoil.__name__


# -- finding a spot ----------------------------------------------------------------------------


def _hots(plan: Plan) -> list[Metal]:
    """The hots of stations with a single valve, in the order of the file."""
    single = [m for m in plan.metals if m.kind == "hot" and len(m.leads) == 1]
    return [m for m in single if m.owner in plan.sections["stations"]]


def _any_hot(plan: Plan, rng: random.Random) -> Metal | None:
    hots = _hots(plan)
    return rng.choice(hots) if hots else None


def _two_hots_in_a_box(plan: Plan, rng: random.Random) -> tuple[Metal, Metal, str] | None:
    """Two stations of one home run with their valves in one box."""
    pairs = [
        (one, two, one.leads[0][0])
        for one in _hots(plan)
        for two in _hots(plan)
        if one is not two
        and one.leads[0][0] == two.leads[0][0]
        and plan.backs[one.leads[0][1]] is plan.backs[two.leads[0][1]]
    ]
    return rng.choice(pairs) if pairs else None


def joint_of(sections: Sections, at: str, metal: Metal) -> list[str]:
    """The joint of a metal at a place, in the sections to be spoiled."""
    wanted = set(metal.joint_at(at))
    found: list[str] = next(j for j in sections["joints"][at] if wanted <= set(j))
    return found


def _crossings(plan: Plan) -> list[tuple[Metal, str]]:
    """Splices: a hot goes on in another conductor in a box where it has no valve."""
    return [
        (metal, piece.places[piece.last])
        for metal in _hots(plan)
        for piece in metal.pieces[:-1]
        if metal.leads[0][0] != piece.places[piece.last]
    ]


# -- joints ------------------------------------------------------------------------------------


def drop_the_joint_of_a_splice(plan: Plan, rng: random.Random) -> Sections | None:
    spots = _crossings(plan)
    if not spots:
        return None
    metal, at = rng.choice(spots)
    sections = plan.copy()
    sections["joints"][at].remove(joint_of(sections, at, metal))
    return sections


def drop_the_joint_of_a_hot_with_its_valve(plan: Plan, rng: random.Random) -> Sections | None:
    metal = _any_hot(plan, rng)
    if metal is None:
        return None
    sections, at = plan.copy(), metal.leads[0][0]
    sections["joints"][at].remove(joint_of(sections, at, metal))
    return sections


def drop_a_hot_from_its_joint(plan: Plan, rng: random.Random) -> Sections | None:
    metal = _any_hot(plan, rng)
    if metal is None:
        return None
    sections, (at, load) = plan.copy(), metal.leads[0]
    joint = joint_of(sections, at, metal)
    joint[:] = [load]
    return sections


def drop_the_common_going_on(plan: Plan, rng: random.Random) -> Sections | None:
    spots = [
        (metal, piece, at)
        for metal in plan.metals
        if metal.kind == "common"
        for piece in metal.pieces
        for index, at in enumerate(piece.places[1 : piece.last], 1)
        if metal.joint_at(at)
        and any(
            one == at and two == piece.places[index + 1] and words == piece.conductor
            for box, _ in metal.leads
            for words, one, two in metal.way_to(box)
        )
    ]
    if not spots:
        return None
    metal, piece, at = rng.choice(spots)
    sections = plan.copy()
    joint = joint_of(sections, at, metal)
    joint[joint.index(piece.conductor)] = f"{piece.conductor} in"
    return sections


def drop_the_common_of_a_leg(plan: Plan, rng: random.Random) -> Sections | None:
    """A conductor is left out of the common, and no other common is near."""
    commons = [m for m in plan.metals if m.kind == "common"]
    spots = [
        (metal, piece)
        for metal in commons
        for piece in metal.pieces
        if any(piece.conductor == leg[0] for box, _ in metal.leads for leg in metal.way_to(box))
        and not any(
            other is not metal and other.start == metal.start and _boxes(other) & _boxes(metal)
            for other in commons
        )
    ]
    spots = [  # a sensor in the common would miss its conductor too
        (metal, piece)
        for metal, piece in spots
        if len(metal.pieces) > 1 and metal.start and metal.start[1] == "C"
    ]
    if not spots:
        return None
    metal, piece = rng.choice(spots)
    sections = plan.copy()
    assert metal.start
    sections["controllers"][metal.start[0]]["common"].remove(piece.conductor)
    return sections


def _boxes(metal: Metal) -> set[str]:
    return {place for piece in metal.pieces for place in piece.places[1:]}


def cross_two_hots_at_a_splice(plan: Plan, rng: random.Random) -> Sections | None:
    spots = _crossings(plan)
    pairs = [
        (one, two, at)
        for one, at in spots
        for two, other in spots
        if one is not two and at == other
    ]
    pairs = [(one, two, at) for one, two, at in pairs if _apart(one, two)]
    if not pairs:
        return None
    one, two, at = rng.choice(pairs)
    sections = plan.copy()
    first, second = joint_of(sections, at, one), joint_of(sections, at, two)
    ends = [
        next(w for w in j if w in m.pieces[_after(m, at)].words_at(at))
        for m, j in ((one, first), (two, second))
    ]
    first[first.index(ends[0])], second[second.index(ends[1])] = ends[1], ends[0]
    return sections


def _after(metal: Metal, at: str) -> int:
    """Index of the piece that begins in a splice box."""
    return next(n for n, p in enumerate(metal.pieces) if n and p.places[0] == at)


def _apart(one: Metal, two: Metal) -> bool:
    return one.start is not None and two.start is not None and one.start != two.start


def join_two_hots(plan: Plan, rng: random.Random) -> Sections | None:
    pair = _two_hots_in_a_box(plan, rng)
    if pair is None:
        return None
    one, two, at = pair
    sections = plan.copy()
    first, second = joint_of(sections, at, one), joint_of(sections, at, two)
    sections["joints"][at].remove(second)
    first.extend(second)
    return sections


def join_two_commons(plan: Plan, rng: random.Random) -> Sections | None:
    commons = [m for m in plan.metals if m.kind == "common"]
    pairs = [
        (one, two, at)
        for one in commons
        for two in commons
        if one.start and two.start and one.start[0] != two.start[0]
        for at in plan.sections["joints"]
        if at in plan.sections["boxes"] and one.joint_at(at) and two.joint_at(at)
    ]
    if not pairs:
        return None
    one, two, at = rng.choice(pairs)
    sections = plan.copy()
    first, second = joint_of(sections, at, one), joint_of(sections, at, two)
    sections["joints"][at].remove(second)
    first.extend(second)
    return sections


def put_both_leads_on_the_common(plan: Plan, rng: random.Random) -> Sections | None:
    metal = _any_hot(plan, rng)
    if metal is None:
        return None
    sections, (at, load) = plan.copy(), metal.leads[0]
    joint = joint_of(sections, at, metal)
    joint.remove(load)
    if len(joint) < 2:
        sections["joints"][at].remove(joint)
    joint_of(sections, at, plan.backs[load]).append(load)
    return sections


def put_a_lead_on_the_next_hot(plan: Plan, rng: random.Random) -> Sections | None:
    pair = _two_hots_in_a_box(plan, rng)
    if pair is None:
        return None
    one, two, at = pair
    sections, load = plan.copy(), one.leads[0][1]
    joint_of(sections, at, plan.backs[load]).remove(load)
    joint_of(sections, at, two).append(load)
    return sections


def put_two_coils_in_series(plan: Plan, rng: random.Random) -> Sections | None:
    pair = _two_hots_in_a_box(plan, rng)
    if pair is None:
        return None
    one, two, at = pair
    sections, first, second = plan.copy(), one.leads[0][1], two.leads[0][1]
    joint_of(sections, at, plan.backs[first]).remove(first)
    joint = joint_of(sections, at, two)
    joint.remove(second)
    if len(joint) < 2:
        sections["joints"][at].remove(joint)
    sections["joints"][at].append([first, second])
    return sections


def put_a_lead_on_the_other_common(plan: Plan, rng: random.Random) -> Sections | None:
    spots = [
        (load, at, metal, other)
        for load, (_, metal, at) in plan.loads().items()
        if load in plan.sections["stations"]
        for other in plan.metals
        if other.kind == "common" and other.start and metal.start
        if other.start[0] != metal.start[0] and other.joint_at(at)
    ]
    if not spots:
        return None
    load, at, metal, other = rng.choice(spots)
    sections = plan.copy()
    joint_of(sections, at, metal).remove(load)
    joint_of(sections, at, other).append(load)
    return sections


def write_an_end_twice(plan: Plan, rng: random.Random) -> Sections | None:
    pair = _two_hots_in_a_box(plan, rng)
    if pair is None:
        return None
    one, two, at = pair
    sections = plan.copy()
    joint_of(sections, at, one).append(f"{two.pieces[-1].conductor} in")
    return sections


# -- terminals ---------------------------------------------------------------------------------


def swap_two_at_the_terminals(plan: Plan, rng: random.Random) -> Sections | None:
    hots = [m for m in _hots(plan) if m.start]
    pairs = [
        (a, b)
        for a in hots
        for b in hots
        if a is not b and a.start and b.start and a.start[0] == b.start[0]
    ]
    if not pairs:
        return None
    one, two = rng.choice(pairs)
    sections = plan.copy()
    assert one.start and two.start
    first, second = (joint_of(sections, m.start[0], m) for m in (one, two) if m.start)
    first[first.index(one.start[1])], second[second.index(two.start[1])] = (
        two.start[1],
        one.start[1],
    )
    return sections


def put_the_common_on_a_free_terminal(plan: Plan, rng: random.Random) -> Sections | None:
    for controller, entry in plan.sections["controllers"].items():
        taken = {m.start[1] for m in plan.metals if m.start and m.start[0] == controller}
        free = [str(n) for n in range(1, entry["stations"] + 1) if str(n) not in taken]
        if not free or "C" not in taken or any(d["start"] for d in _returns(plan, controller)):
            continue
        sections = plan.copy()
        joint = next(j for j in sections["joints"][controller] if "C" in j)
        joint[joint.index("C")] = rng.choice(free)
        return sections
    return None


def _returns(plan: Plan, controller: str) -> list[dict[str, Any]]:
    return [
        {"start": m.start}
        for m in plan.metals
        if m.kind in ("return", "contact") and m.start == (controller, "C")
    ]


def take_a_common_off_its_terminal(plan: Plan, rng: random.Random) -> Sections | None:
    commons = [m for m in plan.metals if m.kind == "common" and m.start and m.leads]
    if not commons:
        return None
    metal = rng.choice(commons)
    sections = plan.copy()
    assert metal.start
    at = metal.start[0]
    joint = joint_of(sections, at, metal)
    joint.remove(metal.pieces[0].words_at(at)[0])
    if len(joint) < 2:
        sections["joints"][at].remove(joint)
    return sections


def two_stations_on_one_terminal(plan: Plan, rng: random.Random) -> Sections | None:
    hots = _hots(plan)
    pairs = [
        (a, b)
        for a in hots
        for b in hots
        if a is not b and a.start and b.start and a.start[0] == b.start[0]
    ]
    if not pairs:
        return None
    one, two = rng.choice(pairs)
    assert two.start
    sections = plan.copy()
    sections["stations"][one.owner] |= {"controller": two.start[0], "terminal": int(two.start[1])}
    return sections


def a_terminal_that_is_not_there(plan: Plan, rng: random.Random) -> Sections | None:
    metal = _any_hot(plan, rng)
    if metal is None or metal.start is None:
        return None
    sections = plan.copy()
    sections["stations"][metal.owner] |= {"controller": metal.start[0], "terminal": 300}
    return sections


def a_master_valve_on_a_station_terminal(plan: Plan, rng: random.Random) -> Sections | None:
    for name, valve in plan.sections["master valves"].items():
        controller = valve["controllers"][0]
        taken = {m.start[1] for m in plan.metals if m.start and m.start[0] == controller}
        strip = plan.sections["controllers"][controller]["stations"]
        free = [n for n in range(1, strip + 1) if str(n) not in taken]
        if free and "isolators" not in valve:
            sections = plan.copy()
            sections["master valves"][name]["terminal"] = str(rng.choice(free))
            return sections
    return None


# -- names and numbers -------------------------------------------------------------------------


def give_a_conductor_twice(plan: Plan, rng: random.Random) -> Sections | None:
    pair = _two_hots_in_a_box(plan, rng)
    if pair is None:
        return None
    one, two, _ = pair
    sections = plan.copy()
    sections["stations"][two.owner]["hot"] = sections["stations"][one.owner]["hot"]
    return sections


def exchange_the_names_of_two_hots(plan: Plan, rng: random.Random) -> Sections | None:
    """Every joint is written and right; two stations name a conductor of each other."""
    written = [m for m in _hots(plan) if m.owner in plan.sections["stations"]]
    written = [m for m in written if _all_written(plan, m)]
    pairs = [
        (one, two, n, k)
        for one in written
        for two in written
        if one is not two
        for n, first in enumerate(one.pieces)
        for k, second in enumerate(two.pieces)
        if first.places == second.places
    ]
    if not pairs:
        return None
    one, two, n, k = rng.choice(pairs)
    sections = plan.copy()
    hots = [sections["stations"][metal.owner]["hot"] for metal in (one, two)]
    hots[0][n], hots[1][k] = hots[1][k], hots[0][n]
    return sections


def _all_written(plan: Plan, metal: Metal) -> bool:
    joined = {at for piece in metal.pieces for at in piece.places if metal.joint_at(at)}
    return joined <= set(plan.sections["joints"])


def misname_a_color(plan: Plan, rng: random.Random) -> Sections | None:
    metal = _any_hot(plan, rng)
    if metal is None:
        return None
    sections = plan.copy()
    hot = sections["stations"][metal.owner]["hot"]
    hot[-1] = hot[-1].partition(" ")[0] + " tan/violet"
    return sections


def remove_a_cable(plan: Plan, rng: random.Random) -> Sections | None:
    sections = plan.copy()
    cables = sections["cables"]
    begins = {cable["run"][0] for cable in cables.values()}
    last = [name for name, cable in cables.items() if not begins & set(cable["run"][1:])]
    del cables[rng.choice(last)]  # one that feeds no other
    return sections


def put_a_valve_into_a_box_out_of_reach(plan: Plan, rng: random.Random) -> Sections | None:
    metal = _any_hot(plan, rng)
    if metal is None:
        return None
    reached = {place for piece in metal.pieces for place in piece.places}
    far = [box for box in plan.sections["boxes"] if box not in reached]
    if not far:
        return None
    sections = plan.copy()
    sections["stations"][metal.owner]["box"] = rng.choice(far)
    return sections


def leave_out_the_second_conductor(plan: Plan, rng: random.Random) -> Sections | None:
    spots = [m for m in _hots(plan) if len(m.pieces) > 1]
    spots = [m for m in spots if m.leads[0][0] not in m.pieces[0].places]
    if not spots:
        return None
    metal = rng.choice(spots)
    sections = plan.copy()
    hot = sections["stations"][metal.owner]["hot"]
    del hot[1:]
    return sections


def call_a_hot_in_use_a_spare(plan: Plan, rng: random.Random) -> Sections | None:
    metal = _any_hot(plan, rng)
    if metal is None:
        return None
    sections = plan.copy()
    sections["spares"]["SP-99"] = {"conductor": metal.pieces[0].conductor}
    return sections


def a_second_decoder_with_one_address(plan: Plan, rng: random.Random) -> Sections | None:
    sections = plan.copy()
    one, two = rng.sample(list(sections["decoders"]), 2)
    sections["decoders"][two]["address"] = sections["decoders"][one]["address"]
    return sections


def more_valves_than_the_maker_allows(plan: Plan, rng: random.Random) -> Sections | None:
    twins = [m for m in plan.metals if m.kind == "hot" and len(m.leads) > 1 and m.start]
    if not twins:
        return None
    sections, start = plan.copy(), rng.choice(twins).start
    assert start
    sections["controllers"][start[0]]["valves per station"] = 1
    return sections


def a_terminal_too_weak(plan: Plan, rng: random.Random) -> Sections | None:
    sections, metal = plan.copy(), _any_hot(plan, rng)
    if metal is None or metal.start is None:
        return None
    sections["controllers"][metal.start[0]]["station limit"] = "0.3 A"
    return sections


def a_connector_too_small(plan: Plan, rng: random.Random) -> Sections | None:
    sections = plan.copy()
    sections["connectors"] = {"tiny": {"takes": f"2-3 x {rng.choice((10, 12, 20))} AWG"}}
    return sections


def a_leg_far_too_long(plan: Plan, rng: random.Random) -> Sections | None:
    metal = _any_hot(plan, rng)
    if metal is None:
        return None
    sections = plan.copy()
    run = sections["cables"][metal.pieces[0].conductor.partition(" ")[0]]["run"]
    run[1] = "2900 m" if run[1].endswith("m") else "9500 ft"
    return sections


def share_a_master_valve_without_isolators(plan: Plan, rng: random.Random) -> Sections | None:
    spots = [n for n, v in plan.sections["master valves"].items() if v["controllers"] == ["A"]]
    if not spots:
        return None
    sections = plan.copy()
    sections["master valves"][rng.choice(spots)]["controllers"] = ["A", "B"]
    return sections


BREAKS: tuple[Break, ...] = (
    Break(code="hot-stops", spoil=drop_the_joint_of_a_splice),
    Break(code="lead-in-no-joint", spoil=drop_the_joint_of_a_hot_with_its_valve),
    Break(code="hot-stops", spoil=drop_a_hot_from_its_joint),
    Break(code="common-stops", spoil=drop_the_common_going_on),
    Break(code="common-stops", spoil=drop_the_common_of_a_leg, wish=_USUAL),
    Break(code="hot-crossed", spoil=cross_two_hots_at_a_splice),
    Break(code="hots-joined", spoil=join_two_hots),
    Break(code="commons-joined", spoil=join_two_commons, wish=_TWO),
    Break(code="coil-bridged", spoil=put_both_leads_on_the_common),
    Break(code="valve-between-hots", spoil=put_a_lead_on_the_next_hot),
    Break(code="coils-in-series", spoil=put_two_coils_in_series),
    Break(code="return-on-other-common", spoil=put_a_lead_on_the_other_common, wish=_TWO),
    Break(code="end-in-two-joints", spoil=write_an_end_twice),
    Break(code="hot-on-wrong-terminal", spoil=swap_two_at_the_terminals),
    Break(code="common-on-wrong-terminal", spoil=put_the_common_on_a_free_terminal),
    Break(code="common-not-landed", spoil=take_a_common_off_its_terminal),
    Break(code="terminal-used-twice", spoil=two_stations_on_one_terminal, wish=_USUAL),
    Break(code="no-such-terminal", spoil=a_terminal_that_is_not_there, wish=_USUAL),
    Break(
        code="master-valve-on-station",
        spoil=a_master_valve_on_a_station_terminal,
        wish=Wish(written=0.0, specials=1.0),
    ),
    Break(code="conductor-used-twice", spoil=give_a_conductor_twice, wish=_USUAL),
    Break(code="not-as-joined", spoil=exchange_the_names_of_two_hots, wish=Wish(written=1.0)),
    Break(code="no-such-conductor", spoil=misname_a_color),
    Break(code="unknown-name", spoil=remove_a_cable, wish=_USUAL),
    Break(code="hot-stops", spoil=put_a_valve_into_a_box_out_of_reach, wish=_USUAL),
    Break(code="hot-stops", spoil=leave_out_the_second_conductor, wish=_USUAL),
    Break(code="spare-in-use", spoil=call_a_hot_in_use_a_spare),
    Break(code="address-twice", spoil=a_second_decoder_with_one_address, wish=Wish(two_wire=True)),
    Break(code="too-many-valves", spoil=more_valves_than_the_maker_allows, wish=Wish(twins=0.3)),
    Break(code="terminal-overloaded", spoil=a_terminal_too_weak),
    Break(code="connector-overfilled", spoil=a_connector_too_small),
    Break(code="volts-too-low", spoil=a_leg_far_too_long),
    Break(
        code="master-valve-tied",
        spoil=share_a_master_valve_without_isolators,
        wish=Wish(controllers=2, specials=1.0),
    ),
)
