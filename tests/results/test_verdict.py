"""What one value proves, and no more."""

from __future__ import annotations

from dataclasses import replace
from itertools import chain

import pytest

from cardgen.asbuilt import Band, BuiltValve
from cardgen.asbuilt.model.built_valves import BuiltDecoder
from cardgen.results import OL, Kind, Outcome, expected_band, verdict, verdict_of_conductor
from cardgen.words import english
from cardgen.words.words_loader import values_of
from tests.outside import tables
from tests.results.valves import LOOP_18, around, read, valve

GOOD = 400  # feet of the case O01


def name_of(value: float, expects: BuiltValve, kind: Kind = Kind.CONTROLLER) -> str:
    return verdict(read(value, kind), expects).name


def published(case: str) -> float:
    text = tables.rows("ohmmeter_expected", case=case)[0]["expected"]
    return OL if text == "OL" else float(text)


# Each row of the table of outside readings, and the verdict that it must get at a valve of a
# 30 ohm coil. O08, O09 are between two hots, O14 no reading, O15 to earth: below.
@pytest.mark.parametrize(
    ("case", "expects", "found"),
    [
        ("O01", valve(GOOD), "within"),
        ("O02", valve(GOOD), "short"),
        ("O03", valve(GOOD), "short-before"),
        ("O04", valve(GOOD), "open"),
        ("O05", valve(GOOD), "half"),
        ("O06", valve(0), "third"),
        ("O07", valve(GOOD), "double"),
        ("O10", valve(0), "half"),
        ("O11", valve(0), "within"),
        ("O12", valve(0), "within"),
        ("O13", valve(GOOD, ohms=24), "within"),
    ],
)
def test_each_published_reading_gets_its_verdict(
    case: str, expects: BuiltValve, found: str
) -> None:
    assert name_of(published(case), expects) == found


def test_the_declared_twin_of_o05_and_o10_is_good() -> None:
    assert name_of(published("O05"), valve(GOOD, coils=2)) == "within"
    assert name_of(published("O10"), valve(0, ohms=35, coils=2)) == "within"


def test_o03_says_how_far_out() -> None:
    assert verdict(read(published("O03")), valve(GOOD)).values["share"] == "50"


def test_o15_to_earth() -> None:
    good = float(tables.rows("ohmmeter_expected", case="O15")[0]["expected"][1:].replace(" ", ""))
    assert name_of(good / 1e6, valve(GOOD), Kind.INSULATION) == "insulation-sound"
    assert name_of(OL, valve(GOOD), Kind.INSULATION) == "insulation-sound"
    assert name_of(0.7, valve(GOOD), Kind.INSULATION) == "insulation-doubtful"
    assert name_of(0.05, valve(GOOD), Kind.INSULATION) == "insulation-bad"


# The worked row of boxes, common practice: 30 ohm coils on 18 AWG (computed from the wire table).
@pytest.mark.parametrize(
    ("feet", "value", "found"),
    [
        (600, 97.7, "high"),  # a splice that adds 60 ohms
        (600, 9.7, "low"),  # a coil of 2 ohms left
        (600, 5.5, "short-before"),  # hot to common at 430 ft
        (600, 23.0, "half"),  # touches another hot at 430 ft
        (600, 22.7, "half"),  # a second coil
        (600, 67.7, "double"),  # between two hots
        (200, 64.5, "double"),  # the common exchanged with a hot
        (200, 41.5, "high"),  # the terminal of a station further out
        (900, 32.6, "low"),  # of one nearer
    ],
)
def test_faults_along_the_way(feet: float, value: float, found: str) -> None:
    assert name_of(value, valve(feet)) == found


@pytest.mark.parametrize(
    ("coils", "value", "found"),
    [
        (2, 17.3, "within"),
        (2, 32.3, "coils-missing"),  # without the expected value it would look healthy
        (2, 12.3, "coils-too-many"),
        (2, 9.8, "low-or-coils"),
        (3, 12.3, "within"),
        (3, 17.3, "coils-missing"),
        (1, 200.0, "high"),
        # Not OL: a wet splice, a wire nearly broken; O04 is the open one.
        (1, 1500.0, "wet"),
        (1, 2400.0, "wet"),
    ],
)
def test_several_coils_on_one_terminal(coils: int, value: float, found: str) -> None:
    assert name_of(value, valve(180, coils=coils)) == found


def test_small_coils_are_not_told_apart_more_finely_than_the_meter_can() -> None:
    latching = replace(valve(45, ohms=5), latching=True)
    assert name_of(5 + LOOP_18 * 45 / 1000, latching) == "within"
    # Within an ohm, half a coil of 5 ohms and a third of it are one.
    assert name_of(2.6, latching) == "low-or-coils"


