"""Cards of invented jobs for the tests of layout and drawing."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

from cardgen.asbuilt import ConductorMark
from cardgen.cards.card import Card, CardKind, Code, PrintedCell, PrintedValue, Splice, Table, Wire
from cardgen.layout import Layouts, Page, Stamp, lay_out, load_layouts
from cardgen.layout.stock import Stock
from cardgen.problems import Problem, Span
from cardgen.trade.colors import insulation

PLACE = Span("larkspur.yaml", 12, 3, 2)
RECORD = "HTTPS://JOBS.EXAMPLE.COM/7Q2F9KX4M3T8/"
STAMP = Stamp(job_code="LARK-06", revision="rev 1", site="Larkspur Cottage")
DATED = "LARK-06 · rev 1 · 2026-03-14"


def mark(cable: str, words: str, band: str = "", flag: str = "") -> ConductorMark:
    found = insulation(words)
    assert found is not None
    return ConductorMark(
        cable=cable,
        word=words,
        code=found.code,
        base=found.base,
        stripe=found.stripe,
        band=band,
        flag=flag,
    )


def code(box: str) -> Code:
    return Code(address=RECORD + box, text="7Q2F9KX4M3T8/" + box)


def readings(*rows: tuple[str, str, str]) -> Table:
    return Table(columns=("", "", ""), rows=rows)


def valve_tag(id: str = "A7", **more: PrintedValue) -> Card:
    fields: dict[str, PrintedValue] = {
        "headline": id,
        "box_label": "box",
        "box": "VB-2",
        "area": "front beds, drip",
        "hot": mark("A-K1", "green"),
        "hot_label": "HOT",
        "common": mark("A-K1", "white/black"),
        "common_label": "COMMON A",
        "terminal": "controller A, terminal 7",
        "controller_readings_title": "AT CONTROLLER",
        "controller_readings": readings(("Ω", "31.9", "(26–38)"), ("mA", "230", "on")),
        "coil_readings_title": "AT THE COIL",
        "coil_readings": readings(("Ω", "30", "(24–36)"), ("V", "23.5–23.9", "on")),
        "code": code("VB-2"),
        "stamp": DATED,
    }
    fields |= more
    fields.setdefault("controller_readings_with", fields["controller_readings"])
    return Card(span=PLACE, kind=CardKind.VALVE_TAG, id=id, fields=fields)


def box_tag(id: str = "VB-2", stations: int = 3, **more: PrintedValue) -> Card:
    title, red = "CONTROLLER A", mark("A-K1", "red")
    rows: list[tuple[PrintedCell, ...]] = [
        (title, f"A{n}", red, "front beds") for n in range(1, stations + 1)
    ]
    rows.append((title, "C", mark("A-K1", "white"), "COM-A"))
    fields: dict[str, PrintedValue] = {
        "headline": id,
        "place": "front bed",
        "box_kind": "splices 4",
        "stations": Table(columns=("controller", "valve", "hot", "area"), rows=tuple(rows)),
        "spares_title": "SPARES",
        "spares": (mark("A-K1", "orange"), mark("A-K1", "brown")),
        "notes": ("Lock off A + B, prove dead",),
        "code": code(id),
        "stamp": DATED,
    }
    return Card(span=PLACE, kind=CardKind.BOX_TAG, id=id, fields={**fields, **more})


def flag(headline: str = "A-07", **more: PrintedValue) -> Card:
    fields: dict[str, PrintedValue] = {
        "headline": headline,
        "conductor": mark("A-K1", "red"),
        "from_to": "A → VB-2",
        "stamp": DATED,
    }
    return Card(span=PLACE, kind=CardKind.FLAG, id=headline, fields={**fields, **more})


def legend(stations: int = 8, **more: PrintedValue) -> Card:
    columns = ("terminal", "area", "box", "wire color here", "expected Ω", "V at the valve", "mA")
    hot, area = mark("A-K1", "red"), "front lawn west, spray"
    read = ("31.1 (25–37)", "23.5–23.9", "230")
    rows = (
        ("C", "common for all", "", mark("A-K1", "white"), "", "", ""),
        *((f"{n}\u00a0·\u00a0A{n}", area, "VB-1", hot, *read) for n in range(1, stations + 1)),
    )
    fields: dict[str, PrintedValue] = {
        "title": "CONTROLLER A",
        "subtitle": "Larkspur Cottage · garage wall · 24 V AC",
        "brackets": "(25–37): acceptable range on a working meter.",
        "terminals": Table(columns=columns, rows=rows),
        "about": ("8 of 8 stations used.",),
        "boxes": ("VB-1 front walk · VB-2 front bed",),
        "blanks": ("call:",),
        "sensors": ("Rain sensor, normally closed, on SEN.",),
        "spares": (mark("A-K1", "orange"),),
        "cautions": ("Switch off and lock the power first.", "Call before you dig."),
        "before": "Take a photo before you lift a wire.",
        "code": code("A"),
        "stamp": DATED,
    }
    fields |= more
    small = {
        f"{name}_short": fields[name] for name in ("terminals", "about", "sensors", "cautions")
    }
    brackets = fields["brackets"]
    assert isinstance(brackets, str)
    small |= {"readings_short": (brackets,)}
    return Card(span=PLACE, kind=CardKind.LEGEND, id="A", fields={**fields, **small})


def splice(leads: int = 1, *, onward: bool = False) -> Splice:
    """A red conductor from A with so many leads, perhaps going on as a blue one."""
    leaving = (Wire(mark=mark("A-S1", "blue", flag="A7"), name="", about="to VB-3, 14 AWG"),)
    return Splice(
        title="1  HOT A7",
        change="color change: red to blue" if onward else "",
        counts="2 × 18 AWG",
        connector="connector: small",
        arriving=(Wire(mark=mark("A-K1", "red"), name="", about="from A, 18 AWG"),),
        leaving=leaving if onward else (),
        leads=tuple(
            Wire(mark=None, name=f"A7{letter}", about="factory lead, 18 AWG")
            for letter in "abcdefghij"[:leads]
        ),
    )


def splice_card(*splices: Splice, id: str = "VB-2", **more: PrintedValue) -> Card:
    fields: dict[str, PrintedValue] = {
        "headline": id,
        "where": "front bed",
        "state": "AS BUILT",
        "splices": splices or (splice(), splice(2, onward=True)),
        "passing": Table(columns=("conductor", "use"), rows=((mark("A-K1", "green"), "hot A3"),)),
        "steps": "Power off and locked.",
        "blanks": ("made (initials)", "date", "checked (initials)", "date"),
        "code": code(id),
        "stamp": DATED,
    }
    return Card(span=PLACE, kind=CardKind.SPLICE_CARD, id=id, fields={**fields, **more})


def sheet(kind: CardKind, field: str, rows: int = 3, **more: PrintedValue) -> Card:
    """A sheet of the field or the packet with one table."""
    row = ("A7", mark("A-K1", "red"), "", "front beds, drip")
    table = Table(columns=("station", "conductor", "measured Ω", "notes"), rows=(row,) * rows)
    fields: dict[str, PrintedValue] = {
        "title": f"{kind.upper()} A",
        "subtitle": "Larkspur Cottage",
        field: table,
        "stamp": DATED,
    }
    return Card(span=PLACE, kind=kind, id=f"{kind} A", fields={**fields, **more})


def field_sheet(rows: int = 3, **more: PrintedValue) -> Card:
    blanks = ("temperature", "meter", "weather", "initials", "date")
    ticks = ("power off and locked", "meter leads zeroed")
    return sheet(CardKind.TEST_SHEET, "valves", rows, blanks=blanks, ticks=ticks, **more)


def sheets() -> tuple[Card, ...]:
    """One of each kind that is made for whole sheets."""
    return (
        field_sheet(),
        sheet(CardKind.SPARE_LIST, "spares", notes=("Tie, measure, cap.",)),
        sheet(CardKind.SURVEY, "questions", notes=("Write what you find.",)),
        sheet(CardKind.MATERIALS, "cables"),
        sheet(CardKind.SCHEDULE, "rows"),
        sheet(CardKind.SCHEDULE, "register"),
        sheet(CardKind.COVER, "documents", facts=("Job LARK-06",)),
        sheet(CardKind.FAULT_SHEET, "suspects", verdict=("2 faults fit these readings.",)),
        sheet(CardKind.CLOSING, "changes", handed_over=("keys handed to", "date")),
    )


@cache
def shipped() -> Layouts:
    layouts, problems = load_layouts()
    assert problems == ()
    return layouts


def pages(*cards: Card, stock: str, start: int = 1) -> tuple[Page, ...]:
    """The pages of cards that are known to fit."""
    done, problems = laid_out(*cards, stock=stock, start=start)
    assert problems == ()
    return done


def laid_out(
    *cards: Card, stock: str, start: int = 1
) -> tuple[tuple[Page, ...], tuple[Problem, ...]]:
    layouts = shipped()
    return lay_out(cards, layouts=layouts, stock=layouts.stocks[stock], stamp=STAMP, start=start)


def way_round(page: Page, stock: str) -> Stock:
    """The stock as it is, or turned, whichever the page lies on."""
    given = shipped().stocks[stock]
    return given if page.width == given.paper_width else shipped().stocks[given.turned]


def on_path() -> Card:
    """The tag of a valve behind a decoder: the shortest that there is."""
    hot, readings_there = ("hot", "hot_label"), ("controller_readings", "controller_readings_with")
    left_out = (*hot, "common", "common_label", *readings_there)
    coil = readings(("Ω", "30", "(24–36)"))
    path = "controller D, two-wire path"
    whole = valve_tag("D1", terminal=path, boxed_short=("DECODER 201",), coil_readings=coil)
    fields = {name: value for name, value in whole.fields.items() if name not in left_out}
    return replace(whole, fields=fields)


def one_of_each(stock: str) -> tuple[Card, ...]:
    """A card of every kind that the stock has a face for."""
    tag = on_path() if stock == "shipping-tag-1" else valve_tag()  # it has no room for more
    cards = (tag, box_tag(), flag(), legend(), splice_card(), *sheets())
    layouts = shipped()
    return tuple(c for c in cards if layouts.face(c.kind, layouts.stocks[stock].format))


def cards_told(problem: Problem) -> int:
    """Of how many cards a problem is told: `; 107 more have the same problem`."""
    more = re.search(r"; ([\d,]+) more ha(?:s|ve) the same problem", problem.sentence)
    return 1 + int(more[1].replace(",", "")) if more else 1
