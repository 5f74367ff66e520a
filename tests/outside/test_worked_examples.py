"""Published and computed examples, each as a job of one station or two, read as a crew would."""

from __future__ import annotations

import cmath
import math
from string import Template

import pytest

from cardgen.allot import allot
from cardgen.cards.readings_sheet import test_sheets as sheets_of
from cardgen.electrics import ExpectedReading
from cardgen.electrics.alternating import voltages
from cardgen.electrics.reach import AWG_STEPS
from cardgen.electrics.resistance import resistance_between
from cardgen.layout import qr
from cardgen.trade import copper
from cardgen.trade.copper import AWG_COEFFICIENT, resistance
from cardgen.units import METERS_PER_FOOT, Gauge, GaugeSystem, OhmsPerKilometer
from tests.cards.printables import plain_rows, printable
from tests.for_each import for_each
from tests.jobs import examined
from tests.outside import tables

WIRE_TABLE = 3e-4  # the wire table has four figures


USUAL: dict[str, str | float] = {
    "hot": "18 AWG",
    "common": "18 AWG",
    "run": "A, 400 ft, VB-1",
    "supply": 24,
    "ohms": 30,
    "inrush": 0.4,
    "holding": 0.2,
    "station": "box: VB-1",
    "more": "",
}
JOB = Template("""\
job: {code: EX-1, site: Example, revision: 1, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
coils:
  usual:
    supply: 24 V AC
    resistance: $ohms ohm
    inrush: $inrush A
    holding: $holding A
controllers:
  A: {place: wall, supply: $supply V AC, stations: 4, coil: usual, common: K1 white}
cables:
  K1:
    singles:
      - {color: red, gauge: $hot, flags: [A1, A2, MV]}
      - {color: white, gauge: $common}
    run: [$run]
boxes: {VB-1: {}, VB-2: {}}
stations:
  A1: {area: lawn, hot: K1 red A1, $station}
$more
""")


def job(**said: str | float) -> str:
    """A hot and a common along one run, and whatever else is said."""
    return JOB.substitute(USUAL | said)


def reading_of(text: str, owner: str = "A1") -> ExpectedReading:
    return examined(text).readings[owner]


def volts_of(text: str, owner: str = "A1") -> float:
    return min(reading_of(text, owner).volts.values())


def answer(case: str, quantity: str) -> float:
    """The answer of a worked example: as recomputed, which the page may have rounded."""
    return tables.number("worked_examples", "exact_recomputed", id=case, quantity=quantity)


@pytest.fixture
def page_ohms(monkeypatch: pytest.MonkeyPatch) -> dict[float, float]:
    """Ohms per 1000 ft by gauge as a page gives them, in place of our own."""
    given: dict[float, float] = {}

    def as_on_the_page(gauge: Gauge, *_: object) -> OhmsPerKilometer:
        return OhmsPerKilometer(given[gauge.size] / METERS_PER_FOOT)

    monkeypatch.setattr(copper, "resistance", as_on_the_page)
    return given


# -- S09: NMSU SOIL 456, answers to chapter 11; its 6.78 ohm/kft is no value of ours -----------


def test_e01_longest_run_on_18_awg(page_ohms: dict[float, float]) -> None:
    page_ohms[18] = 6.78
    feet = answer("E01", "distance controller to valve")
    text = job(run=f"A, {feet} ft, VB-1", supply=26, inrush=0.6, ohms=30)
    reading = reading_of(text)
    assert reading.ohms is not None
    loop = reading.ohms - 30
    assert loop == pytest.approx(answer("E01", "allowed loop resistance"), rel=1e-3)
    assert volts_of(text) == pytest.approx(21.0, abs=1e-3)
    assert 2 * feet == pytest.approx(answer("E01", "total wire length (out and back)"), abs=0.02)


