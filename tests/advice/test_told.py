"""A diagnosis in words: what is said for a hand-made one, and that every kind has words."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import pytest

from cardgen.advice import Advice, advice, dates_in_words
from cardgen.advice.way_stops import off_in_words
from cardgen.asbuilt import AsBuilt
from cardgen.diagnosis import (
    Diagnosis,
    FaultKind,
    NextStep,
    PossibleOutcome,
    StepKind,
    Suspect,
    diagnose,
)
from cardgen.results import Kind
from cardgen.words import Text, Words, load_words
from tests.advice.diagnoses import common_open, diagnosis, fault, fitted, readings, site
from tests.cards.printables import printable
from tests.diagnosis.small_yard import OL, TREE, as_built_of, walk
from tests.for_each import for_each
from tests.jobs import edit, sample

CORNERS = (("A9", "VB-4"), ("A13", "VB-6"))  # of the quarry: a valve and its box


@cache
def quarry() -> AsBuilt:
    return printable(sample("quarry")).asbuilt


@cache
def in_words(*languages: str) -> Words:
    words, problems = load_words(languages)
    assert words is not None, problems
    return words


def told(found: Diagnosis, *languages: str) -> Advice:
    return advice(in_words(*(languages or ("en",))), quarry(), found, readings(found))


def said(texts: tuple[Text, ...]) -> list[str]:
    return [text.printed for text in texts]


def test_suspects_stand_with_weight_place_and_what_follows() -> None:
    found = told(common_open())
    assert said(found.verdict) == [
        "2 faults fit these readings. None of them is proven: measure before you dig."
    ]
    first, second = found.suspects
    assert (first.says.printed, first.weight) == ("Fits: an open wire or splice.", "72 %")
    assert [(each.mark, each.where.printed) for each in found.kneeling] == [
        ("1", "common A (A-K2 white), between box VB-4 and box VB-5, or its splice in either"),
        ("2", "A-K2, between box VB-4 and box VB-5"),
    ]
    assert (second.says.printed, second.weight) == ("Also fits: cable A-K2 is cut.", "28 %")
    # Both stop the same four, so that is said once.
    assert said(found.follows) == [
        "Until it is fixed, A11 to A14 do not run; the others get power."
    ]


def test_nothing_is_said_to_be_so() -> None:
    """What readings allow is no finding: only `fits`, `also fits` and `excluded`."""
    found = told(common_open())
    assert all(s.says.printed.startswith(("Fits: ", "Also fits: ")) for s in found.suspects)
    assert said(found.excluded) == ["an open sensor contact: A9 would read OL; it reads 32.4."]


def test_the_next_measurement_says_what_each_outcome_would_leave() -> None:
    step, last = told(common_open()).steps
    assert step.do.printed == (
        "At controller A, power off, commons and hots lifted, measure ohms between the hots of "
        "A11 and A12."
    )
    # 68.2 to 72.6 ohms, outward to whole ones.
    assert [(each.shows.printed, each.then.printed) for each in step.outcomes] == [
        ("68 to 73 Ω", "only 1 still fits"),
        ("OL", "only 2 still fits"),
    ]
    assert last.outcomes == ()
    assert last.do.printed.startswith("In box VB-4, power off, open the splice of common A")


def test_what_is_off_stands_beside_what_was_expected() -> None:
    off = told(common_open()).off
    assert [(value.valve, value.read) for value in off] == [
        (valve, "OL") for valve in ("A11", "A12", "A13", "A14")
    ]
    assert off[0].expected.printed == "35.2 (33.2 to 37.2)"


def test_what_is_cleared_goes_from_place_to_place() -> None:
    """A-K2 red and blue are the hots of A9 and A10, which end in VB-4: sample_jobs/quarry.yaml."""
    assert said(told(common_open()).cleared) == [
        "controller A to box VB-4: common A.",
        "The hots of A9 and A10, as far as their valves.",
    ]


def test_two_languages_are_kept_apart() -> None:
    found = told(common_open(), "en", "es")
    where = found.suspects[0].kneeling[0].where
    assert where.languages == (
        "common A (A-K2 white), VB-4 to VB-5, or its splice in either",
        "común A (A-K2 blanco), VB-4 a VB-5, o su empalme en cualquiera de los dos",
    )


@pytest.mark.parametrize(
    ("found", "expected"),
    [
        (diagnosis(is_healthy=True, values=(fitted("A9", 32.3, 32.3),)), "The reading fits"),
        (diagnosis(is_several=True, values=(fitted("A9", 9.0, 32.3),)), "No single fault and no"),
        (diagnosis(values=(fitted("A9", 9.0, 32.3, is_off=True),)), "No known fault explains"),
        (diagnosis(is_healthy=True), "None of these readings is of ohms"),
    ],
)
def test_where_there_is_no_suspect_the_verdict_says_why(found: Diagnosis, expected: str) -> None:
    assert told(found).verdict[0].printed.startswith(expected)


def test_what_was_allowed_for_is_said() -> None:
    """30 C are 86 F; a factor of 1.08 is 108 %."""
    warm = replace(common_open(), celsius=30.2, coil_factors=(("AC", 1.08), ("other", 1.001)))
    assert said(told(warm).verdict)[1:] == [
        "The coils AC read 108 % of the ohms in the job: allowed for.",
        "The wires read like 30 °C (86 °F): allowed for.",
    ]


def test_what_one_value_shows_by_itself_comes_first_and_takes_nothing_back() -> None:
    leak = fault(FaultKind.GROUND, "A9", site("A-K2 red", "A", "VB-4"), ohms=1e5, name="A-K2 red")
    sound = diagnosis(is_healthy=True, values=(fitted("A9", 32.3, 32.3),), apart=(leak,))
    assert said(told(sound).verdict) == [
        (
            "One value shows by itself: low insulation to ground: hot A9 (A-K2 red), between "
            "controller A and box VB-4, or in either."
        ),
        "The other reading fits the job.",
    ]


def test_volts_stand_as_they_were_read() -> None:
    """The engine compares them as ohms; a crew would not know those again."""
    found = diagnosis(
        Suspect(faults=(fault(FaultKind.OPEN, "A9", site("A-K2 red", "A", "VB-4")),), share=1.0),
        values=(fitted("A9", 250.0, 32.3, is_off=True),),
    )
    volts = replace(readings(found)[0], kind=Kind.VOLTS, value=12.0)
    (value,) = advice(in_words("en"), quarry(), found, [volts]).off
    assert off_in_words(in_words("en"), value).printed == "! A9 Volts at the valve: 12 V"


def test_how_many_readings_count_and_of_what_day() -> None:
    found = common_open()
    words, all_ = in_words("en"), readings(found)
    assert dates_in_words(words, 6, all_).printed == "6 readings, newest of 2026-03-20"
    older = replace(all_[0], id="older", when="2026-01-05")
    assert dates_in_words(words, 6, (older, *all_)).printed == (
        "6 of 7 readings count, newest of 2026-03-20"
    )


def test_touching_hots_run_together_and_the_splice_is_of_what_comes_from_the_controller() -> None:
    """sample_jobs/larkspur.yaml: A-K1 red is the hot of A1 as far as VB-1, and dead beyond."""
    known = printable(sample("larkspur")).asbuilt
    touch = fault(FaultKind.HOTS_TOUCH, "A1 A2", site("A-K1 red", "A", "VB-1"))
    look = NextStep(
        kind=StepKind.OPEN_SPLICE,
        valves=("A1",),
        at="VB-1",
        effort=5,
        left=1,
        outcomes=(),
        name="A-K1 red",
    )
    found = diagnosis(Suspect(faults=(touch,), share=1.0), steps=(look,))
    made = advice(in_words("en"), known, found, ())
    assert said(made.follows) == ["Until it is fixed, A1 and A2 run together."]
    assert [step.do.printed for step in made.steps] == [
        "In box VB-1, power off, open the splice of hot A1 (A-K1 red) and look at it."
    ]


def test_a_good_loop_counts() -> None:
    """145 ft of 18 AWG copper, out and back, at 6.5 ohm per 1000 ft: 1.9 ohm, by hand."""
    known = as_built_of(sample("larkspur"))
    loop = replace(
        readings(common_open())[0],
        id="loop",
        kind=Kind.SPARE_LOOP,
        value=1.9,
        valve="",
        start="A-K1 orange",
        to="A-K1 white",
        box="VB-2",
    )
    for gone, counted in ((loop, ("loop",)), (replace(loop, start="A-K9 red"), ())):
        found = diagnose(known, [gone])
        assert (found.counted, found.apart, found.is_healthy) == (counted, (), True)
    found = diagnose(known, [loop])
    assert said(advice(in_words("en"), known, found, [loop]).verdict) == [
        "The reading fits the job: nothing measured points to a fault."
    ]


@for_each("language", ["en", "es"])
@for_each("kind", list(FaultKind))
def test_every_kind_of_fault_has_words(kind: FaultKind, language: str) -> None:
    one = fault(kind, "A9 A11", site("A-K2 red", "A", "VB-4"), ohms=60.0, name="A-K2")
    (suspect,) = told(diagnosis(Suspect(faults=(one,), share=1.0)), language).suspects
    assert "{" not in suspect.says.printed
    assert in_words(language)(f"diagnosis.kind {kind}").printed


@for_each("language", ["en", "es"])
@for_each("name", ["", "A-K2 white"])
@for_each("kind", list(StepKind))
def test_every_kind_of_step_has_words(kind: StepKind, name: str, language: str) -> None:
    step = NextStep(
        kind=kind, valves=("A9",), at="VB-4", effort=1.0, left=0.5, name=name,
        outcomes=(
            PossibleOutcome(low=30.0, high=math.inf, suspects=()),
            PossibleOutcome(low=2.0, high=4.0, suspects=(0, 1)),
        ),
    )  # fmt: skip
    (advised,) = told(replace(common_open(), steps=(step,)), language).steps
    assert "VB-4" in advised.do.printed
    assert [o.then.printed.partition(";")[0] for o in advised.outcomes] in (
        [],  # to look at a splice gives no figure
        ["none of these: measure all stations again", "all still fit"],
        ["ninguna de estas: vuelva a medir todas las estaciones", "todas todavía coinciden"],
    )


def test_more_of_one_kind_of_step_say_little_new() -> None:
    found = common_open()
    hot_to_hot, look = found.steps
    doubled = told(replace(found, steps=(hot_to_hot, hot_to_hot, look, look)))
    assert [step.kind for step in doubled.other_steps] == [StepKind.OPEN_SPLICE]


def test_a_place_that_two_suspects_share_has_one_mark() -> None:
    shared = site("A-K2 red", "A", "VB-4")
    first = fault(FaultKind.OPEN, "A9", shared)
    second = fault(FaultKind.RESISTIVE, "A9", shared, site("A-K2 white", "VB-4", "VB-5"))
    found = told(
        diagnosis(Suspect(faults=(first,), share=0.6), Suspect(faults=(second,), share=0.4))
    )
    assert [each.mark for each in found.kneeling] == ["1", "2"]
    assert found.suspects[1].same is not None
    assert found.suspects[1].same.printed == "Same place as 1."


def test_one_alone_has_no_weight_that_would_look_certain() -> None:
    one = fault(FaultKind.OPEN, "A9", site("A-K2 red", "A", "VB-4"))
    assert told(diagnosis(Suspect(faults=(one,), share=1.0))).suspects[0].weight == ""


def test_from_a_box_outward_each_outcome_says_on_which_side_to_look() -> None:
    """A11 as built: a coil of 30 ohms, 35.2 from the controller; sound wires read in between."""
    step = NextStep(
        kind=StepKind.OUTWARD, valves=("A11",), at="VB-4", effort=3.0, left=0.5,
        outcomes=(
            PossibleOutcome(low=18.0, high=24.0, suspects=(0,)),
            PossibleOutcome(low=29.0, high=36.0, suspects=(0,)),
            PossibleOutcome(low=math.inf, high=math.inf, suspects=(0,)),
        ),
    )  # fmt: skip
    (advised,) = told(replace(common_open(), steps=(step,))).steps
    assert [outcome.then.printed for outcome in advised.outcomes] == [
        "only 1 still fits; look from this box on",
        "only 1 still fits; look toward the controller",
        "only 1 still fits; look from this box on",
    ]


def test_valves_of_which_something_is_not_known_are_not_judged() -> None:
    """Six sound values by hand, and OL beyond a leg of which nobody knows the length."""
    known = as_built_of(edit(TREE, "B3, 300 ft, B4", "B3, not known, B4"))
    read = [each for each in walk({7: OL}) if each.valve != "A8"]
    found = diagnose(known, read)
    assert found.is_healthy and len(found.values) == 6
    fits, *_, left = said(advice(in_words("en"), known, found, read).verdict)
    assert fits == "All 6 readings fit the job: nothing measured points to a fault."
    assert left.startswith("Not judged: A7. ")


def test_faults_that_go_together_name_each_other_by_number() -> None:
    low = [fault(FaultKind.COIL_LOW, v, site("", box, box)) for v, box in CORNERS]
    extra = fault(FaultKind.SECOND_COIL, "A9", site("", "VB-4", "VB-4"))
    found = told(
        diagnosis(
            Suspect(faults=(low[0],), share=0.7, beside=(2,)),
            Suspect(faults=(extra,), share=0.3, beside=(2,)),
            Suspect(faults=(low[1],), share=1.0, beside=(0, 1)),
        )
    )
    assert [each.says.printed for each in found.suspects] == [
        "Fits: the coil of A9 has shorted turns, and also 3.",
        "Also fits: an extra coil is on the terminal of A9, and also 3.",
        "Also fits: the coil of A13 has shorted turns, and also one of 1 and 2.",
    ]
    assert "Fix one, measure all stations again, then fix the other." in said(found.follows)


def test_what_is_to_be_read_again_is_said_once_with_what_stands_still() -> None:
    stopped = ("A11", "A12")
    common = fault(FaultKind.OPEN, "A11 A12", site("A-K2 white", "VB-4", "VB-5"))
    same = told(diagnosis(Suspect(faults=(common,), share=1.0, meanwhile=stopped, again=stopped)))
    assert said(same.follows) == [
        "Until it is fixed, A11 and A12 do not run; the others get power.",
        "Then measure them again: a second fault there does not show now.",
    ]
    many = tuple(f"A{number}" for number in range(1, 10))
    all_of = told(diagnosis(Suspect(faults=(common,), share=1.0, again=many)))
    assert (
        "When it is fixed, measure all stations again: a second fault does not show now."
        in said(all_of.follows)
    )


def test_who_may_be_swapped_by_ohms_as_well_is_named() -> None:
    swapped = fault(FaultKind.EXCHANGED, "A9 A13", site("", "A", "A"))
    found = told(diagnosis(Suspect(faults=(replace(swapped, alike=("A11",)),), share=1.0)))
    assert any(
        line.startswith("By ohms, A11 may be one of them, too") for line in said(found.follows)
    )
    many = replace(swapped, alike=tuple(f"B{number}" for number in range(1, 12)))
    found = told(diagnosis(Suspect(faults=(many,), share=1.0)))
    assert any(x.startswith("By ohms, 11 more stations") for x in said(found.follows))


def test_several_fit_in_part() -> None:
    """An open hot, ohms more and a low coil, in three boxes: no two of them explain all."""
    known, read = as_built_of(), walk({1: OL, 4: 95.0, 8: 24.0})
    found = diagnose(known, read)
    assert found.is_several
    for language, first, other in (
        ("en", "Fits in part: ", "Also fits in part: "),
        ("es", "Coincide en parte: ", "También coincide en parte: "),
    ):
        best, *others = advice(in_words(language), known, found, read).suspects
        assert best.says.printed.startswith(first)
        assert all(each.says.printed.startswith(other) for each in others)
