"""What agencies, the electrical code and safety rules ask for, against what is printed.

Each row of the tables names the check that finds it in a print, in a list of problems or in the
figures, or says why cardgen has nothing to do with it.  No test claims that a job meets any of
these: local codes and licensed practice decide, and the sheets say so.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from cardgen.cards.pulled_lengths import PulledPiece
from cardgen.examine import examine_text
from cardgen.layout import load_layouts
from cardgen.manual import pages
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import make_print
from cardgen.output.selection import EVERYTHING, Selection
from cardgen.trade.colors import insulation
from cardgen.trade.copper import AWG_COEFFICIENT, resistance
from cardgen.trade.slack import Slack
from cardgen.units import Celsius, Gauge, GaugeSystem, Length, LengthUnit
from tests.jobs import SAMPLES, edit, examined, loaded, sample
from tests.outside import tables
from tests.outside.pages import text_by_poppler
from tests.outside.test_worked_examples import job, volts_of

Row = tables.Row
README = (Path(__file__).parents[2] / "README.md").read_text("utf-8")
MANUAL = "".join([README, *(page.text for page in pages().values())])
MM_PER_INCH = 25.4


@cache
def printed(name: str, only: str = "") -> dict[str, str]:
    """By file, what a reader of PDFs finds in it, with one space between two words."""
    request = PrintRequest(selection=Selection(only=(only,)) if only else EVERYTHING)
    made, problems = make_print(examine_text(sample(name)), request)
    assert made is not None, problems
    pages = {f: text_by_poppler(d) for f, d in made.files.items() if f.endswith(".pdf")}
    return {file: " ".join(" ".join(found).split()) for file, found in pages.items()}


def everything() -> str:
    return " ".join(printed("quarry").values())


def codes(text: str) -> set[str]:
    return {p.code for p in examined(text).problems}


def at_least(row: Row) -> int:
    """The first whole number of a value; 1 where it has none."""
    found = re.search("[0-9]+", row["value"])
    return int(found[0]) if found else 1


# ---- agencies ------------------------------------------------------------------------------


def a_legend_for_each_controller(_: Row) -> None:
    found = [file for file in printed("quarry") if file.startswith("door-legend")]
    assert found == ["door-legend-A.pdf", "door-legend-B.pdf"]


def the_legend_lists_station_and_area(_: Row) -> None:
    facts = examined(sample("quarry")).facts
    assert facts
    for station in facts.job.stations.values():
        legend = printed("quarry")[f"door-legend-{station.id[0]}.pdf"]
        assert re.search(rf"\b{station.id}\b", legend)
        assert station.area is not None
        assert all(word in legend for word in station.area.value.split()), station.id


def the_legend_shows_every_position(_: Row) -> None:
    legend = printed("quarry")["door-legend-A.pdf"]
    for terminal in ("C", *map(str, range(1, 17)), "MV"):
        assert re.search(rf"\b{terminal}\b", legend), terminal
    assert "empty" in legend and "SPARES" in legend and "SP-1" in legend


def the_packet_has_a_sign_off(_: Row) -> None:
    for words in ("SIGN-OFF", "installed", "tested", "accepted", "copy left at"):
        assert words.lower() in printed("quarry")["packet.pdf"].lower()


def the_packet_has_room_for_two_distances(_: Row) -> None:
    for words in ("distance to a fixed point", "distance to another"):
        assert words in printed("quarry")["packet.pdf"]


def the_drawing_shows_all_of_the_wiring(_: Row) -> None:
    drawing = printed("heron", "wiring-drawing")["wiring-drawing.pdf"]
    facts = examined(sample("heron")).facts
    assert facts
    job = facts.job
    for name in (*job.boxes, *job.controllers, *job.cables, *job.sensors, *facts.wiring.loads):
        assert re.search(rf"(?<![A-Z0-9]){name}\b", drawing), name
    assert drawing.count("surge unit, grounded here") == len(job.surge_units)
    assert "joined to" in drawing and "relay PUMP-A" in drawing


def each_tag_has_number_and_area(_: Row) -> None:
    tags = printed("quarry")["valve-tags.pdf"]
    facts = examined(sample("quarry")).facts
    assert facts
    for station in facts.job.stations.values():
        for name in station.valves or (station.id,):
            assert re.search(rf"\b{name}\b", tags)
        assert station.area is not None and station.area.value in tags


def a_tag_of_that_size_can_be_printed(row: Row) -> None:
    wide, high = (float(n) * MM_PER_INCH for n in row["value"].partition(" in")[0].split(" x "))
    sizes = [(s.card.width, s.card.height) for s in load_layouts()[0].stocks.values()]
    assert any(
        abs(min(size) - wide) < 2 and abs(max(size) - high) < 2 for size in sizes
    )  # 50 x 75 mm is the metric stock nearest to 2 x 3 in


def the_colors_can_be_written(row: Row) -> None:
    known = ("red", "white", "orange", "yellow", "black", "blue", "green")
    named = [word for word in known if word in row["requirement"]] or known
    assert all(insulation(word) for word in named)


def a_usual_coil_works_over_that_length(row: Row) -> None:
    """A coil of the samples keeps its 20 V on 14 AWG so far, and half as far again on 12 AWG."""
    feet = at_least(row)
    for gauge, length in ((14, feet), (12, 1.5 * feet)):
        run = f"A, {length} ft, VB-1"
        assert volts_of(job(hot=f"{gauge} AWG", common=f"{gauge} AWG", run=run)) >= 20


def too_few_spares_are_told(row: Row) -> None:
    asked = 3 if row["id"] == "A44" else at_least(row)
    text = job().replace("boxes: {VB-1: {}", f"boxes: {{VB-1: {{spares: {asked}}}")
    there = 2  # red A2 and red MV serve nothing
    assert ("spares-too-few" in codes(text)) == (asked > there)
    assert "spares-too-few" in codes(text.replace(f"spares: {asked}", f"spares: {there + 1}"))
    more = ", ".join(f"SP-{n}" for n in range(asked))
    assert "spares-too-few" not in codes(text.replace("[A1, A2, MV]", f"[A1, A2, MV, {more}]"))


def slack_is_ordered(row: Row) -> None:
    """At the valve as much as is asked; loop and cabinet come out of the tenth that is added."""
    inches = [int(n) for n in re.findall("[0-9]+", row["value"])]
    assert inches and round(Slack().valve.meters / 0.0254, 6) >= min(inches)
    leg = Length(60.0, LengthUnit.FEET).meters
    pulled = PulledPiece(legs=(leg,), box_ends=0, controller_ends=0, valves=1)
    more = (pulled.ordered(Slack()) - leg) / 0.0254
    assert more >= (sum(inches) if "/" in row["value"] else min(inches))


def a_splice_without_box_is_told(_: Row) -> None:
    text = edit(sample("quarry"), "kind: splice box", "kind: buried splice")
    assert "joint-without-box" not in codes(sample("quarry"))
    assert "joint-without-box" in codes(text)


# ---- the electrical code -------------------------------------------------------------------


def no_depth_is_printed(row: Row) -> None:
    """Cover is no matter of the record: no sheet names a depth or a table of the Code."""
    assert not re.search(r"\b(300\.5|cover of|deep|depth|buried [0-9])", everything()), row["rule"]
    assert not re.search(r"300\.5|\bcover of\b", MANUAL)


def no_code_is_claimed(_: Row) -> None:
    for text in (everything(), MANUAL):
        assert not re.search("code[- ]compliant|complies with|approved by|UL[ -]listed", text)
    assert "not approvals" in printed("quarry")["packet.pdf"]
    assert "Local codes and licensed practice decide" in MANUAL


def the_samples_stay_below(row: Row) -> None:
    """S42: 30 V and 100 VA."""
    for name in SAMPLES:
        found, _ = loaded(sample(name))
        assert found
        for controller in found.controllers.values():
            assert (controller.supply.value.volts or 0) <= 30
            if controller.transformer is not None:
                assert controller.transformer <= float(row["value"])
    assert "out-of-range" in codes(job(supply=31))


def the_splice_card_wants_a_listed_connector(_: Row) -> None:
    card = printed("quarry")["splice-cards.pdf"]
    assert "listed for wet places and direct burial" in card
    assert "Tape alone is not a splice" in card


def no_percentage_decides(row: Row) -> None:
    """A tenth of the voltage is lost, far more than the Code's advice; the coil has its volts."""
    text = (
        job(run="A, 600 ft, VB-1")
        .replace("ohms: ", "")
        .replace("    holding:", "    minimum: 20 V\n    holding:")
    )
    lost = 100 * (24 - volts_of(text)) / 24
    assert lost > max(float(n) for n in row["value"].split(" / "))
    assert "volts-too-low" not in codes(text)