def test_e02_mixed_gauges(page_ohms: dict[float, float]) -> None:
    page_ohms |= {18: 6.78, 14: 2.68}
    text = job(hot="18 AWG", common="14 AWG", run="A, 1000 ft, VB-1", inrush=0.5)
    reading = reading_of(text)
    assert reading.ohms == pytest.approx(30 + answer("E02", "loop resistance"), rel=1e-9)
    assert volts_of(text) == pytest.approx(answer("E02", "voltage at valve"), abs=1e-9)
    drop = 24 - volts_of(text)
    assert drop == pytest.approx(answer("E02", "voltage drop"), abs=1e-9)


def test_e03_ohms_for_a_drop_of_two_volts(page_ohms: dict[float, float]) -> None:
    page_ohms[10] = answer("E03", "allowed ohm per 1000 ft")
    text = job(hot="10 AWG", common="10 AWG", run="A, 2000 ft, VB-1", inrush=0.4)
    assert 24 - volts_of(text) == pytest.approx(2.0, abs=1e-9)


@pytest.mark.parametrize("case", ["E03", "E04"])
def test_e03_e04_pick_the_same_gauge_from_our_own_table(case: str) -> None:
    allowed = answer(case, "allowed ohm per 1000 ft")
    thick_enough = [gauge.size for gauge in AWG_STEPS if kft(gauge.size) <= allowed]
    assert thick_enough[0] == answer(case, "selected gauge")


def test_e04_two_valves_on_one_station(page_ohms: dict[float, float]) -> None:
    # The page has 0.2 A and 0.3 A; a station has one coil here, so 0.25 A twice.
    page_ohms[10] = answer("E04", "allowed ohm per 1000 ft")
    twin = "valves: {A1a: {box: VB-1}, A1b: {box: VB-1}}"
    text = job(hot="10 AWG", common="10 AWG", run="A, 2000 ft, VB-1", inrush=0.25, station=twin)
    assert 24 - volts_of(text) == pytest.approx(3.0, abs=1e-9)
    ohms = reading_of(text).ohms
    assert ohms is not None
    assert ohms - 15 == pytest.approx(answer("E04", "allowed loop resistance"), abs=1e-9)


# -- S10: training page, 24 V, 16 AWG stranded at 75 C, 100 ft, 4 A ----------------------------


def test_e05_low_voltage_at_75_c(page_ohms: dict[float, float]) -> None:
    page_ohms[16] = 4.99  # S02: NEC chapter 9 table 8
    text = job(hot="16 AWG", common="16 AWG", run="A, 100 ft, VB-1", inrush=4)
    drop = 24 - volts_of(text)
    assert drop == pytest.approx(answer("E05", "voltage drop"), abs=1e-9)
    assert 100 * drop / 24 == pytest.approx(answer("E05", "percent of 24 V"), abs=5e-3)


# -- S11: licence lesson, K = 12.9; its 120 V are no supply of ours, but volts lost know no supply


@pytest.mark.parametrize(("case", "gauge", "mils"), [("E06", 12, 6530), ("E07", 8, 16510)])
def test_e06_e07_drop_by_k(
    page_ohms: dict[float, float], case: str, gauge: int, mils: float
) -> None:
    ours = min(gauge, 12) if gauge in (10, 12) else 10  # 8 AWG is no size of valve wiring
    page_ohms[ours] = 12.9 * 1000 / mils
    text = job(hot=f"{ours} AWG", common=f"{ours} AWG", run="A, 100 ft, VB-1", inrush=20, ohms=1)
    drop = 24 - volts_of(text)
    assert drop == pytest.approx(answer(case, "voltage drop"), abs=1e-4)
    (page,) = tables.rows("worked_examples", id=case, quantity="voltage drop")
    assert drop == pytest.approx(float(page["published_answer"]), abs=0.05)
    assert 100 * drop / 120 == pytest.approx(answer(case, "percent"), abs=5e-3)


# -- S12: Hole Notes magazine, coils side by side; wire neglected ------------------------------


