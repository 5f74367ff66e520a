"""Tags and flags come out as a crew walks: by hand for the samples, and by rule for a tee."""

from __future__ import annotations

import random

import pytest

from cardgen.cards import Card, CardKind, cards_of
from cardgen.english_lists import natural
from cardgen.output.documents import documents
from tests.jobs import SAMPLES, edit, sample
from tests.output.jobs import printable, walk_of
from tests.property.jobs import Wish, random_plan


def cards(text: str, name: str) -> tuple[Card, ...]:
    """Those of one file, in its order."""
    found = documents(cards_of(printable(text)), walk_of(text))
    return next(document.cards for document in found if document.name == name)


def ids(text: str, name: str) -> list[str]:
    return [card.id for card in cards(text, name)]


def places(text: str, name: str) -> list[str]:
    """Where they hang, each place as often as the pile comes to it."""
    at = [card.at for card in cards(text, name)]
    return [place for place, before in zip(at, ["", *at], strict=False) if place != before]


# Read off the file by hand: A-K1 to SB-1, from there A-S1 and A-S2; then A-K2; then B-K1, which
# finds VB-3 and VB-5 done.
QUARRY = ["A", "SB-1", "VB-1", "VB-2", "VB-3", "MVB-1", "VB-4", "VB-5", "VB-6", "B", "VB-7", "VB-8"]


def test_quarry_by_hand() -> None:
    text = sample("quarry")
    assert ids(text, "valve-tags.pdf") == [
        *("A1", "A2", "A3", "A4", "A5", "A6", "A7", "A8", "B1", "B2", "MV-1", "A9", "A10a", "A10b"),
        *("A11", "A12", "B3", "B4", "B5", "A13", "A14", "B6", "B7", "B8", "B9", "B10"),
    ]
    assert places(text, "wire-flags.pdf") == QUARRY
    assert places(text, "box-tags.pdf") == [x for x in QUARRY if x in places(text, "box-tags.pdf")]


def test_at_a_place_hots_come_before_commons_before_spares() -> None:
    flags = [card for card in cards(sample("quarry"), "wire-flags.pdf") if card.at == "A"]
    owners = list(dict.fromkeys(card.owner for card in flags))
    assert owners[:3] == ["A1", "A2", "A3"]
    assert owners[-6:] == ["MV-1", "COM-A", "SP-1", "SP-2", "SP-5", "SP-6"]


def test_the_order_of_the_file_does_not_matter() -> None:
    """A10 stays behind A2 however the stations are written."""
    text = sample("quarry")
    lines = text.splitlines(keepends=True)
    at = [n for n, line in enumerate(lines) if line.startswith(("  A1", "  A2", "  A3: {area"))]
    shuffled = [lines[n] for n in at]
    random.Random(7).shuffle(shuffled)
    for n, line in zip(at, shuffled, strict=True):
        lines[n] = line
    assert "".join(lines) != text
    assert ids("".join(lines), "valve-tags.pdf") == ids(text, "valve-tags.pdf")


def test_where_a_cable_branches_off_the_branch_comes_first() -> None:
    """A-K1 goes A, VB-1, VB-2; with A-K2 from VB-1 instead of from A, VB-3 is before VB-2."""
    text = sample("larkspur")
    assert places(text, "valve-tags.pdf") == ["VB-1", "VB-2", "VB-3"]
    for old, new in (
        ("run: [A, 140 ft, VB-3]", "run: [VB-1, 140 ft, VB-3]"),
        ("hot: A-K2 red", "hot: [A-K1 orange, A-K2 red]"),
        ("hot: A-K2 blue", "hot: [A-K1 brown, A-K2 blue]"),
    ):
        text = edit(text, old, new)
    assert places(text, "valve-tags.pdf") == ["VB-1", "VB-3", "VB-2"]


@pytest.mark.parametrize("seed", range(6))
def test_a_crew_never_comes_to_a_box_before_the_one_that_feeds_it(seed: int) -> None:
    """Nor twice to any; along each run the boxes that are new come in its order."""
    plan = random_plan(Wish(seed=seed, stations=30, controllers=2, splices=0.8, sharing=0.3))
    walked = places(plan.text, "wire-flags.pdf")
    assert len(walked) == len(set(walked))
    rank = {place: n for n, place in enumerate(walked)}
    reached: set[str] = set(plan.sections["controllers"])
    for place in walked:
        feeding = [
            run[index - 2]
            for cable in plan.sections["cables"].values()
            for run in [cable["run"]]
            for index in range(2, len(run), 2)
            if run[index] == place
        ]
        assert place in reached or any(f in reached or f not in rank for f in feeding), place
        reached.add(place)


@pytest.mark.parametrize("name", SAMPLES)
def test_every_card_is_in_one_file(name: str) -> None:
    made = cards_of(printable(sample(name)))
    found = [card for each in documents(made, walk_of(sample(name))) for card in each.cards]
    expected = [card for group in made.values() for card in group]
    assert len(found) == len(expected)
    assert {(c.kind, c.id) for c in found} == {(c.kind, c.id) for c in expected}


def test_numbers_in_names_count() -> None:
    names = ["A10", "A2", "VB-3", "A-K1", "A10b", "A10a", "VB-12"]
    assert sorted(names, key=natural) == ["A2", "A10", "A10a", "A10b", "A-K1", "VB-3", "VB-12"]


def test_what_hangs_nowhere_any_more_comes_last() -> None:
    text = sample("larkspur")
    moved = edit(text, "VB-3: {", "VB-33: {").replace("VB-3,", "VB-33,").replace("VB-3]", "VB-33]")
    gone = cards(text, "valve-tags.pdf")[-1]
    assert gone.at == "VB-3"
    others = [walk_of(moved).key(card) for card in cards(moved, "valve-tags.pdf")]
    assert all(walk_of(moved).key(gone) > other for other in others)
    assert {card.kind for card in cards(moved, "valve-tags.pdf")} == {CardKind.VALVE_TAG}
