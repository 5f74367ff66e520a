"""Every row of the tables on QR codes: capacities, sizes, code words, dots for each module.

Judged are cardgen's own symbols where it makes such ones, else segno; qrcode, which shares no code
with segno, says how many words a symbol has.
"""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
import qrcode
import segno
from qrcode.base import rs_blocks

from cardgen.layout.geometry import Mm
from cardgen.layout.qr import LEAST_DOTS, LEVELS, QUIET, SMALLEST_MODULE, encode, module_size
from cardgen.layout.qr_words import LARGEST
from tests.for_each import for_each
from tests.layout.test_qr import ANNEX, code_words
from tests.outside.tables import Row, rows

LIBRARY = {
    "L": qrcode.constants.ERROR_CORRECT_L,
    "M": qrcode.constants.ERROR_CORRECT_M,
    "Q": qrcode.constants.ERROR_CORRECT_Q,
    "H": qrcode.constants.ERROR_CORRECT_H,
}
LETTERS = {"numeric": "7", "alphanumeric": "A", "byte": "a"}
SIDES = {21: 1, 25: 2, 29: 3, 33: 4, 37: 5, 57: 10, 177: 40}  # modules, by version


def name_of(row: Row) -> str:
    return "-".join(
        row.get(key, "") for key in ("version", "ec_level", "x_mm", "item") if key in row
    )


@for_each("row", rows("qr_capacity"))
def test_a_symbol_holds_what_the_table_says_and_no_letter_more(row: Row) -> None:
    version, level = int(row["version"]), row["ec_level"]
    assert int(row["modules"]) == 17 + 4 * version
    assert int(row["modules_with_4X_quiet"]) == int(row["modules"]) + 2 * QUIET
    words = sum(block.data_count for block in rs_blocks(version, LIBRARY[level]))
    assert words == int(row["data_codewords"])
    for mode, letter in LETTERS.items():
        size = int(row[mode])
        assert fits(letter * size, version, level, mode)
        assert not fits(letter * (size + 1), version, level, mode)


def fits(text: str, version: int, level: str, mode: str) -> bool:
    """Of the letters and levels that cardgen prints, by cardgen's own encoder."""
    if mode == "alphanumeric" and level in LEVELS and version <= LARGEST:
        return encode(text, level, version) is not None
    try:
        segno.make_qr(text, error=level, version=version, mode=mode, boost_error=False, mask=0)
    except segno.DataOverflowError:
        return False
    return True


@for_each("row", rows("qr_physical"))
def test_a_symbol_of_that_module_is_as_large_as_the_table_says(row: Row) -> None:
    version, module = int(row["version"]), float(row["x_mm"])
    made = segno.make_qr("A", version=version, mask=0)
    side, whole = (int(made.symbol_size(border=border)[0]) for border in (0, 4))
    assert whole == int(row["modules_incl_quiet"])
    assert side * module == pytest.approx(float(row["side_symbol_mm"]), abs=6e-4)
    assert whole * module == pytest.approx(float(row["side_incl_quiet_mm"]), abs=6e-4)
    # Ten times the side: a rule of thumb, no standard; the table has it in whole millimeters.
    assert 10 * side * module == pytest.approx(float(row["scan_distance_mm_at_10_to_1"]), abs=0.5)
    # In a frame of exactly that size cardgen takes just this module, unless it is below the least.
    found = module_size(side, float(row["side_incl_quiet_mm"]), dot_mm=0)
    assert found == (pytest.approx(module, abs=1e-4) if module >= SMALLEST_MODULE else None)


@for_each("row", rows("qr_physical"))
def test_a_module_is_as_many_dots_as_the_table_says(row: Row) -> None:
    said = re.match(r"(\d) dots at (\d+) dpi", row["x_basis"])
    if said is None:
        assert row["x_basis"] in ("retail scanning, minimum", "retail scanning, maximum")
        limit = "min" if row["x_basis"].endswith("minimum") else "max"
        (known,) = rows("qr_reference", item=f"retail_x_dimension_{limit}")
        assert float(row["x_mm"]) == float(known["value"])
        return
    # To a hundredth of a millimeter, by the whole dots a millimeter that such heads have.
    (head,) = rows("printer_dots", dpi=said[2])
    exact = int(said[1]) / int(head["nominal_dots_per_mm"])
    assert float(row["x_mm"]) == pytest.approx(exact, abs=0.005)


# ---- the single facts ------------------------------------------------------------------------


def example() -> segno.QRCode:
    """01234567 in 1-M, the example of ISO/IEC 18004."""
    return segno.make_qr("01234567", version=1, error="m", mode="numeric", boost_error=False)


