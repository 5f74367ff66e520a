"""Orders of colors as they are printed or usual: each can be written as a palette and reads back.

No order is a standard for irrigation cable, so cardgen has none of its own; what it must be able to
do is to take every one of these.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

import pytest

from cardgen.trade.colors import Insulation, insulation
from tests.jobs import loaded
from tests.outside import tables

JOB = """\
job: {{code: EX-1, site: Example, revision: 1, date: 2026-03-14}}
record: {{address: https://jobs.example.com, key: 7Q2F9KX4M3T8}}
palettes:
  order: [{colors}]
controllers:
  A: {{place: wall, supply: 24 V AC, stations: 4}}
cables:
  K1: {{gauge: 18 AWG, palette: order, run: [A, 40 ft, VB-1]}}
boxes: {{VB-1: {{}}}}
"""
ROLES = ("roles, public agency", "roles, one grounds department")


def order_of(row: tables.Row) -> Iterator[str]:
    """The colors of one row as a person would write them; a pair has two conductors."""
    if row["system"].startswith("irrigation cable"):
        for word in row["base_color"].split(", "):
            yield "white/red" if word == "one striped" else word
    elif row["tracer_color"]:
        yield f"{row['base_color']}/{row['tracer_color']}"
        if row["system"] == "25-pair telephone":
            yield f"{row['tracer_color']}/{row['base_color']}"
    else:
        yield row["base_color"]


def orders() -> dict[str, list[str]]:
    found: dict[str, list[str]] = defaultdict(list)
    for row in tables.rows("color_codes", used_by="palette"):
        if row["system"] not in ROLES:
            found[row["system"]] += order_of(row)
    return found


@pytest.mark.parametrize("system", orders())
def test_an_order_is_taken_as_a_palette_and_reads_back(system: str) -> None:
    words = orders()[system]
    job, problems = loaded(JOB.format(colors=", ".join(words)))
    assert job and [p.sentence for p in problems] == []
    palette = job.palettes["order"]
    assert len(palette) == len(words) == len(set(palette))
    assert [insulation(color.word) for color in palette] == list(palette)
    for written, read in zip(words, palette, strict=True):
        assert [part.replace("slate", "gray") for part in written.split("/")] == (
            [read.base] + ([read.stripe] if read.stripe else [])
        )


@pytest.mark.parametrize(
    ("system", "count"),
    [
        ("ICEA S-73-532 E-2", 36),
        ("ICEA S-73-532 E-1", 21),
        ("25-pair telephone", 50),
        *((f"irrigation cable, {n} conductors", n) for n in (3, 5, 7, 8, 9, 13)),
    ],
)
def test_an_order_has_as_many_conductors_as_its_name_says(system: str, count: int) -> None:
    assert len(orders()[system]) == count


def test_one_order_has_white_and_green_and_the_other_has_neither() -> None:
    """S46: table E-2 was made for that."""
    bases = {
        name: {str(c).partition("/")[0] for c in orders()[f"ICEA S-73-532 {name}"]}
        for name in ("E-1", "E-2")
    }
    assert {"white", "green"} <= bases["E-1"]
    assert {"white", "green"}.isdisjoint(bases["E-2"])


@pytest.mark.parametrize(
    "row",
    [row for row in tables.rows("color_codes") if row["system"] in ROLES],
    ids=lambda row: row["position_or_role"],
)
def test_a_color_for_a_role_is_known(row: tables.Row) -> None:
    assert insulation(row["base_color"]) == Insulation(base=row["base_color"])
