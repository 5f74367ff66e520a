"""What is not known stays open: no number comes of it, and what is known is as before.

Ohms by hand: 18 AWG has 6.385 ohm/1000 ft at 20 C (NBS Handbook 100, table 5), the coil 30 ohm.
    A1: 2 x 85 ft  -> 1.085 ohm     A4: 2 x 100 ft of 21 ohm/km by its data sheet -> 1.280 ohm
"""

from __future__ import annotations

import re

import pytest

from cardgen.asbuilt import as_built
from cardgen.checks.not_known import Subject, asked
from cardgen.electrics.resistance import PerhapsKnown, resistance_if_known
from cardgen.facts import Facts
from cardgen.problems import Verdict
from tests.jobs import edit, examined, problems_of, sample, well_said

JOB = """\
job: {code: NK-01, site: North park, revision: 1, date: 2026-03-01}
record: {address: 'https://jobs.example.com', key: 7K2M9Q4T8XWB}
coils:
  usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A, minimum: 20 V}
connectors: {small: {takes: [2-5 x 18 AWG]}}
controllers:
  A:
    place: garage wall
    supply: 24 V AC
    stations: 8
    coil: usual
    common: [A-K1 white, A-K2 gray, A-K3 tan]
cables:
  A-K1: {gauge: 18 AWG, colors: [white, red, blue], run: [A, 85 ft, VB-1, not known, VB-2]}
  A-K2: {gauge: not known, colors: [gray, pink, violet], run: [A, 100 ft, VB-3]}
  A-K3:
    gauge: not known
    resistance: 21 ohm/km
    colors: [tan, brown, black]
    run: [A, 100 ft, VB-4]
boxes: {VB-1: {}, VB-2: {}, VB-3: {}, VB-4: {}}
stations:
  A1: {area: front lawn, box: VB-1, hot: A-K1 red}
  A2: {area: front bed, box: VB-2, hot: A-K1 blue}
  A3: {area: back bed, box: VB-3, hot: A-K2 pink}
  A4: {area: roses, box: VB-4, hot: A-K3 brown}
  A5: {area: herbs, box: VB-4, hot: A-K3 black, coil: not known}
"""


def codes(text: str) -> set[str]:
    return {problem.code for problem in examined(text).problems}


@pytest.fixture(scope="module")
def facts() -> Facts:
    found = examined(JOB)
    assert not found.has_errors and found.facts is not None
    return found.facts


def test_what_is_known_is_as_counted_by_hand_and_the_rest_is_open(facts: Facts) -> None:
    ohms = {name: reading.ohms for name, reading in facts.readings.items()}
    assert ohms["A1"] == pytest.approx(30 + 2 * 85 * 6.385 / 1000, abs=0.005)
    assert ohms["A4"] == pytest.approx(30 + 2 * 30.48 * 21 / 1000, abs=0.001)
    assert [ohms["A2"], ohms["A3"], ohms["A5"]] == [None, None, None]
    assert {name for name, reading in facts.readings.items() if reading.volts} == {"A1", "A4"}
    # The current is that of the coil, whatever the wire: 230 mA.
    found = facts.running.items()
    running = {name: (bool(each.low), round(each.milliamperes)) for name, each in found}
    known, open_ = (True, 230), (False, 230)
    assert running == {"A1": known, "A2": open_, "A3": open_, "A4": known}


def test_all_questions_are_one_note_at_the_first_of_them(facts: Facts) -> None:
    found = examined(JOB)
    (note,) = [problem for problem in found.problems if problem.code == "not-known"]
    assert well_said(note).sentence == (
        "not known: the length of A-K1 from 'VB-1' to 'VB-2', the gauge of A-K2, "
        "the gauge of A-K3 and the coil of A5"
    )
    assert note.span.line == JOB[: JOB.index("not known")].count("\n") + 1
    assert [each.subject for each in asked(facts)] == [
        Subject.LENGTH,
        Subject.GAUGE,
        Subject.GAUGE,
        Subject.COIL,
    ]


