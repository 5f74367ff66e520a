"""How many sheets a door takes, in which letters, and which way round they lie."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache

import pytest

from cardgen import fonts
from cardgen.cards import Card, CardKind, cards_of
from cardgen.cards.card import Code, Table
from cardgen.examine import examine_text
from cardgen.layout import Page, Stamp, lay_out
from cardgen.layout.items import Symbol, TextLine
from cardgen.output.as_printable import as_printable
from tests.layout.cards import BRACKETS, laid_out, legend, pages, shipped, way_round
from tests.layout.samples import layouts_in, sample_cards, words_of
from tests.layout.test_every_stock import faults

LEAST = 2.5  # mm; 15 minutes of arc, tan(15') = 0.00436, at 0.57 m are 2.49 mm
BOTH = "en,es"

# Counted on the prints.  By controller: sheets on Letter or A4, and on half Letter or A5.
SHEETS: Mapping[tuple[str, str], Mapping[str, tuple[int, int]]] = {
    ("larkspur", "en"): {"A": (1, 1)},
    ("larkspur", "es"): {"A": (1, 1)},
    ("larkspur", BOTH): {"A": (1, 2)},
    ("sandpiper", "en"): {"P": (1, 1)},
    ("sandpiper", "es"): {"P": (1, 2)},
    ("sandpiper", BOTH): {"P": (1, 2)},
    ("quarry", "en"): {"A": (1, 2), "B": (1, 2)},
    ("quarry", "es"): {"A": (1, 2), "B": (1, 2)},
    ("quarry", BOTH): {"A": (2, 3), "B": (1, 2)},
    ("heron", "en"): {"A": (2, 4), "B": (2, 3), "C": (1, 2), "D": (1, 1)},
    ("heron", "es"): {"A": (2, 5), "B": (2, 3), "C": (1, 3), "D": (1, 1)},
    ("heron", BOTH): {"A": (3, 6), "B": (2, 4), "C": (2, 3), "D": (1, 2)},
}
YARDS: Mapping[tuple[int, str], tuple[int, int]] = {
    (6, "en"): (1, 2),
    (6, "es"): (1, 2),
    (6, BOTH): (1, 2),
    (12, "en"): (1, 2),
    (12, "es"): (1, 2),
    (12, BOTH): (1, 2),
    (24, "en"): (1, 3),
    (24, "es"): (1, 3),
    (24, BOTH): (1, 3),
    (48, "en"): (2, 4),
    (48, "es"): (2, 4),
    (48, BOTH): (2, 4),
    (72, "en"): (2, 5),
    (72, "es"): (2, 5),
    (72, BOTH): (2, 5),
}
STOCKS = {"legend-letter": 0, "legend-a4": 0, "legend-half-letter": 1, "legend-a5": 1}
# A legend has the same room on both papers, so the larger doors are laid out on one of them.
SAME_ROOM = {"legend-a4": "legend-letter", "legend-a5": "legend-half-letter"}

AREAS = ("front lawn", "side beds drip", "north slope", "rose garden", "orchard row", "car park")


def yard(stations: int) -> str:
    """One controller of so many stations in boxes of three, with spares, master valve, sensor."""
    boxes = [f"VB-{n}" for n in range(1, stations // 3 + 1)]
    run = "A" + "".join(f", 60 ft, {box}" for box in boxes)
    lines = [
        "job: {code: YARD-9, site: The Yard, revision: 1, date: 2026-03-14}",
        "record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}",
        "coils:",
        "  usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.4 A, holding: 0.23 A}",
        "controllers:",
        "  A:",
        "    place: garage wall",
        f"    stations: {stations}",
        "    supply: 24 V AC",
        "    transformer: 40 VA",
        "    fuse: 1.5 A",
        "    coil: usual",
        "    common: A-K1 white",
        "cables:",
        "  A-K1:",
        f"    run: [{run}]",
        "    singles:",
        f"      - {{color: red, gauge: 14 AWG, flags: 1 to {stations}}}",
        "      - {color: white, gauge: 12 AWG}",
        "      - {color: black, gauge: 14 AWG}",
        "      - {color: gray, gauge: 14 AWG}",
        "      - {color: orange, gauge: 14 AWG, flags: [SP-1, SP-2]}",
        "boxes:",
        *(f"  {box}: {{place: spot {n} of the path}}" for n, box in enumerate(boxes, 1)),
        "stations:",
        *(
            f"  A{n}: {{area: {AREAS[n % 6]} {n}, box: {boxes[(n - 1) // 3]}, hot: A-K1 red {n}}}"
            for n in range(1, stations + 1)
        ),
        "master valves:",
        f"  MV-1: {{controllers: A, box: {boxes[0]}, hot: A-K1 black, return: A-K1 gray}}",
        "sensors:",
        "  RAIN: {kind: rain, controllers: A, contact: normally closed, place: garage eave}",
        "spares:",
        f"  SP-1: {{conductor: A-K1 orange SP-1, to: {boxes[-1]}}}",
        f"  SP-2: {{conductor: A-K1 orange SP-2, to: {boxes[-1]}}}",
    ]
    return "\n".join(lines) + "\n"


@cache
def yard_card(stations: int, languages: str) -> Card:
    job = as_printable(examine_text(yard(stations)), words_of(*languages.split(",")))
    assert job is not None
    (card,) = cards_of(job, (CardKind.LEGEND,))[CardKind.LEGEND]
    return card


def printed(card: Card, stock: str, languages: str) -> tuple[Page, ...]:
    layouts = layouts_in(*languages.split(","))
    words = words_of(*languages.split(","))
    stamp = Stamp(job_code="YARD-9", revision="rev 1, 2026-03-14", site="The Yard", words=words)
    done, problems = lay_out((card,), layouts=layouts, stock=layouts.stocks[stock], stamp=stamp)
    assert problems == ()
    return done


def letters(done: Sequence[Page], stock: str) -> list[TextLine]:
    """All but the line of stamp and scale bar at the foot of the sheet."""
    foot = way_round(done[0], stock).footer
    assert foot is not None
    lines = [item for page in done for item in page.items if isinstance(item, TextLine)]
    return [line for line in lines if line.y < foot.y]


# ---- fewest sheets ---------------------------------------------------------------------------


def test_a_legend_has_the_same_room_on_both_papers() -> None:
    for other, stock in SAME_ROOM.items():
        for one, two in ((other, stock), (turned(other), turned(stock))):
            some, same = shipped().stocks[one], shipped().stocks[two]
            room = (some.format, some.card_width, some.card_height, some.safe, some.dots_per_inch)
            assert room == (
                same.format, same.card_width, same.card_height, same.safe, same.dots_per_inch
            )  # fmt: skip


def turned(stock: str) -> str:
    return shipped().stocks[stock].turned


@pytest.mark.parametrize(
    ("name", "languages", "stock"),
    [
        (*door, stock)
        for door in SHEETS
        for stock in STOCKS
        if stock not in SAME_ROOM or door[0] == "quarry"
    ],
)
def test_the_doors_of_the_samples_take_so_many_sheets(
    name: str, languages: str, stock: str
) -> None:
    cards = sample_cards(name, *languages.split(","))[CardKind.LEGEND]
    done = {card.id: printed(card, stock, languages) for card in cards}
    expected = {id_: counts[STOCKS[stock]] for id_, counts in SHEETS[name, languages].items()}
    assert {id_: len(some) for id_, some in done.items()} == expected
    for some in done.values():
        assert min(line.capital for line in letters(some, stock)) >= LEAST - 1e-9
        assert [faults(page, way_round(page, stock)) for page in some] == [[]] * len(some)


@pytest.mark.parametrize(
    ("stations", "languages", "stock"),
    [
        (*door, stock)
        for door in YARDS
        for stock in STOCKS
        if stock not in SAME_ROOM or door[0] == 24
    ],
)
def test_a_door_of_so_many_stations_takes_so_many_sheets(
    stations: int, languages: str, stock: str
) -> None:
    card = yard_card(stations, languages)
    assert {"readings", "cautions", "sensors"} <= card.fields.keys()
    assert isinstance(card.fields["spares"], Table)
    done = printed(card, stock, languages)
    assert len(done) == YARDS[stations, languages][STOCKS[stock]]
    lines = letters(done, stock)
    assert min(line.capital for line in lines) >= LEAST - 1e-9
    named = re.findall(r"\d+ · A\d+(?= )", " ".join(line.text for line in lines))
    assert named == [f"{n} · A{n}" for n in range(1, stations + 1)]  # each once, in their order


# ---- which way round -------------------------------------------------------------------------


def is_upright(done: Sequence[Page]) -> bool:
    sizes = {(page.width, page.height) for page in done}
    assert len(sizes) == 1  # all sheets of a door lie the same way
    return done[0].height > done[0].width


def strip_letters(done: Sequence[Page]) -> float:
    (height,) = {
        item.capital
        for page in done
        for item in page.items
        if isinstance(item, TextLine) and re.fullmatch(r"\d+ · A\d+", item.text)
    }
    return height


@pytest.mark.parametrize("stations", [4, 12, 24, 40, 60])
@pytest.mark.parametrize("stock", ["legend-letter", "legend-a5"])
def test_the_way_round_with_fewer_sheets_is_taken_then_the_one_with_larger_letters(
    stations: int, stock: str
) -> None:
    """Both are laid out here by stock that has no other way round."""
    layouts, card = shipped(), legend(stations)
    given = layouts.stocks[stock]
    ways = [replace(given, turned=""), layouts.stocks[given.turned]]
    stamp = Stamp(job_code="J-1", revision="rev 1", site="S")
    lain = [lay_out((card,), layouts=layouts, stock=way, stamp=stamp)[0] for way in ways]
    costs = [(len(done), -strip_letters(done)) for done in lain]
    taken = pages(card, stock=stock)
    assert (len(taken), -strip_letters(taken)) == min(costs)
    if costs[0] < costs[1]:
        assert not is_upright(taken)
    if costs[1] < costs[0]:
        assert is_upright(taken)


def test_a_long_strip_is_set_upright_and_a_short_one_level() -> None:
    assert is_upright(pages(legend(40), stock="legend-letter"))
    assert not is_upright(pages(legend(2), stock="legend-letter"))


# ---- what stands where -----------------------------------------------------------------------


@pytest.mark.parametrize("stock", STOCKS)
def test_the_longest_name_of_a_controller_stands_beside_the_code(stock: str) -> None:
    """24 letters, as many as a job allows, and the widest that there are."""
    name = "W" * 24
    title = f"CONTROLLER {name} / CONTROLADOR {name}"
    code = Code(
        address=f"HTTPS://JOBS.EXAMPLE.COM/7Q2F9KX4M3T8/{name}", text=f"7Q2F9KX4M3T8/{name}"
    )
    done, problems = laid_out(legend(8, title=title, code=code), stock=stock)
    assert problems == ()
    (symbol,) = (item for page in done for item in page.items if isinstance(item, Symbol))
    texts = [item for item in done[0].items if isinstance(item, TextLine)]
    (first,) = (item for item in texts if item.text.startswith(f"CONTROLLER {name}"))
    assert first.y < symbol.frame.bottom
    assert first.x + fonts.width(first.text, first.weight) * first.capital < symbol.frame.x
    assert code.text in [item.text for item in texts]


@pytest.mark.parametrize("stock", STOCKS)
def test_the_strip_stands_above_and_to_the_left_of_all_that_is_told_beside_it(stock: str) -> None:
    done = pages(legend(8), stock=stock)
    first = [item for item in done[0].items if isinstance(item, TextLine)]
    (head,) = (item for item in first if item.text == "terminal")
    assert head.x == pytest.approx(min(item.x for item in first))
    told = [item for item in first if item.text in ("THIS CONTROLLER", "BOXES", "BEFORE YOU WORK")]
    below = [item for item in first if item.text == "8 · A8"]
    for item in told:
        assert item.x > head.x or all(item.y > row.y for row in below)
    lines = (item for page in done for item in page.items if isinstance(item, TextLine))
    assert BRACKETS in " ".join(line.text for line in lines)
    assert any(item.text.startswith("call:") for item in first)
