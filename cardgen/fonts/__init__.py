"""The letters that are printed: which font has which, how wide, how high."""

from cardgen.fonts.family import (
    FONT_NAMES,
    GlyphRun,
    Weight,
    clean,
    ink,
    is_plain,
    missing,
    path,
    runs,
    size,
)
from cardgen.fonts.family import width as width

__all__ = [
    "FONT_NAMES",
    "GlyphRun",
    "Weight",
    "clean",
    "ink",
    "is_plain",
    "missing",
    "path",
    "runs",
    "size",
    "width",
]