def test_the_printed_band_is_the_one_that_counts() -> None:
    at = valve(GOOD)  # 29.6 to 40.6, printed 29 to 41
    assert [name_of(v, at) for v in (28.9, 29.0, 41.0, 41.1)] == ["low", "within", "within", "high"]


@pytest.mark.parametrize(
    ("value", "found"),
    [
        (23.9, "coil-low"),
        (24, "coil-within"),  # 30 ohms less 15 % and an ohm is 24.5, printed 24
        (36, "coil-within"),  # 35.5, printed 36
        (36.1, "coil-high"),
        (OL, "coil-open"),
        (0.4, "coil-short"),
        (15, "coil-half"),
        (8, "coil-low"),
        (44, "coil-high"),
        (2400, "coil-far"),
    ],
)
def test_at_the_coil(value: float, found: str) -> None:
    assert name_of(value, valve(GOOD), Kind.COIL) == found


def test_beside_the_controller_a_short_is_what_a_meter_shows_of_its_own_leads() -> None:
    """No wire at all: an ohm at most."""
    assert [name_of(v, valve(0)) for v in (0.0, 1.0, 1.1, 1.9)] == ["short", "short", "low", "low"]


@pytest.mark.parametrize(
    ("kind", "value", "found"),
    [
        (Kind.VOLTS, 22.0, "volts-within"),
        (Kind.VOLTS, 20.5, "volts-within"),
        (Kind.VOLTS, 12.0, "volts-low"),
        (Kind.VOLTS, 27.8, "volts-high"),
        (Kind.VOLTS, 0.0, "volts-none"),
        (Kind.VOLTS, 0.9, "volts-none"),  # what a meter shows of a wire beside it; assumed
        (Kind.VOLTS, 1.0, "volts-low"),
        (Kind.MILLIAMPERES, 230, "current-within"),
        (Kind.MILLIAMPERES, 460, "current-high"),
        (Kind.MILLIAMPERES, 100, "current-low"),
        (Kind.MILLIAMPERES, 0, "current-none"),
    ],
)
def test_while_it_runs(kind: Kind, value: float, found: str) -> None:
    assert name_of(value, valve(GOOD), kind) == found


def test_one_of_two_that_run_together() -> None:
    station = replace(valve(GOOD), milliamperes=460, beside=("MV-1",))
    assert name_of(230, station, Kind.MILLIAMPERES) == "current-low-beside"


def test_where_a_value_says_nothing() -> None:
    device = replace(valve(GOOD), device="doubler")
    decoder = replace(valve(GOOD), decoder=BuiltDecoder(id="DC-1", address=201, serial=""))
    unknown = replace(valve(GOOD), ohms=None, coil=None, volts=(), milliamperes=None)
    pulse = replace(valve(GOOD), latching=True)
    found = [
        verdict(read(30), device),
        verdict(read(30), decoder),
        verdict(read(30), unknown),
        verdict(read(30, Kind.COIL), unknown),
        verdict(read(30, Kind.COIL), device),
        verdict(read(22, Kind.VOLTS), unknown),
        verdict(read(230, Kind.MILLIAMPERES), unknown),
        verdict(read(9, Kind.VOLTS), pulse),
    ]
    assert {finding.outcome for finding in found} == {Outcome.UNKNOWN}
    assert name_of(30, decoder, Kind.COIL) == "coil-within"
    assert name_of(OL, unknown) == "open"


@pytest.mark.parametrize("kind", [Kind.VOLTS, Kind.MILLIAMPERES])
@pytest.mark.parametrize(
    "fed_otherwise",
    [{"latching": True}, {"decoder": BuiltDecoder(id="DC-1", address=201, serial="")}],
    ids=["by a pulse", "by a decoder"],
)
def test_what_no_steady_current_feeds_has_no_steady_values(
    kind: Kind, fed_otherwise: dict[str, bool | BuiltDecoder]
) -> None:
    expects = replace(valve(GOOD), **fed_otherwise)  # type: ignore[arg-type]
    assert {name_of(value, expects, kind) for value in (0, 9, 24, 230)} == {"pulse-only"}


def test_every_verdict_has_words_and_every_word_its_value() -> None:
    texts = english().catalogues[0].texts
    values = chain([0.0, 0.5, 9.0, OL], [step / 2 for step in range(160)], [230.0])
    seen = set()
    for value in (*values, 2400.0):
        for kind in Kind:
            for expects in (valve(GOOD), valve(900, coils=2), valve(GOOD, coils=3)):
                finding = verdict(replace(read(value, kind), to="A2"), expects)
                seen.add(finding.name)
                for key in (f"verdict.{finding.name}", f"next.{finding.name}"):
                    assert (values_of(texts[key]) or set()) <= set(finding.values), key
    told = {key.partition(".")[2] for key in texts if key.startswith("verdict.")}
    rare = {"ohms-mean-nothing", "not-known", "pulse-only", "current-low-beside", "explained"}
    rare |= {"walk-right", "wire-live", "wire-dead"}  # below
    assert told == seen | rare