def white_may_be_any_conductor(_: Row) -> None:
    """What a conductor serves is said by its role: exchanging the colors changes nothing."""
    text = job()
    other = text.replace("red", "GOES").replace("white", "red").replace("GOES", "white")
    assert codes(text) == codes(other)
    assert volts_of(text) == volts_of(other)


def the_copper_follows_the_rule(row: Row) -> None:
    fourteen = Gauge(14.0, GaugeSystem.AWG)
    warm, cold = resistance(fourteen, Celsius(75.0)), resistance(fourteen)
    assert cold == pytest.approx(warm * (1 + float(row["value"]) * (20 - 75)), rel=1e-3)
    assert float(row["value"]) < AWG_COEFFICIENT  # per degree of the value at 20 C, not at 75 C


# ---- cautions ------------------------------------------------------------------------------


def no_signal_word(_: Row) -> None:
    """A tag of ours is no hazard tag and must not look like one."""
    assert not re.search(r"\b(DANGER|WARNING|CAUTION|NOTICE)\b", everything())


def caution(words: str) -> Callable[[Row], None]:
    def is_printed(_: Row) -> None:
        for file in ("door-legend-A.pdf", "packet.pdf"):
            assert words in printed("quarry")[file]
        assert words in MANUAL

    return is_printed


