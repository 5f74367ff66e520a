"""QR symbols against the qrcode library and ISO/IEC 18004; sizes against the printer's dots."""

from __future__ import annotations

import numpy as np
import pytest
import qrcode
import segno
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st
from qrcode.util import MODE_ALPHA_NUM, BitBuffer, QRData

from cardgen.layout.geometry import frame
from cardgen.layout.qr import (
    LEVELS,
    QUIET,
    encode,
    least_room,
    module_size,
    symbol,
)

ADDRESS = "HTTPS://JOBS.EXAMPLE.COM/7Q2F9KX4M3T8/VB-1"
ADDRESSES = (
    ADDRESS,
    "HTTPS://JOBS.EXAMPLE.COM/7Q2F9KX4M3T8/MVB-12",
    "HTTPS://A.EXAMPLE/K5T0VD83XB6Z/A",
    "HTTPS://RECORDS.IRRIGATION.EXAMPLE.COM/SITES/9RM3E7PB2HX5/SB-104",
)
QRCODE_LEVELS = {
    "M": qrcode.constants.ERROR_CORRECT_M,
    "Q": qrcode.constants.ERROR_CORRECT_Q,
    "H": qrcode.constants.ERROR_CORRECT_H,
}
Rows = tuple[tuple[bool, ...], ...]


@pytest.mark.parametrize("level", LEVELS)
@pytest.mark.parametrize("address", ADDRESSES)
def test_modules_are_those_of_the_qrcode_library(address: str, level: str) -> None:
    ours = encode(address, level)
    assert ours is not None
    theirs = qrcode.QRCode(
        version=ours.version,
        error_correction=QRCODE_LEVELS[level],
        mask_pattern=ours.mask,
        border=0,
    )
    data = _WithZeroByte if bits_of_data(address) % 8 == 4 else QRData
    theirs.add_data(data(address.encode(), mode=MODE_ALPHA_NUM), optimize=0)
    theirs.make(fit=False)
    assert ours.rows == tuple(tuple(bool(m) for m in row) for row in theirs.modules)
    picture = np.pad(np.where(np.array(ours.rows), 0, 255).astype(np.uint8), QUIET, mode="constant",
                     constant_values=255)  # fmt: skip
    (read,) = zxingcpp.read_barcodes(np.kron(picture, np.ones((4, 4), np.uint8)))
    assert read.text == address


class _WithZeroByte(QRData):  # type: ignore[misc]
    """Where data and terminator end on a byte, segno pads with a zero byte before the standard's.

    Readers stop at the terminator; all other code words are those of the qrcode library.
    """

    def write(self, buffer: BitBuffer) -> None:
        super().write(buffer)
        buffer.put(0, 8)