def test_each_question_names_the_place_and_the_valves_that_wait_for_it(facts: Facts) -> None:
    found = as_built(facts).questions
    assert [(q.subject, q.thing, q.at, q.needed_by) for q in found] == [
        ("length", "A-K1", "VB-2", ("A2",)),
        ("gauge", "A-K2", "A", ("A3",)),
        ("gauge", "A-K3", "A", ()),  # its resistance is said
        ("coil", "A5", "VB-4", ("A5",)),
    ]


def test_an_answer_in_its_place_closes_the_question() -> None:
    text = edit(JOB, "VB-1, not known, VB-2", "VB-1, 60 ft, VB-2")
    text = edit(text, "A-K2: {gauge: not known", "A-K2: {gauge: 18 AWG")
    text = edit(text, "    gauge: not known\n", "    gauge: 18 AWG\n")
    text = edit(text, ", coil: not known", "")
    found = examined(text)
    assert "not-known" not in codes(text)
    ohms = found.readings["A2"].ohms
    assert ohms == pytest.approx(30 + 2 * 145 * 6.385 / 1000, abs=0.005)


def test_where_a_thing_is_may_be_unknown() -> None:
    text = edit(JOB, "place: garage wall", "place: not known")
    text = edit(text, "VB-1: {}, VB-2: {}", "VB-1: {place: not known}, VB-2: {place: front walk}")
    found = examined(text)
    assert found.facts is not None and not found.has_errors
    assert [e.thing for e in asked(found.facts) if e.subject is Subject.PLACE] == ["A", "VB-1"]


def test_values_of_a_kind_of_coil_may_be_unknown() -> None:
    text = edit(JOB, "resistance: 30 ohm", "resistance: Not  Known")
    found = examined(text)
    assert found.facts is not None and not found.has_errors
    assert all(reading.ohms is None for reading in found.readings.values())
    # The holding current is on the label, whatever the ohms are.
    running = {name: (each.low, each.milliamperes) for name, each in found.facts.running.items()}
    assert running == dict.fromkeys(("A1", "A2", "A3", "A4"), ({}, 230.0))
    subjects = [(each.subject, each.thing) for each in asked(found.facts)]
    assert (Subject.COIL_OHMS, "usual") in subjects
    leads = examined(edit(JOB, "minimum: 20 V}", "minimum: not known, leads: not known}"))
    assert leads.facts is not None
    assert (Subject.COIL_LEADS, "usual") in [(e.subject, e.thing) for e in asked(leads.facts)]
    assert "volts-too-low" not in {problem.code for problem in leads.problems}


def test_distances_of_a_box_may_be_unknown() -> None:
    found = examined(edit(JOB, "VB-3: {}", "VB-3: {ties: not known}"))
    assert found.facts is not None and not found.has_errors
    (asked_of,) = [q for q in as_built(found.facts).questions if q.subject == "ties"]
    assert (asked_of.thing, asked_of.at, asked_of.needed_by) == ("VB-3", "VB-3", ())


def test_checks_are_silent_about_what_cannot_be_known() -> None:
    """The connector takes no 12 AWG; of what is in a joint with an unknown one nobody can say."""
    crowded = edit(JOB, "A-K2: {gauge: not known", "A-K2: {gauge: 12 AWG")
    assert "connector-overfilled" in codes(crowded)
    assert "connector-overfilled" not in codes(JOB)
    far = edit(JOB, "A, 85 ft, VB-1", "A, 2500 ft, VB-1")
    (low,) = [p for p in examined(far).problems if p.code == "volts-too-low"]
    assert "A1" in low.sentence and "A2" not in low.sentence  # nobody knows how far A2 is