COUNTS = {"two": 2, "three": 3, "four": 4}


@pytest.mark.parametrize("row", tables.rows("worked_examples", id="E08"), ids=lambda r: r["inputs"])
def test_e08_valves_on_one_terminal(row: tables.Row) -> None:
    count, ohms = COUNTS[row["inputs"].partition(" ")[0]], float(row["published_answer"])
    valves = ", ".join(f"A1{'abcd'[n]}: {{box: VB-1}}" for n in range(count))
    text = job(hot="10 AWG", common="10 AWG", run="A, 1 ft, VB-1", station=f"valves: {{{valves}}}")
    assert reading_of(text).ohms == pytest.approx(ohms, abs=0.003)  # 2 ft of 10 AWG


# -- S52 and S51: the size of a printed code ---------------------------------------------------


@pytest.mark.parametrize("row", tables.rows("worked_examples", id="E09"), ids=lambda r: r["title"])
def test_e09_side_of_a_symbol(row: tables.Row, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(qr, "SMALLEST_MODULE", 0.0)  # retail goes below what we print
    module = float(row["inputs"].rpartition("=")[2].removesuffix(" mm"))
    side = float(row["published_answer"])
    assert qr.module_size(29, side, 0.0) == pytest.approx(module, abs=1e-9)
    assert qr.module_size(29, side - 0.01, 0.0) != pytest.approx(module, abs=1e-9)


def test_e10_five_dots_of_300_dpi(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(qr, "SMALLEST_MODULE", 0.0)
    dot = 25.4 / 300
    five = qr.module_size(29, 37 * 5.5 * dot, dot)  # room for five whole dots, not for six
    assert five == pytest.approx(answer("E10", "module size"), abs=1e-4)
    assert five == pytest.approx(0.42, abs=0.01)  # as the page rounds


def test_e11_letters_that_one_campus_reads_from_15_ft() -> None:
    """S14 takes 1/360 of the distance; S58, which our letters follow, asks for more."""
    (row,) = tables.rows("worked_examples", id="E11")
    theirs = 0.5 / (float(row["published_answer"]) * 12)
    (ours,) = tables.rows(
        "z535_letter_height",
        rule="ANSI Z535.2 table",
        case="message, favorable",
        distance="15",
        distance_unit="ft",
        height_unit="in",
    )
    assert theirs == pytest.approx(1 / 360)
    assert float(ours["height"]) > 0.5


# -- computed from the wire table, S01 ---------------------------------------------------------


@pytest.mark.parametrize(
    ("case", "hot", "common"), [("D01", 18, 18), ("D02", 18, 14), ("D03", 14, 14), ("D04", 12, 12)]
)
def test_longest_runs_leave_four_volts_less(case: str, hot: int, common: int) -> None:
    feet = answer(case, "distance")
    text = job(hot=f"{hot} AWG", common=f"{common} AWG", run=f"A, {feet} ft, VB-1", inrush=0.37)
    assert 24 - volts_of(text) == pytest.approx(4.0, rel=WIRE_TABLE)


def test_d05_picks_a_gauge() -> None:
    # 14 AWG, because 2.525 is below 3.810 and 4.016 is above it.
    assert kft(14) < answer("D05", "ohm per 1000 ft") < kft(16)


def test_d06_picks_a_metric_size() -> None:
    # IEC 60228 class 2: 1.5 mm2 has 12.1 ohm/km, 2.5 mm2 has 7.41.
    small, large = (resistance(Gauge(area, GaugeSystem.MM2)) for area in (1.5, 2.5))
    assert large < answer("D06", "ohm per km") < small


D07 = """\
master valves:
  MV-A: {controllers: A, box: %s, hot: K1 red MV}
"""


def test_d07_shared_common_with_another_that_runs() -> None:
    # One of the two is a master valve here, since that is what runs with a station.
    shape: dict[str, str | float] = {
        "common": "14 AWG",
        "run": "A, 300 ft, VB-1, 200 ft, VB-2",
        "inrush": 0.35,
    }
    near = job(**shape, holding=0.35, station="box: VB-1", more=D07 % "VB-2")
    far = job(**shape, holding=0.35, station="box: VB-2", more=D07 % "VB-1")
    assert 24 - volts_of(near) == pytest.approx(answer("D07", "drop at A"), rel=WIRE_TABLE)
    assert 24 - volts_of(far) == pytest.approx(answer("D07", "drop at B"), rel=WIRE_TABLE)


def test_d08_master_valve_on_the_stations_common() -> None:
    text = job(
        run="A, 50 ft, VB-1, 350 ft, VB-2",
        inrush=0.35,
        holding=0.2,
        station="box: VB-2",
        more=D07 % "VB-1",
    )
    assert 24 - volts_of(text) == pytest.approx(answer("D08", "drop at station"), rel=WIRE_TABLE)


def test_d07_two_stations_that_run_at_once() -> None:
    """The same two, now as two stations of a program that runs two at once."""
    stations = "  A{}: {{area: beds, box: {}, hot: K1 red A2}}"
    for case, box, other in (("drop at A", "VB-1", "VB-2"), ("drop at B", "VB-2", "VB-1")):
        text = job(
            common="14 AWG",
            run="A, 300 ft, VB-1, 200 ft, VB-2",
            inrush=0.35,
            holding=0.35,
            station=f"box: {box}",
        )
        text = text.replace("coil: usual,", "coil: usual, stations at once: 2,", 1)
        lines = [line for line in text.splitlines() if line.startswith("  A1:")]
        assert len(lines) == 1 and "stations at once" in text
        text = text.replace(lines[0], lines[0] + "\n" + stations.format(2, other))
        assert 24 - volts_of(text) == pytest.approx(answer("D07", case), rel=WIRE_TABLE)


@pytest.mark.parametrize(
    ("case", "power_factor"), [("load power factor 1.0", 1.0), ("load power factor 0.6", 0.6)]
)
def test_d09_phase(case: str, power_factor: float) -> None:
    """The coil that takes 0.37 A at the published voltage, behind 800 ft of 18/18 AWG."""
    (row,) = [r for r in tables.rows("worked_examples", id="D09") if case in r["title"]]
    expected = float(row["exact_recomputed"])
    coil = cmath.rect(expected / 0.37, math.acos(power_factor))
    wire = 2 * 0.8 * kft(18)
    found = voltages([("s", "c", complex(wire)), ("c", "0", coil)], {"s": 24 + 0j, "0": 0j})
    assert abs(found["c"]) == pytest.approx(expected, rel=WIRE_TABLE)


def test_d10_transformer() -> None:
    """20.88 VA: two hold with 0.25 A each, the last one starts with 0.37 A."""
    va = answer("D10", "VA")
    text = job(inrush=0.37, holding=0.25, station="box: VB-2", more=D07 % "VB-1").replace(
        "coil: usual,", f"coil: usual, stations at once: 2, transformer: {va - 0.1:.2f} VA,", 1
    )
    line = next(line for line in text.splitlines() if line.startswith("  A1:"))
    text = text.replace(line, line + "\n  A2: {area: beds, box: VB-1, hot: K1 red A2}")
    found = [p for p in examined(text).problems if p.code == "transformer-overloaded"]
    assert [f"{va:.1f} VA" in p.sentence for p in found] == [True]


D11 = """\
job: {code: EX-1, site: Example, revision: 1, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
controllers:
  A: {place: wall, supply: 24 V AC, stations: 12, common: K1 white}
cables:
  K1:
    singles:
      - {color: red, gauge: 14 AWG, flags: [A1 to A12, MV, SP-1, SP-2, SP-COM]}
      - {color: white, gauge: 14 AWG}
    run: [A, 100 ft, VB-1]
boxes: {VB-1: {}}
master valves: {MV-A: {controllers: A, box: VB-1, hot: K1 red MV}}
spares:
  SP-1: {conductor: K1 red SP-1}
  SP-2: {conductor: K1 red SP-2}
  SP-COM: {conductor: K1 red SP-COM}
stations:
"""


def test_d11_counts_the_conductors_of_a_leg() -> None:
    text = D11 + "".join(f"  A{n}: {{area: lawn {n}, box: VB-1}}\n" for n in range(1, 13))
    (leg,) = allot(text).legs
    assert leg.needs == answer("D11", "conductors")
    assert (leg.hots, leg.commons, leg.others, leg.spares) == (12, 1, 1, 3)


def kft(number: float) -> float:
    """Our ohms per 1000 ft."""
    return resistance(Gauge(number, GaugeSystem.AWG)) * METERS_PER_FOOT


@for_each("row", tables.rows("max_distance_grid"))
def test_longest_run_for_each_pair_of_gauges(row: tables.Row) -> None:
    # L = drop / (I (r_hot + r_common)), printed to a tenth of a foot.
    drop, amperes = float(row["allowable_drop_v"]), float(row["inrush_a"])
    feet = 1000 * drop / amperes / (kft(float(row["awg_hot"])) + kft(float(row["awg_common"])))
    assert feet == pytest.approx(float(row["max_one_way_ft"]), rel=WIRE_TABLE)


# -- what a meter reads, 30 ohm coils: computed, S01; O06 is S12 -------------------------------


def expected(case: str) -> float:
    return tables.number("ohmmeter_expected", "expected", case=case)


def test_o01_a_good_station() -> None:
    assert reading_of(job()).ohms == pytest.approx(expected("O01"), abs=0.002)


def test_o05_two_coils_side_by_side() -> None:
    twin = "valves: {A1a: {box: VB-1}, A1b: {box: VB-1}}"
    assert reading_of(job(station=twin)).ohms == pytest.approx(expected("O05"), abs=0.002)


def test_o13_a_coil_of_24_ohms_far_away() -> None:
    text = job(hot="14 AWG", common="14 AWG", run="A, 1500 ft, VB-1", ohms=24)
    assert reading_of(text).ohms == pytest.approx(expected("O13"), abs=0.002)


def test_o02_o03_what_is_left_of_the_wire_before_a_short() -> None:
    """The loop of O01 without its coil, and of half the length."""
    for case, feet in (("O02", 400), ("O03", 200)):
        whole = reading_of(job(run=f"A, {feet} ft, VB-1")).ohms
        assert whole is not None
        assert whole - 30 == pytest.approx(expected(case), abs=0.002)


def test_o07_o08_o09_two_coils_in_a_row() -> None:
    """Between two hots that meet at the valves, as the test sheet asks for them."""
    both = job(more="  A2: {area: beds, box: VB-1, hot: K1 red A2}")
    (sheet,) = sheets_of(printable(both))
    (row,) = plain_rows(sheet.fields["between"])
    assert row[2].startswith(f"{expected('O08'):.1f}")
    assert expected("O07") == expected("O08") == expected("O09")


def test_o10_two_unlike_coils_on_one_station() -> None:
    both = [("hot", "common", 48.0), ("hot", "common", 26.0)]
    assert resistance_between(both, "hot", "common") == pytest.approx(expected("O10"), abs=5e-4)


@pytest.mark.parametrize(("case", "celsius"), [("O11", 45), ("O12", 0)])
def test_o11_o12_a_coil_at_another_temperature(case: str, celsius: float) -> None:
    """The program prints ohms for 20 C with a band; a coil so warm or cold stays inside."""
    assert 30 * (1 + AWG_COEFFICIENT * (celsius - 20)) == pytest.approx(expected(case), abs=0.001)
    reading = reading_of(job(run="A, 1 ft, VB-1"))
    assert reading.low is not None and reading.high is not None
    assert reading.low < expected(case) < reading.high