BANDED = (
    *(Kind.CONTROLLER, Kind.COIL, Kind.VOLTS, Kind.MILLIAMPERES, Kind.HOT_MILLIAMPERES),
    Kind.INSULATION,
)


@pytest.mark.parametrize("kind", BANDED)
def test_the_expected_band_is_where_the_verdict_is_good(kind: Kind) -> None:
    for expects in (valve(GOOD), valve(180, coils=2), replace(valve(GOOD), latching=True)):
        band = expected_band(kind, expects)
        for step in range(700):
            finding = verdict(read(step / 2, kind), expects)
            inside = band is not None and band[0] <= step / 2 <= band[1]
            assert (finding.outcome is Outcome.GOOD) == inside, (step / 2, band)


# A coil of 30 ohms behind 10 of wire, so that sums are exact: printed 34 to 46, at the coil 24 to
# 36.  Each limit itself, and a value just beyond it; all limits are common practice, no source.
LIMITS = {
    Kind.CONTROLLER: {
        8.9: "short-before",
        9.0: "short",  # an ohm of the meter
        11.0: "short",
        11.1: "low",
        17.4: "low",
        17.5: "third",  # 10 and 10, less 15 % of 10 and 1
        80.0: "double",  # 10 and 60, with 15 % of 60 and 1
        80.1: "high",
        1000.0: "high",
        1000.1: "wet",
    },
    Kind.COIL: {
        1.0: "coil-short",
        1.1: "coil-low",
        24.0: "coil-within",
        36.0: "coil-within",
        1000.0: "coil-high",
        1000.1: "coil-far",
    },
    Kind.COIL_WIRES: {1000.0: "wires-joined", 1000.1: "wires-wet"},
    Kind.MILLIAMPERES: {9.9: "current-none", 10.0: "current-low"},
    Kind.BOX_LOOP: {23.9: "box-low", 24.0: "box-within", 46.0: "box-within", 46.1: "box-high"},
}
LIMITS_OF_CONDUCTORS = {
    Kind.SPARE_LOOP: {1000.0: "spare-whole", 1000.1: "spare-wet"},
    Kind.INSULATION: {0.09: "insulation-bad", 0.1: "insulation-doubtful", 1.0: "insulation-sound"},
    Kind.VOLTS: {0.9: "wire-dead", 1.0: "wire-live"},
}


def test_on_which_side_of_a_limit_the_limit_itself_is() -> None:
    at = replace(valve(0), ohms=around(40, 30), coil=around(30, 30))
    for kind, limits in LIMITS.items():
        assert {value: name_of(value, at, kind) for value in limits} == limits
    for kind, limits in LIMITS_OF_CONDUCTORS.items():
        found = {value: verdict_of_conductor(read(value, kind)) for value in limits}
        assert {value: finding.name for value, finding in found.items()} == limits
    live = verdict_of_conductor(read(1.0, Kind.VOLTS))
    assert live.outcome is Outcome.LOOK


def test_what_is_too_much_is_told_in_ohms() -> None:
    """97.7 where 37.7 is true: the splice adds 60, as in the worked row."""
    assert verdict(read(97.7), valve(600)).values["extra"] == "60"
    assert verdict(read(64.5), valve(200)).values["extra"] == "32"  # 64.5 less 32.55


def test_how_many_coils_it_could_be_is_told() -> None:
    """Of two declared: 30 ohms by 3 and by 4 with 2.3 of wire are 12.3 and 9.8."""
    said = verdict(read(9.8), valve(180, coils=2)).values
    assert (said["expected"], said["coils"], said["or_coils"]) == ("2", "3", "4")


# ---- by place, by supply, by conditions ------------------------------------------------------


def test_what_flows_in_the_hot_and_at_c_are_two_figures() -> None:
    """On its hot 230 mA, at C 580 with a master valve of 350: each good at its place only."""
    at = replace(valve(GOOD), milliamperes=580, in_hot=230, beside=("MV-1",))
    hot, whole = Kind.HOT_MILLIAMPERES, Kind.MILLIAMPERES
    assert [name_of(v, at, hot) for v in (230, 580, 60)] == [
        *("current-within", "current-high", "current-low")
    ]
    assert [name_of(v, at, whole) for v in (580, 230)] == ["current-within", "current-low-beside"]
    assert verdict(read(230, whole), at).values["in_hot"] == "230"


