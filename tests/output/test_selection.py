"""What a selection takes: by hand for the samples, and that the boxes share all tags out."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given, settings

from cardgen.cards import CardKind
from cardgen.output.selection import KINDS, WORD_OF, Selection, checked, nothing_of
from cardgen.problems import UserError
from tests.jobs import SAMPLES, sample
from tests.output.jobs import printable, said_of
from tests.property.jobs import plans
from tests.property.plan import Plan


def chosen(name: str, **asked: tuple[str, ...]) -> list[str]:
    """The keys of what is taken, in the order of the cards."""
    selection = checked(Selection(**asked), printable(sample(name)))
    keys = selection.chosen(said_of(sample(name)).values())
    return [key for key in said_of(sample(name)) if key in keys]


def kinds(keys: list[str], name: str) -> Counter[str]:
    return Counter(WORD_OF[said_of(sample(name))[key].kind] for key in keys)


def test_every_kind_of_card_has_one_word() -> None:
    kinds = [kind for each in KINDS.values() for kind in each]
    assert len(kinds) == len(set(kinds))
    # The cover is made with the packet, the fault sheet by `cardgen diagnose`.
    assert set(CardKind) - set(kinds) == {CardKind.COVER, CardKind.FAULT_SHEET}


@pytest.mark.parametrize("name", SAMPLES)
def test_the_words_take_each_card_once(name: str) -> None:
    taken = [key for word in KINDS for key in chosen(name, only=(word,))]
    assert Counter(taken) == Counter(list(said_of(sample(name))))
    assert chosen(name) == list(said_of(sample(name)))


@pytest.mark.parametrize("name", SAMPLES)
def test_the_boxes_share_out_all_valve_tags(name: str) -> None:
    job = printable(sample(name)).asbuilt
    taken = [
        key
        for place in (*job.box, *job.controller)
        for key in chosen(name, boxes=(place,), only=("valve-tags",))
    ]
    assert Counter(taken) == Counter(chosen(name, only=("valve-tags",)))


@pytest.mark.parametrize("name", SAMPLES)
def test_the_places_share_out_all_flags_and_the_stations_all_valve_tags(name: str) -> None:
    job = printable(sample(name)).asbuilt
    if not any(c.box for c in job.controllers):  # else one place is in another
        places = (*job.box, *job.controller)
        flags = [k for at in places for k in chosen(name, boxes=(at,), only=("wire-flags",))]
        assert Counter(flags) == Counter(chosen(name, only=("wire-flags",)))
    tags = [
        k for owner in job.stations for k in chosen(name, stations=(owner,), only=("valve-tags",))
    ]
    assert Counter(tags) == Counter(chosen(name, only=("valve-tags",)))


@settings(max_examples=8)
@given(plans(most=25))
def test_the_places_of_any_job_share_out_all_that_hangs(plan: Plan) -> None:
    everything = said_of(plan.text).values()
    places = (*plan.sections["boxes"], *plan.sections["controllers"])
    taken = Counter(key for at in places for key in Selection(boxes=(at,)).chosen(everything))
    assert taken == Counter(said.key for said in everything if said.at)
    controllers = tuple(plan.sections["controllers"])
    of_any = Selection(controllers=controllers).chosen(everything)
    packet = {said.key for said in everything if said.kind in KINDS["packet"]}
    one_of_a_job = packet | {said.key for said in everything if not said.controllers}
    assert of_any.isdisjoint(packet)
    assert of_any | one_of_a_job == {said.key for said in everything}
    assert not any(said.at for said in everything if said.key in one_of_a_job)


def test_a_box_is_its_tags_its_card_and_its_flags() -> None:
    taken = chosen("quarry", boxes=("VB-3",))
    assert kinds(taken, "quarry") == {
        "valve-tags": 4,
        "box-tags": 1,
        "splice-cards": 1,
        # A7, A8, B1, B2, the ends of A's common and of two spares, what is dead of B1 and B2.
        "wire-flags": 9,
    }
    assert [key for key in taken if key.startswith("valve")] == [
        f"valve tag {valve}" for valve in ("A7", "A8", "B1", "B2")
    ]


def test_a_station_is_its_tags_and_flags_all_along() -> None:
    assert chosen("quarry", stations=("A7",)) == [
        "valve tag A7",
        "flag A7 A-K1 black at A",
        "flag A7 A-K1 black at SB-1",
        "flag A7 A-S1 red A7 at SB-1",
        "flag A7 A-S1 red A7 at VB-3",
    ]


def test_a_twin_is_both_valves_and_one_valve_is_its_own_tag() -> None:
    both, one = chosen("quarry", stations=("A10",)), chosen("quarry", stations=("A10b",))
    assert [key for key in both if "tag" in key] == ["valve tag A10a", "valve tag A10b"]
    assert [key for key in one if "tag" in key] == ["valve tag A10b"]
    assert [key for key in both if "flag" in key] == [key for key in one if "flag" in key] != []


def test_a_master_valve_of_two_controllers_is_of_both() -> None:
    taken = chosen("quarry", stations=("MV-1",))
    assert taken[0] == "valve tag MV-1"
    assert len(taken) == 9  # hot and return of two conductors each
    for controller in "AB":
        assert set(taken) <= set(chosen("quarry", controllers=(controller,)))


def test_a_controller_is_everything_of_it() -> None:
    of_a, of_b = (chosen("quarry", controllers=(name,)) for name in "AB")
    assert kinds(of_a, "quarry").keys() == set(KINDS) - {
        *("spare-list", "materials", "packet"),
        "survey",  # everything is known
    }
    assert {key for key in of_b if key.startswith("wiring drawing")} == {"wiring drawing B-K1"}
    # What is of the whole job is of none; the boxes they share and the master valve are of both.
    whole = chosen("quarry", only=("spare-list", "materials", "packet"))
    assert set(of_a) | set(of_b) | set(whole) == set(chosen("quarry"))
    shared = [key for key in of_a if key in of_b and "flag" not in key]
    assert shared == [
        *("valve tag MV-1", "box tag VB-3", "box tag VB-5"),
        *("splice card MVB-1", "splice card VB-3", "splice card VB-5"),
    ]


def test_any_of_one_choice_and_all_of_several() -> None:
    two = chosen("quarry", boxes=("VB-3", "VB-5"))
    assert set(two) == set(chosen("quarry", boxes=("VB-3",)) + chosen("quarry", boxes=("VB-5",)))
    both = chosen("quarry", boxes=("VB-3",), controllers=("B",), only=("valve-tags",))
    assert both == ["valve tag B1", "valve tag B2"]


def test_at_a_controller_hang_its_legend_and_its_flags() -> None:
    assert kinds(chosen("quarry", boxes=("B",)), "quarry") == {"door-legend": 1, "wire-flags": 13}


def test_a_battery_controller_hangs_in_its_box() -> None:
    controller = printable(sample("sandpiper")).asbuilt.controller["P"]
    assert controller.box
    taken = chosen("sandpiper", boxes=(controller.box,))
    assert "legend P" in taken
    assert any(key.endswith(" at P") for key in taken)


@pytest.mark.parametrize(
    ("asked", "sentence", "help_"),
    [
        ({"boxes": ("VB-33",)}, "the job has no box 'VB-33'", "did you mean 'VB-3'?"),
        ({"stations": ("MV1",)}, "the job has no station 'MV1'", "did you mean 'MV-1'?"),
        ({"controllers": ("C",)}, "the job has no controller 'C'", "it has A and B"),
        ({"boxes": ("VB-1", "a")}, "the job has no box 'a'", "did you mean 'A'?"),
    ],
)
def test_a_name_that_the_job_does_not_have(
    asked: dict[str, tuple[str, ...]], sentence: str, help_: str
) -> None:
    with pytest.raises(UserError) as fault:
        chosen("quarry", **asked)
    assert (fault.value.sentence, fault.value.help) == (sentence, help_)


def test_what_an_empty_selection_could_have_had() -> None:
    everything = said_of(sample("quarry")).values()
    fault = nothing_of(Selection(only=("door-legend",), stations=("A7",)), everything)
    assert fault.sentence == "what is named has no door-legend"
    assert fault.help == "it has valve-tags and wire-flags"
    fault = nothing_of(Selection(boxes=("VB-1",), controllers=("B",)), everything)
    assert fault.sentence == "nothing belongs to all that is named"


def test_a_spare_that_goes_on_to_a_second_controller_has_flags_of_both() -> None:
    """Each flag is of the controller from which its own cable comes, whatever the spare's name."""
    text = """
job: {code: X-1, site: S, revision: 1, date: 2026-01-02}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
palettes: {three: [white, red, blue]}
coils: {usual: {supply: 24 V AC, resistance: 30 ohm}}
controllers:
  A: {place: wall, supply: 24 V AC, stations: 4, coil: usual, common: K1 white}
  B: {place: post, supply: 24 V AC, stations: 4, coil: usual, common: K2 white}
cables:
  K1: {gauge: 18 AWG, palette: three, run: [A, 50 ft, VB-1]}
  K2: {gauge: 18 AWG, palette: three, band: blue tape, run: [B, 50 ft, VB-1]}
boxes: {VB-1: {}}
stations:
  A1: {area: one, box: VB-1, hot: K1 red}
  B1: {area: two, box: VB-1, hot: K2 red}
spares:
  SP-1: {conductor: [K2 blue, K1 blue]}
joints:
  VB-1: [[K1 red, A1], [K1 white, A1], [K2 red, B1], [K2 white, B1], [K1 blue, K2 blue]]
"""
    flags = Selection(only=("wire-flags",), controllers=("B",)).chosen(said_of(text).values())
    assert sorted(key for key in flags if "spare" in key) == [
        "flag spare K2 blue at B",
        "flag spare K2 blue at VB-1",
    ]