def words_of_example() -> str:
    made = example()
    matrix = tuple(bytes(map(bool, row)) for row in made.matrix)
    return " ".join(f"{word:02X}" for word in code_words(matrix, int(made.mask)))


def format_bits(level: str, mask: int) -> str:
    """The 15 bits beside the upper left finder pattern, as a symbol of segno has them."""
    made = segno.make_qr("01234567", version=1, error=level, mask=mask, boost_error=False)
    rows_ = made.matrix
    across = [rows_[8][x] for x in (0, 1, 2, 3, 4, 5, 7, 8)]
    up = [rows_[y][8] for y in (7, 5, 4, 3, 2, 1, 0)]
    return "".join(str(int(bit)) for bit in (*across, *up))


def three(value: str) -> list[float]:
    return [float(each) for each in value.split(" / ")]


def dots(dpi: float) -> list[float]:
    return [number * 25.4 / dpi for number in (4, 5, 6)]


def is_versions(value: str) -> bool:
    return value == "modules = 17 + 4 x version" and all(
        segno.make_qr("A", version=v, mask=0).symbol_size(border=0)[0] == side == 17 + 4 * v
        for side, v in SIDES.items()
    )


def is_levels(value: str) -> bool:
    """So many percent of the code words may be wrong in any version: half of those that mend."""
    shares = {level: float(number) for level, number in re.findall(r"([LMQH]) (\d+) %", value)}
    least = {level: min(mended(level, v) for v in range(1, 41)) for level in LIBRARY}
    return all(shares[level] <= least[level] < shares[level] + 4 for level in LIBRARY)


def mended(level: str, version: int) -> float:
    blocks = rs_blocks(version, LIBRARY[level])
    spare = sum(block.total_count - block.data_count for block in blocks)
    return float(100 * spare / 2 / sum(block.total_count for block in blocks))


FACTS: dict[str, Callable[[str], bool]] = {
    "payload": lambda value: value == "01234567",
    "mode": lambda value: value == example().mode,
    "data_codewords_hex": lambda value: words_of_example().startswith(value) and value in ANNEX,
    "ec_codewords_hex": lambda value: words_of_example().endswith(value) and value in ANNEX,
    "format_info_M_mask_010": lambda value: format_bits("m", 2) == value,
    "quiet_zone": lambda value: int(value) == QUIET,
    "ec_levels": is_levels,
    "version_size": is_versions,
    "max_version": lambda value: value == "40 (177 x 177)" and SIDES[177] == 40,
    "retail_x_dimension_min": lambda value: float(value) <= SMALLEST_MODULE,
    "retail_x_dimension_target": lambda value: float(value) <= SMALLEST_MODULE,
    "retail_x_dimension_max": lambda value: float(value) >= SMALLEST_MODULE,
    "dots_per_module_min": lambda value: int(value) == LEAST_DOTS,
    # The list rounds to hundredths; 200 stands for 203.2, which is 8 dots a millimeter.
    "module_thermal_300dpi_4_5_6_dots": lambda v: three(v) == pytest.approx(dots(300), abs=0.01),
    "module_thermal_200dpi_4_5_6_dots": lambda v: three(v) == pytest.approx(dots(203.2), abs=0.01),
    "module_laser_600dpi_4_5_6_dots": lambda v: three(v) == pytest.approx(dots(600), abs=0.01),
    "module_laser_360dpi_4_5_6_dots": lambda v: three(v) == pytest.approx(dots(360), abs=0.01),
    # The smallest symbol that is printed, 3-M in modules of 0.5 mm, is read from an arm's length.
    "scan_distance_rule": lambda value: value == "distance = 10 x symbol side"
    and 10 * 29 * SMALLEST_MODULE >= 140,
}  # fmt: skip


@pytest.mark.parametrize("row", rows("qr_reference"), ids=lambda row: row["item"])
def test_each_fact_holds_or_is_named_as_not_used(row: Row) -> None:
    if row["used_by"].startswith("not used: "):
        assert row["item"] not in FACTS
        return
    assert FACTS[row["item"]](row["value"]), row


@pytest.mark.parametrize("dot", [0.125, 25.4 / 304.8, 25.4 / 609.6, 25.4 / 600])
def test_no_module_has_fewer_dots_than_the_advice(dot: float) -> None:
    (advice,) = rows("qr_reference", item="dots_per_module_min")
    least = int(advice["value"]) * dot
    for tenth in range(100, 500):
        found = module_size(29, tenth / 10, Mm(dot))
        assert found is None or found >= least - 1e-9