SUPPLY = Band(expected=24.0, low=21.6, high=28.08)  # 24 V -10/+17 %, by hand


def test_the_supply_may_be_off() -> None:
    """20.5 to 23.1 V at 24 V are 18.4 to 27.1 at 21.6 and 28.08 V, in proportion."""
    at = replace(valve(GOOD), supply=SUPPLY)
    assert expected_band(Kind.VOLTS, at) == (18.4, 27.1)
    values = (18.3, 18.4, 27.1, 27.2)
    assert [name_of(v, at, Kind.VOLTS) for v in values] == [
        *("volts-low", "volts-within", "volts-within", "volts-high")
    ]


def test_volts_at_the_terminals_of_the_same_walk_are_what_counts() -> None:
    """At 27 V it is 9/8 of 20.5 and 23.1, and 2 % for two readings: 22.6 to 26.6."""
    at = replace(valve(GOOD), supply=SUPPLY)
    walk = "terminals 27 V; 22 C"
    found = [
        verdict(replace(read(v, Kind.VOLTS), conditions=walk), at).name
        for v in (22.5, 22.6, 26.6, 26.7)
    ]
    assert found == ["volts-low", "volts-within", "volts-within", "volts-high"]


def test_the_leads_of_the_meter_are_taken_off_once() -> None:
    """41.4 of 29 to 41 is too high; less 0.5 of the leads it is not. Volts have no lead ohms."""
    leads = replace(read(41.4), conditions="leads 0.5 ohm")
    assert leads.net == pytest.approx(40.9)
    assert leads.value == 41.4
    assert verdict(read(41.4), valve(GOOD)).name == "high"
    assert verdict(leads, valve(GOOD)).name == "within"
    assert replace(leads, kind=Kind.VOLTS).net == 41.4
    assert replace(leads, value=OL).net == OL
    assert replace(leads, value=0.2).net == 0


@pytest.mark.parametrize(
    ("kind", "value", "to", "found"),
    [
        (Kind.WALK_TEST, 1, "A1", "walk-right"),
        (Kind.WALK_TEST, 1, "A2", "walk-other"),
        (Kind.WALK_TEST, 0, "none", "walk-none"),
        (Kind.NOT_REACHED, 0, "", "not-reached"),
        (Kind.HOT_TO_HOT, OL, "A2", "pair-open"),
        (Kind.HOT_TO_HOT, 62.6, "A2", "counts-with-others"),
        (Kind.OTHER_COMMON, OL, "B", "not-on-common"),
        (Kind.OTHER_COMMON, 33.0, "B", "on-other-common"),
        (Kind.BOX_LOOP, OL, "", "box-open"),
        (Kind.BOX_LOOP, 30.0, "", "box-within"),
        (Kind.BOX_LOOP, 90.0, "", "box-high"),
        (Kind.BOX_LOOP, 15.0, "", "box-low"),
        (Kind.COIL_WIRES, OL, "", "wires-apart"),
        (Kind.COIL_WIRES, 6.0, "", "wires-joined"),
        (Kind.COIL_WIRES, 4000.0, "", "wires-wet"),
        (Kind.OPEN_VOLTS, 27.8, "", "open-volts"),  # phantom or induced: no fault by itself
        (Kind.INSULATION, 0.05, "", "insulation-bad"),
    ],
)
def test_each_further_kind(kind: Kind, value: float, to: str, found: str) -> None:
    assert verdict(replace(read(value, kind), to=to), valve(GOOD)).name == found


@pytest.mark.parametrize(
    ("kind", "value", "found"),
    [
        (Kind.COMMON_TO_COMMON, OL, "commons-apart"),
        (Kind.COMMON_TO_COMMON, 4.0, "commons-meet"),
        (Kind.SPARE_LOOP, 7.7, "spare-whole"),
        (Kind.SPARE_LOOP, 2400.0, "spare-wet"),
        (Kind.SPARE_LOOP, OL, "spare-open"),
        (Kind.INSULATION, 5.0, "insulation-sound"),
        (Kind.OPEN_VOLTS, 12.0, "open-volts"),
        (Kind.VOLTS, 0.4, "wire-dead"),  # induced: a load takes it away
        (Kind.VOLTS, 23.0, "wire-live"),
    ],
)
def test_of_a_conductor(kind: Kind, value: float, found: str) -> None:
    finding = verdict_of_conductor(replace(read(value, kind), valve="", start="COM-A", to="SP1"))
    assert finding.name == found
    for key in ("verdict", "next"):
        english()(f"{key}.{found}", **finding.values)
