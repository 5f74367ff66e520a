"""Swatches as people with a color deficiency see them, and on paper of one ink.

The simulation (Machado, Oliveira and Fernandes 2009, on linear RGB) is held against its table and
against two libraries before it judges anything.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import combinations

import colorspacious
import numpy as np
import pytest
from daltonlens import simulate
from numpy.typing import NDArray

from cardgen.asbuilt import ConductorMark
from cardgen.cards import Card, CardKind
from cardgen.cards.card import Table
from cardgen.draw.pdf import pdf
from cardgen.layout.geometry import frame
from cardgen.layout.items import BLACK, WHITE, Fill, Item, Page, Swatch, TextLine
from cardgen.layout.setting import SMALLEST_SWATCH, color_words, in_words
from cardgen.layout.snap import snapped
from cardgen.layout.swatch import contrast, luminance, swatch
from cardgen.trade.colors import COLORS
from tests.cards.printables import cards
from tests.for_each import for_each
from tests.jobs import SAMPLES
from tests.layout.cards import mark, one_of_each, pages, shipped
from tests.outside.pages import by_pdfium
from tests.outside.tables import Row, rows

Colors = NDArray[np.float64]
MATRICES = {
    (row["deficiency"], float(row["severity"])): np.array(
        [[float(row[f"m{y}{x}"]) for x in (1, 2, 3)] for y in (1, 2, 3)]
    )
    for row in rows("cvd_matrices")
}
HERE = "test_color_vision"
DEFICIENCIES = ("Protanomaly", "Deuteranomaly", "Tritanomaly")


# ---- the simulation --------------------------------------------------------------------------


def linear(srgb: Colors) -> Colors:
    """IEC 61966-2-1, values from 0 to 1."""
    low = srgb / 12.92
    return np.asarray(np.where(srgb <= 0.04045, low, ((srgb + 0.055) / 1.055) ** 2.4))


def encoded(light: Colors) -> Colors:
    low = light * 12.92
    return np.asarray(np.where(light <= 0.0031308, low, 1.055 * light ** (1 / 2.4) - 0.055))


def seen(srgb: Colors, deficiency: str, severity: float = 1.0) -> Colors:
    """What is left of colors, the last axis being red, green and blue from 0 to 1."""
    light = linear(srgb) @ MATRICES[deficiency, severity].T
    return encoded(np.clip(light, 0, 1))


def numbers(ink: str) -> Colors:
    return np.array([int(ink[i : i + 2], 16) / 255 for i in (1, 3, 5)])


def name_of(row: Row) -> str:
    return " ".join(row.get(key, "") for key in ("color", "deficiency", "severity"))


@pytest.mark.parametrize("row", rows("cvd_matrices"), ids=name_of)
def test_the_matrices_leave_white_white_and_are_those_of_a_library(row: Row) -> None:
    key = row["deficiency"], float(row["severity"])
    assert MATRICES[key].sum(axis=1) == pytest.approx([1, 1, 1], abs=2e-6)
    theirs = colorspacious.machado_et_al_2009_matrix(row["deficiency"].lower(), key[1] * 100)
    assert MATRICES[key] == pytest.approx(theirs, abs=1e-6)


@for_each("row", rows("cvd_simulated"))
def test_the_simulation_gives_the_table(row: Row) -> None:
    found = seen(numbers(row["srgb_in"]), row["deficiency"], float(row["severity"]))
    assert np.round(found * 255).astype(int).tolist() == [
        int(row["srgb_out"][i : i + 2], 16) for i in (1, 3, 5)
    ]


THEIR_NAMES = {
    "Protanomaly": simulate.Deficiency.PROTAN,
    "Deuteranomaly": simulate.Deficiency.DEUTAN,
    "Tritanomaly": simulate.Deficiency.TRITAN,
}


@pytest.mark.parametrize("deficiency", DEFICIENCIES)
@pytest.mark.parametrize("severity", [0.5, 1.0])
def test_the_simulation_is_that_of_a_second_library(deficiency: str, severity: float) -> None:
    picture = np.array([[numbers(color.rgb) for color in COLORS.values()]])
    bytes_ = np.round(picture * 255).astype(np.uint8)
    theirs = simulate.Simulator_Machado2009().simulate_cvd(
        bytes_, THEIR_NAMES[deficiency], severity
    )
    ours = np.round(seen(picture, deficiency, severity) * 255)
    assert np.abs(ours - theirs.astype(float)).max() <= 1  # of 255: they round otherwise


def share(text: str) -> float:
    """The middle of `1 - 1.3`."""
    ends = [float(each) for each in text.split(" - ")]
    return sum(ends) / len(ends)


def test_the_prevalences_agree_among_themselves() -> None:
    found = {r["group"]: share(r["value"]) for r in rows("cvd_prevalence", used_by=HERE)}
    protan = found["protanomaly, men"] + found["protanopia, men"]
    deutan = found["deuteranomaly, men"] + found["deuteranopia, men"]
    men = found["red-green deficiency, men of European descent"]
    assert protan + deutan == pytest.approx(men, abs=1)
    # Both lie on the X chromosome, at two places: a woman needs two of the same.
    women = (protan / 100) ** 2 + (deutan / 100) ** 2
    assert 100 * women == pytest.approx(
        found["red-green deficiency, women of European descent"], abs=0.1
    )
    assert len(found) == 6


# ---- swatches --------------------------------------------------------------------------------

# The smallest that is printed, and one beside words: width and height in mm.
SIZES = (SMALLEST_SWATCH, (12.75, 9.0))
DPI = 203.2  # the coarsest head
# The share of points that must differ, of all that can: a stripe is 4/10 of its swatch.
LEAST_SHARE, STRIPE = 0.035, 0.4
# Of full brightness, by which a point must differ to count as another.
LEAST_STEP = 0.12

MARKS = [
    *(mark("K", name) for name in COLORS),
    *(mark("K", f"white/{name}") for name in COLORS if name != "white"),
]


@cache
def picture(which: ConductorMark, size: tuple[float, float], *, colored: bool) -> Colors:
    made = swatch(which, frame(1, 1, *size), colored=colored, dot_mm=0.125)
    page = Page(width=frame(0, 0, size[0] + 2, 0).width, height=frame(0, 0, 0, size[1] + 2).height,
                own=snapped([made], 0.125))  # fmt: skip
    return np.asarray(by_pdfium(pdf([page], title="t", subject="s"), DPI), float) / 255


def brightness(srgb: Colors) -> Colors:
    """L* of CIE 1976 from 0 to 1: steps that look alike are alike."""
    light = linear(srgb) @ np.array([0.2126, 0.7152, 0.0722])
    return np.asarray(np.where(light > 0.008856, 1.16 * np.cbrt(light) - 0.16, 9.033 * light))


def differing(pictures: dict[ConductorMark, Colors]) -> Iterator[tuple[str, str, float]]:
    """Each two, with the share of points that are lighter in one of their pictures."""
    light = {each: brightness(picture) for each, picture in pictures.items()}
    for one, other in combinations(light, 2):
        can = STRIPE if one.stripe and other.stripe else 1.0  # all stripes here are on white
        found = (np.abs(light[one] - light[other]) > LEAST_STEP).mean()
        yield one.word, other.word, float(found) / can


@pytest.mark.parametrize("size", SIZES, ids=["smallest", "beside words"])
def test_every_two_swatches_differ_in_one_ink(size: tuple[float, float]) -> None:
    for one, other, share_ in differing({m: picture(m, size, colored=False) for m in MARKS}):
        assert share_ > LEAST_SHARE, (one, other)


@pytest.mark.parametrize("deficiency", DEFICIENCIES)
@pytest.mark.parametrize("size", SIZES, ids=["smallest", "beside words"])
def test_every_two_swatches_differ_by_more_than_hue(
    deficiency: str, size: tuple[float, float]
) -> None:
    """By lightness alone, so that no hue is needed that a deficiency leaves."""
    simulated = {m: seen(picture(m, size, colored=True), deficiency) for m in MARKS}
    for one, other, share_ in differing(simulated):
        assert share_ > LEAST_SHARE, (one, other)


def test_every_two_words_differ() -> None:
    words = [color_words(each) for each in MARKS]
    assert len(set(words)) == len(words)


# ---- what the samples really print -----------------------------------------------------------

KINDS = (CardKind.VALVE_TAG, CardKind.BOX_TAG, CardKind.FLAG, CardKind.LEGEND)


def beside_each_other(card: Card) -> Iterator[list[ConductorMark]]:
    """The conductors of a card; of a box tag those under one title, which may say their cable."""
    under: dict[object, list[ConductorMark]] = {}
    for name, value in card.fields.items():
        if card.kind is not CardKind.BOX_TAG:
            under.setdefault("the card", []).extend(conductors(value))
        elif isinstance(value, Table):
            for title, *cells in value.rows:
                under.setdefault(title, []).extend(conductors(tuple(cells)))
        else:
            under[name] = [*conductors(value)]
    yield from under.values()


def conductors(value: object) -> Iterator[ConductorMark]:
    if isinstance(value, ConductorMark):
        yield value
    elif hasattr(value, "rows"):
        yield from conductors(value.rows)
    elif isinstance(value, tuple):
        for each in value:
            yield from conductors(each)


@pytest.mark.parametrize("name", SAMPLES)
def test_conductors_of_one_card_have_other_words_or_other_pictures(name: str) -> None:
    """Two of one color are told apart by cable, band or flag, which are words; never by hue."""
    groups = [
        dict.fromkeys(marks)
        for kind in KINDS
        for card in cards(name, kind).values()
        for marks in beside_each_other(card)
    ]
    assert any(len(group) > 1 for group in groups)
    for one, other in (pair for group in groups for pair in combinations(group, 2)):
        assert in_words(one, cable=True) != in_words(other, cable=True)
        if (one.base, one.stripe) != (other.base, other.stripe):
            assert color_words(one) != color_words(other)


# ---- contrast --------------------------------------------------------------------------------


@pytest.mark.parametrize("row", rows("wcag_contrast"), ids=lambda r: r["color_a"] + r["color_b"])
def test_luminance_and_contrast_are_those_of_the_table(row: Row) -> None:
    one, other = row["color_a"], row["color_b"]
    assert luminance(one) == pytest.approx(float(row["luminance_a"]), abs=1e-6)
    assert luminance(other) == pytest.approx(float(row["luminance_b"]), abs=1e-6)
    ratio = contrast(one, other)
    assert ratio == pytest.approx(float(row["contrast_ratio"]), abs=1e-4)
    for column, least in (("aa_text_4_5", 4.5), ("aa_large_3", 3.0), ("aaa_text_7", 7.0)):
        assert (ratio >= least) is (row[column] == "yes")


def grounds(page: Page) -> Iterator[tuple[str, str, str]]:
    """Each text of a page with its ink and the ink of what was drawn last beneath it."""
    before: list[Item] = []
    for item in page.items:
        if isinstance(item, TextLine):
            dot = frame(item.x, item.y - item.capital / 2, 0, 0)
            fills = [f for f in before if isinstance(f, Fill | Swatch) and f.frame.holds(dot)]
            assert not any(isinstance(each, Swatch) for each in fills), item.text
            ground = fills[-1].ink if fills and isinstance(fills[-1], Fill) else WHITE
            yield item.text, item.ink, ground
        before.append(item)


@pytest.mark.parametrize("stock", shipped().stocks)
def test_every_text_stands_out_from_what_is_beneath_it(stock: str) -> None:
    # WCAG 2.2, 1.4.6 (level AAA): 7 to 1; black on white is 21 to 1.
    found = [pair for page in pages(*one_of_each(stock), stock=stock) for pair in grounds(page)]
    assert found
    for text, ink, ground in found:
        assert contrast(ink, ground) >= 7.0, (text, ink, ground)


def test_a_banner_is_white_on_black() -> None:
    (page, *_) = pages(*one_of_each("legend-letter"), stock="legend-letter")
    assert (WHITE, BLACK) in {(ink, ground) for _, ink, ground in grounds(page)}
