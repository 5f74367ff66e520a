"""What several values show together stands for what each would say alone; nothing is left out."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from cardgen.asbuilt import AsBuilt
from cardgen.examine import examine_text
from cardgen.memory.revisions import RevisionLog, from_json, to_json
from cardgen.output.as_printable import as_printable
from cardgen.output.recording import RecordRequest
from cardgen.record.judging import judged_results, newest
from cardgen.results import OL, Kind, KnownNames, Measured
from tests.record.records import printable, publish, revision
from tests.record.test_results import page
from tests.results.valves import read


@cache
def larkspur() -> AsBuilt:
    return printable("larkspur").asbuilt


def as_built(text: str) -> AsBuilt:
    printable = as_printable(examine_text(text))
    assert printable is not None
    return printable.asbuilt


def walk(**values: float) -> list[Measured]:
    return [read(value, valve=valve) for valve, value in values.items()]


def verdicts(results: list[Measured]) -> dict[str, str]:
    found = judged_results([larkspur()], results).by_valve
    return {valve: values[-1].finding.name for valve, values in found.items()}


def test_a_row_that_a_pattern_explains_says_no_more_what_it_might_mean_alone() -> None:
    """A4 and A5 hang on the common of K2, the others on that of K1: by hand from the file."""
    good = {"A1": 31.1, "A2": 31.1, "A3": 31.9, "A6": 31.9}
    assert verdicts(walk(**good, A4=OL, A5=OL)) == {
        **dict.fromkeys(good, "within"),
        **dict.fromkeys(("A4", "A5"), "explained"),
    }
    # One alone keeps what it says by itself, beside a pattern that does not explain it, too.
    assert verdicts(walk(A1=2.0, A2=31.1, A3=31.9, A4=OL, A5=OL))["A1"] == "short"
    assert verdicts(walk(A1=31.1, A4=OL))["A4"] == "open"


def test_an_explained_row_sends_nobody_to_the_coil(tmp_path: Path) -> None:
    rows = [
        f"2026-04-01,{valve},ohms at the controller,{value}\n"
        for valve, value in (("A1", "31"), ("A4", "OL"), ("A5", "OL"))
    ]
    file = tmp_path / "readings.csv"
    file.write_text("when,valve,kind,value\n" + "".join(rows), "utf-8")
    folder = publish(revision(1), tmp_path, RecordRequest(languages=("en", "es"), results=file))
    text = page(folder, "TEST_RESULTS")
    assert "Measured OL, 2026-04-01 ! See what the values of A4, A5 show together." in text
    assert "Measure at the coil's leads" not in text
    assert "Vea lo que los valores de A4, A5 muestran juntos." in page(folder, "ES_/VB-3")


def test_only_what_the_newest_value_says_is_explained() -> None:
    before = [read(31.8, valve="A4", when="2026-03-20")]
    found = judged_results([larkspur()], [*before, *walk(A1=31.1, A4=OL, A5=OL)]).by_valve["A4"]
    assert [each.finding.name for each in found] == ["within", "explained"]


CONDUCTORS = """when,valve,kind,from,to,box,value,conditions
2026-04-01,,insulation,COM-A,,,0.05,
2026-04-01,,volts without load,A-K1 white,,,12,
2026-04-01,A1,ohms hot to hot,,A2,,62.1,leads 0.2 ohm
2026-04-01,A1,ohms hot to hot,,A3,,61.5,
2026-04-01,A1,walk test,,A2,,1,
2026-04-01,A2,not reached,,,,,
"""


def test_every_kind_is_on_the_page_of_results(tmp_path: Path) -> None:
    file = tmp_path / "readings.csv"
    file.write_text(CONDUCTORS, "utf-8")
    request = RecordRequest(languages=("en", "es"), results=file)
    text = page(publish(revision(1), tmp_path, request), "TEST_RESULTS")
    for said in (
        "Of commons, spares and other conductors",
        "Insulation to ground: COM-A Measured 0.05 MΩ, 2026-04-01 !",
        "Volts with no load: A-K1 white Measured 12 V, 2026-04-01 ?",
        "Ohms, hot to hot: A1 – A2 Expected not known Measured 62.1 Ω, 2026-04-01",
        "Conditions leads 0.2 ohm",
        "Ohms, hot to hot: A1 – A3",
        "Walk test Measured A2, 2026-04-01 ! A2 ran while A1 was on.",
        "Not reached Measured –, 2026-04-01 ? Nobody could measure here.",
    ):
        assert said in text, text


def test_values_of_no_valve_are_of_today_too_until_their_metal_goes_another_way() -> None:
    """Revision 2 feeds A6 by orange in the place of yellow: what was a spare has gone."""
    moved = as_built(revision(2, ("hot: A-K1 yellow", "hot: A-K1 orange")))
    common, spare, valve = (
        replace(read(0.05, Kind.INSULATION, when="2026-04-01"), valve="", start="COM-A"),
        replace(
            read(4.0, Kind.SPARE_LOOP, when="2026-04-01"),
            valve="",
            start="SP-A-K1-6",
            to="COM-A",
            box="VB-2",
        ),
        read(31.1, when="2026-03-31"),
    )
    first = as_built(revision(1))
    assert judged_results([first], [common, spare, valve]).today == (valve, common, spare)
    found = judged_results([first, moved], [common, spare, valve])
    assert found.today == (valve, common)
    assert [each.outdated_by for each in found.of_conductors] == [None, 2]
    later = replace(spare, when="2026-04-02")  # of the day of revision 2, which says what it is
    assert judged_results([first, moved], [later]).today == (later,)


def test_what_is_withdrawn_counts_for_nothing() -> None:
    """Two dead on one common are a pattern, and COM-A is wet; with one taken back nothing is."""
    values = walk(A1=31.1, A2=31.1, A3=31.9, A4=OL, A5=OL)
    wet = replace(read(0.05, Kind.INSULATION), valve="", start="COM-A")
    found = judged_results([larkspur()], [*values, wet])
    assert found.patterns and found.of_conductors
    *sound, dead = values
    back = [replace(each, withdrawn="Ana: slip") for each in (dead, wet)]
    found = judged_results([larkspur()], [*sound, *back])
    assert (found.patterns, found.of_conductors) == ((), ())
    assert set(found.by_valve) == {"A1", "A2", "A3", "A4"}


def test_what_is_withdrawn_later_is_taken_back_from_the_record() -> None:
    first, second = walk(A1=31.1, A2=3.1)
    published = RevisionLog().with_results([first, second])
    history = published.with_results([replace(second, withdrawn="Ana: slip")])
    assert [each.valve for each in history.results] == ["A1"]
    assert b"Ana" not in to_json(history)


def test_what_is_published_comes_back() -> None:
    values = [
        (Kind.BOX_LOOP, 30.0, "VB-1"),
        (Kind.SPARE_LOOP, OL, "VB-2"),
        (Kind.VOLTS, 22.0, "VB-3"),
    ]
    results = tuple(
        replace(read(v, kind), box=box, start="COM-A", to="A2", conditions="22 C")
        for kind, v, box in values
    )
    kept = from_json(to_json(RevisionLog().with_results(results))).results
    assert [(m.kind, m.start, m.to, m.conditions) for m in kept] == [
        (m.kind, "COM-A", "A2", "22 C") for m in results
    ]
    # The box is kept where the valve does not say it.
    assert [m.box for m in kept] == ["VB-1", "VB-2", ""]


def test_the_newest_of_each_pair_is_one_of_its_own() -> None:
    pairs = [
        replace(read(value, Kind.HOT_TO_HOT), to=to)
        for to, value in (("A2", 62.0), ("A3", 63.0), ("A2", 61.0))
    ]
    found = newest(judged_results([larkspur()], pairs).by_valve["A1"]).values()
    assert [(each.measured.to, each.measured.value) for each in found] == [
        ("A2", 61.0),
        ("A3", 63.0),
    ]


@pytest.mark.parametrize(
    "name", ["valves", "stations", "controllers", "conductors", "places", "sensors"]
)
def test_the_names_of_a_job(name: str) -> None:
    """Some of larkspur, by hand from its file."""
    some = {
        "valves": {"A1", "A6"},
        "stations": {"A1", "A6"},
        "controllers": {"A"},
        "conductors": {"A-K1 white", "COM-A", "A1"},
        "places": {"A", "VB-1", "VB-3"},
        "sensors": {"RAIN"},
    }
    assert some[name] <= getattr(KnownNames.of([larkspur()]), name)