CHECKS: dict[str, Callable[[Row], None]] = {
    check.__name__: check
    for check in (
        a_legend_for_each_controller,
        the_legend_lists_station_and_area,
        the_legend_shows_every_position,
        the_packet_has_a_sign_off,
        the_packet_has_room_for_two_distances,
        the_drawing_shows_all_of_the_wiring,
        each_tag_has_number_and_area,
        a_tag_of_that_size_can_be_printed,
        the_colors_can_be_written,
        a_usual_coil_works_over_that_length,
        too_few_spares_are_told,
        slack_is_ordered,
        a_splice_without_box_is_told,
        no_depth_is_printed,
        no_code_is_claimed,
        the_samples_stay_below,
        the_splice_card_wants_a_listed_connector,
        no_percentage_decides,
        white_may_be_any_conductor,
        the_copper_follows_the_rule,
    )
}
CHECKS["no signal word"] = no_signal_word
CAUTIONS = (
    *("one-call", "do not mark", "Switch off and lock", "licensed electrician"),
    *("thunderstorm", "Look inside", "may open"),
)
CHECKS |= {words: caution(words) for words in CAUTIONS}

TABLES = ("agency_requirements", "nec_rules", "safety_cautions")
ROWS = [
    (f"{name} {row.get('id', n)}", row)
    for name in TABLES
    for n, row in enumerate(tables.used(name), 1)
]


@pytest.mark.xdist_group("print quarry")
@pytest.mark.parametrize("row", [row for _, row in ROWS], ids=[name for name, _ in ROWS])
def test_each_row(row: Row) -> None:
    CHECKS[row["used_by"]](row)


def test_each_check_has_a_row() -> None:
    assert {row["used_by"] for _, row in ROWS} == CHECKS.keys()
