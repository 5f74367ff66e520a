"""Turn a list of stations into the text of a new job that says what remains to be said."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cardgen.job.starter import ADDRESS, CODE, SITE
from cardgen.problems import Span
from cardgen.reading import nodes
from cardgen.reading.nodes import KeyValue, Node, Scalar
from cardgen.workbook.heading_names import COLOR
from cardgen.workbook.job_text import WIDEST, entry_lines, scalar
from cardgen.workbook.list_stations import ListedStation, box_names
from cardgen.workbook.list_table import ListTable, one_text
from cardgen.workbook.sheet_plans import EXTRA, plan_named
from cardgen.workbook.sheet_values import cell_value

NOT_KNOWN = "not known"
_REMARK = 31  # the column in which remarks begin, as in the job that a new file starts with
_NOWHERE = Span("", 1, 1)

_HEAD = """\
# A job file, made from a list of stations. The list does not say everything: what is open has
# '{not_known}' or a remark. 'cardgen check' on this file names it; 'cardgen manual job-file' says
# how each thing is written.

job:
  code: {code}               # short code, printed on each card
  site: {site}
  revision: 1                  # counts up each time the wiring changes
  date: 2026-01-31             # date of this revision: year-month-day

record:
  address: {address}   # web address where the job record will be
  key: {key}            # made for this job, so that nobody can guess its page

# coils:                       # from the data sheet of the valve
#   usual: {{supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A, minimum: 20 V}}

# connectors:                  # what the label of each connector allows, smallest first
#   small: {{takes: [2-5 x 18 AWG]}}
"""
_NO_CABLES = """\
# cables:                      # each cable with its colors, and its run with each length
#   {name}-K1: {{gauge: 18 AWG, colors: [white, red, blue], run: [{name}, 85 ft, VB-1]}}
"""


def list_job(table: ListTable, stations: Sequence[ListedStation], key: str) -> str:
    """The text of the job; `key` is that of its record."""
    boxes = box_names((s.box for s in stations if s.box), {})
    by_controller: dict[str, list[ListedStation]] = {}
    for station in stations:
        by_controller.setdefault(station.controller, []).append(station)
    cables = {name: f"{name}-K1" for name, own in by_controller.items() if _is_certain(own)}
    told = {"not_known": NOT_KNOWN, "code": CODE, "address": ADDRESS}
    head = _HEAD.format(**told, site=scalar(table.title or SITE), key=key)
    parts = [head, "controllers:"]
    parts += [line for name, own in by_controller.items() for line in _controller(name, own)]
    parts.append("")
    if cables:
        parts.append("cables:")
    else:
        parts.append(_NO_CABLES.format(name=next(iter(by_controller))))
    parts += [
        line for name, cable in cables.items() for line in _cable(cable, by_controller[name], boxes)
    ]
    parts += ["", "boxes:"] if cables and boxes else ["boxes:"] if boxes else []
    parts += [line for text, name in _of_names(boxes).items() for line in _box(text, name)]
    parts += ["", "stations:"] if boxes or cables else ["stations:"]
    for station in stations:
        hot = cables.get(station.controller, "")
        node = _station(table, station, boxes, f"{hot} {station.color}" if hot else "")
        parts += entry_lines(station.name, node, 2)
    return "\n".join(parts) + "\n"


def _is_certain(stations: Sequence[ListedStation]) -> bool:
    """One cable can have them all: each has a box and a color, and no two have the same color."""
    colors = {station.color for station in stations}
    whole = all(s.color and s.box and "hot" not in s.cells for s in stations)
    return whole and len(colors) == len(stations)


def _controller(name: str, stations: Sequence[ListedStation]) -> Iterator[str]:
    highest = max(station.number for station in stations)
    yield f"  {name}:"
    yield _remarked(f"    place: {NOT_KNOWN}", "where it hangs")
    yield _remarked("    supply: 24 V AC", "the list does not say it: correct it if it is another")
    yield _remarked(f"    stations: {highest}", "the highest in the list: write how many it has")
    yield _remarked("    # coil: usual", "the coil of its valves, by name from 'coils'")
    yield _remarked(f"    # common: {name}-K1 white", "the conductors of its common")


def _cable(name: str, stations: Sequence[ListedStation], boxes: dict[str, str]) -> Iterator[str]:
    run = [stations[0].controller]
    for box in dict.fromkeys(boxes[station.box] for station in stations):
        run += [NOT_KNOWN, box]
    yield f"  {name}:"
    yield _remarked(f"    gauge: {NOT_KNOWN}", "'18 AWG' or '1.5 mm2'")
    yield "    # The hots of the list. Add the common and the spares."
    yield from entry_lines("colors", _sequence([s.color for s in stations]), 4)
    yield "    # The boxes as they come in the list. Put them in the order of the cable, and write"
    yield "    # the length of each leg."
    yield from entry_lines("run", _sequence(run), 4)


def _of_names(boxes: dict[str, str]) -> dict[str, str]:
    """One text for each box, the first by which the list calls it."""
    found: dict[str, str] = {}
    for text, name in boxes.items():
        if name not in found.values():
            found[text] = name
    return found


def _box(text: str, name: str) -> Iterator[str]:
    """What is no name says where it is."""
    place = "" if name.casefold() in (text.casefold(), f"vb-{text}".casefold()) else text
    if place.replace(" ", "-").replace("#", "-").casefold().strip("-") == name.casefold():
        place = ""
    yield f"  {name}: {{place: {scalar(place)}}}" if place else f"  {name}: {{}}"


def _station(table: ListTable, station: ListedStation, boxes: dict[str, str], hot: str) -> Node:
    plan = plan_named("stations")
    assert plan is not None
    values: list[tuple[str, Node]] = []
    for column in plan.columns:
        cell = station.cells.get(column.heading)
        if column.heading == "area":
            values.append(("area", _scalar(one_text(cell) or NOT_KNOWN)))
        elif column.heading == "box" and station.box:
            values.append(("box", _scalar(boxes[station.box])))
        elif column.heading == "hot" and hot:
            values.append(("hot", _scalar(hot)))
        elif cell is not None and column.heading not in ("controller", "terminal"):
            values.append((column.heading, cell_value(cell, column, _NOWHERE)))
    extra = [(heading, text) for heading, text in station.extra.items() if text is not None]
    if not hot and COLOR in station.cells:
        extra.insert(0, (table.color_heading, _scalar(one_text(station.cells[COLOR]))))
    if extra:
        pairs = tuple(KeyValue(_scalar(heading), text) for heading, text in extra)
        values.append((EXTRA, nodes.Mapping(_NOWHERE, pairs)))
    return nodes.Mapping(_NOWHERE, tuple(KeyValue(_scalar(k), v) for k, v in values))


def _scalar(text: str) -> Scalar:
    return Scalar(_NOWHERE, text)


def _sequence(texts: Sequence[str]) -> nodes.Sequence:
    return nodes.Sequence(_NOWHERE, tuple(_scalar(text) for text in texts))


def _remarked(line: str, remark: str) -> str:
    remarked = f"{line:{_REMARK}}# {remark}"
    return remarked if len(remarked) <= WIDEST else f"{line}  # {remark}"
