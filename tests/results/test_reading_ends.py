"""Which further names a reading has, by what is measured: common practice, no source."""

from __future__ import annotations

from cardgen.results.measured import Kind
from cardgen.results.reading_ends import columns_of, needed_columns, needs_valve

# Where the probes are: from and to of what is between two conductors, the box of what is measured
# in one that no valve says.  What is not here is between a valve's own hot and common.
MAY_NAME = {
    Kind.COMMON_TO_COMMON: ("from", "to"),
    Kind.SPARE_LOOP: ("from", "to", "box"),
    Kind.INSULATION: ("from",),
    Kind.OPEN_VOLTS: ("from",),
    Kind.VOLTS: ("from",),
    Kind.HOT_TO_HOT: ("to",),
    Kind.OTHER_COMMON: ("to",),
    Kind.WALK_TEST: ("to",),  # what ran
    Kind.BOX_LOOP: ("box",),
}
MUST_NAME = {
    Kind.COMMON_TO_COMMON: ("from", "to"),
    Kind.SPARE_LOOP: ("from", "to", "box"),
    Kind.HOT_TO_HOT: ("to",),
    Kind.OTHER_COMMON: ("to",),
    Kind.BOX_LOOP: ("box",),
}


def test_what_a_reading_may_and_must_name() -> None:
    assert {kind: columns_of(kind) for kind in Kind if columns_of(kind)} == MAY_NAME
    assert {kind: needed_columns(kind) for kind in Kind if needed_columns(kind)} == MUST_NAME


def test_a_reading_of_a_conductor_needs_no_valve() -> None:
    without = {kind for kind in Kind if not needs_valve(kind, "COM-A")}
    assert without == {kind for kind, names in MAY_NAME.items() if "from" in names}
    assert all(needs_valve(kind, "") for kind in Kind)