def test_a_ring_is_open_where_an_unknown_leg_is_part_of_it_and_not_beside_it() -> None:
    ring: list[PerhapsKnown] = [
        ("a", "b", 3.0),
        ("b", "c", 3.0),
        ("c", "a", 3.0),
    ]  # 3 beside 6: 2 ohm
    assert resistance_if_known(ring, "a", "b") == pytest.approx(2.0)
    assert resistance_if_known([*ring, ("c", "d", None)], "a", "b") == pytest.approx(2.0)
    assert resistance_if_known([*ring[:2], ("c", "a", None)], "a", "b") is None
    assert resistance_if_known([*ring, ("b", "d", None)], "a", "d") is None
    # A bridge in balance carries nothing: 2 + 2 beside 4 + 4 is 8/3, whatever the bridge has.
    arms: list[PerhapsKnown] = [("a", "m", 2), ("m", "b", 2), ("a", "n", 4), ("n", "b", 4)]
    assert resistance_if_known([*arms, ("m", "n", None)], "a", "b") == pytest.approx(8 / 3)


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ("not known, VB-2", "unknown, VB-2", "length-missing"),
        ("not known, VB-2", "TBD, VB-2", "length-missing"),
        ("gauge: 18 AWG", "gauge: unknown", "value"),
    ],
)
def test_other_words_for_it_are_told(old: str, new: str, code: str) -> None:
    assert code in {found for found, *_ in problems_of(JOB.replace(old, new))}


def test_other_stations_of_a_large_job_read_as_before() -> None:
    """Which valves lie behind each leg is counted by hand from the file."""
    text = sample("quarry")
    before = {name: reading.ohms for name, reading in examined(text).readings.items()}
    for old, behind in (
        ("VB-5, 150 ft, VB-6]", {"A13", "A14"}),
        ("VB-7, 220 ft, VB-8]", {"B9", "B10"}),
    ):
        found = examined(edit(text, old, re.sub("[0-9]+ ft", "not known", old)))
        assert found.facts is not None and not found.has_errors
        after = {name: reading.ohms for name, reading in found.readings.items()}
        assert after == {name: None if name in behind else o for name, o in before.items()}
        (question,) = as_built(found.facts).questions
        assert set(question.needed_by) == behind


def test_singles_of_one_color_are_one_question() -> None:
    text = sample("sandpiper").replace("gauge: 14 AWG", "gauge: not known")
    found = examined(text)
    assert found.facts is not None and not found.has_errors
    questions = as_built(found.facts).questions
    assert [(q.thing, q.color) for q in questions] == [("P-K1", "red"), ("P-K1", "white")]
    assert all(q.needed_by == ("P1", "P2", "P3", "P4", "MV-P") for q in questions)


@pytest.mark.parametrize(
    ("spot", "wrong", "way_out"),
    [
        ("site: North park", "site: not known", "leave it out"),
        ("area: front bed", "area: no se sabe", "'not known'"),
        ("area: front bed", "area: Unknown", "'not known'"),
        ("place: garage wall", "place: desconocido", "'not known'"),
        ("area: front bed", "area: front bed, notes: [unknown]", "leave it out"),
        ("area: front bed", "area: front bed, device: not known", "leave it out"),
        ("VB-2: {}", "VB-2: {ties: [not known, 5 ft from wall]}", "leave it out"),
    ],
)
def test_elsewhere_it_is_no_text(spot: str, wrong: str, way_out: str) -> None:
    """Nothing prints `not known`, `unknown` or `no se sabe` as if it were a place or a name."""
    found = examined(edit(JOB, spot, wrong)).problems
    (problem,) = [p for p in found if p.verdict is Verdict.ERROR]
    assert problem.code == "value" and way_out in problem.help


@pytest.mark.parametrize("license_text", ["n/a", "none", "LI-0042"])
def test_that_there_is_none_is_a_text(license_text: str) -> None:
    text = edit(JOB, "site: North park", f"site: North park, license: {license_text}")
    assert codes(text) == codes(JOB)