def bits_of_data(address: str) -> int:
    """Mode, count and letters of ISO/IEC 18004, alphanumeric, versions 1 to 9."""
    return 4 + 9 + 11 * (len(address) // 2) + 6 * (len(address) % 2)


# ISO/IEC 18004, 01234567 in 1-M: code words derived by its rules, equal to its annex (from memory).
ANNEX = "10 20 0C 56 61 80 EC 11 EC 11 EC 11 EC 11 EC 11 A5 24 D4 C1 ED 36 C7 87 2C 55"


def test_code_words_are_those_of_the_standard() -> None:
    made = segno.make_qr("01234567", version=1, error="m", mode="numeric", boost_error=False)
    rows = tuple(tuple(bool(m) for m in row) for row in made.matrix)
    assert " ".join(f"{word:02X}" for word in code_words(rows, int(made.mask))) == ANNEX


MASKS = (
    lambda i, j: (i + j) % 2,
    lambda i, _: i % 2,
    lambda _, j: j % 3,
    lambda i, j: (i + j) % 3,
    lambda i, j: (i // 2 + j // 3) % 2,
    lambda i, j: i * j % 2 + i * j % 3,
    lambda i, j: (i * j % 2 + i * j % 3) % 2,
    lambda i, j: ((i + j) % 2 + i * j % 3) % 2,
)


def code_words(rows: Rows, mask: int) -> list[int]:
    """Read the 26 code words of a version 1 symbol: two columns at a time, from the right."""
    bits: list[str] = []
    upwards = True
    for right in (20, 18, 16, 14, 12, 10, 8, 5, 3, 1):
        for step in range(21):
            row = 20 - step if upwards else step
            for column in (right, right - 1):
                if _is_data(row, column):
                    dark = rows[row][column] ^ (MASKS[mask](row, column) == 0)
                    bits += [str(int(dark))]
        upwards = not upwards
    return [int("".join(bits[i : i + 8]), 2) for i in range(0, 208, 8)]


def _is_data(row: int, column: int) -> bool:
    corner = (row < 9 and (column < 9 or column > 12)) or (row > 12 and column < 9)
    return not corner and row != 6 and column != 6


# Code words of ISO/IEC 18004, table 7: letters that fit, alphanumeric mode.
@pytest.mark.parametrize(
    ("level", "version", "letters"),
    [("M", 3, 61), ("Q", 3, 47), ("H", 3, 35), ("M", 4, 90), ("Q", 4, 67), ("H", 4, 50)],
)
def test_versions_hold_what_the_standard_says(level: str, version: int, letters: int) -> None:
    just, more = encode("A" * letters, level), encode("A" * (letters + 1), level)
    assert just is not None
    assert more is not None
    assert (just.version, more.version) == (version, version + 1)


def test_the_most_robust_level_that_fits_is_taken() -> None:
    # 42 letters: 4-H has 33 + 8 = 41 modules, 3-Q and 3-M have 29 + 8 = 37.
    dot = 25.4 / 600
    assert symbol(ADDRESS, frame(0, 0, 21.5, 21.5), dot_mm=dot).level == "H"  # type: ignore[union-attr]
    assert symbol(ADDRESS, frame(0, 0, 19, 19), dot_mm=dot).level == "Q"  # type: ignore[union-attr]
    assert symbol(ADDRESS, frame(0, 0, 18, 18), dot_mm=dot) is None
    assert least_room(ADDRESS) == pytest.approx(37 * 0.5)


@pytest.mark.parametrize(
    ("room", "dot", "module"),
    [
        (21.0, 0.125, 0.5),  # 41 modules of 4 dots are 20.5 mm; of 5 dots 25.6 mm
        (26.0, 0.125, 0.625),
        (20.0, 0.125, None),  # 3 dots would be 0.375 mm
        (41.0, 0.3, None),  # 1 mm is 3 dots: fewer than 4
        (82.0, 0.3, 1.8),  # 2 mm is 6.7 dots
        (21.0, 0.0, 21 / 41),
    ],
)
def test_modules_are_whole_dots_and_large_enough(
    room: float, dot: float, module: float | None
) -> None:
    found = module_size(33, room, dot)
    assert found == (None if module is None else pytest.approx(module))


@given(
    st.text(alphabet="0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:", min_size=1, max_size=80),
    st.floats(15, 45),
    st.sampled_from([0.125, 25.4 / 300, 25.4 / 600]),
)
@settings(max_examples=60)
def test_the_quiet_zone_lies_in_the_frame(address: str, side: float, dot: float) -> None:
    at = frame(3, 61, side, side)
    made = symbol(address, at, dot_mm=dot)
    if made is None:
        return
    quiet, reach = QUIET * made.module, len(made.rows) * made.module
    assert made.module >= 0.5 - 1e-9
    assert made.module / dot == pytest.approx(round(made.module / dot))
    assert made.x - quiet >= at.x - 1e-6
    assert made.y - quiet >= at.y - 1e-6
    assert made.x + reach + quiet <= at.right + 1e-6
    assert made.y + reach + quiet <= at.bottom + 1e-6
