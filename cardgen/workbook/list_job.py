"""Turn a list of stations into the text of a new job that says what remains to be said."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from cardgen.job import starter
from cardgen.problems import Span
from cardgen.reading import nodes
from cardgen.reading.nodes import KeyValue, Node, Scalar
from cardgen.units import NOT_KNOWN
from cardgen.workbook.heading_names import COLOR, COMMON, LEG_FROM, LEG_LENGTH
from cardgen.workbook.job_text import WIDEST, entry_lines, scalar
from cardgen.workbook.list_legs import ListedLeg, run_of
from cardgen.workbook.list_stations import ListedStation, box_names
from cardgen.workbook.list_table import ListTable, one_text
from cardgen.workbook.sheet_plans import EXTRA, plan_named
from cardgen.workbook.sheet_values import cell_value

_REMARK = 31  # the column in which remarks begin, as in the job that a new file starts with
_NOWHERE = Span("", 1, 1)
LEG_COLUMNS = (LEG_FROM, LEG_LENGTH)

_HEAD = """\
# A job file, made from a list of stations. The list does not say everything: what is open has
# '{not_known}' or a remark. 'cardgen check' on this file names it; 'cardgen manual job-file' says
# how each thing is written.

job:
{code}
  site: {site}
  revision: 1                  # counts up each time the wiring changes
  date: {date}             # date of this revision: year-month-day

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


@dataclass(frozen=True, slots=True, kw_only=True)
class NewJob:
    """What the head of a new job says besides its list.

    Attributes:
        key: of its record.
        site, code: of one of several sites; else empty.
        listed_code: what the list says that it is; else empty.
    """

    key: str
    site: str = ""
    code: str = ""
    listed_code: str = ""


def list_boxes(stations: Iterable[ListedStation]) -> dict[str, str]:
    """By what the list calls each box, its name in the new job."""
    return box_names((s.box for s in stations if s.box), {})


def list_runs(
    stations: Sequence[ListedStation], legs: Mapping[str, ListedLeg]
) -> dict[str, list[str]]:
    """By controller the run of its cable, where one cable can have all its stations."""
    boxes, runs = list_boxes(stations), dict[str, list[str]]()
    for name, own in _by_controller(stations).items():
        if _is_certain(own):
            by_box = {legs[s.name].box: legs[s.name] for s in own if s.name in legs}
            run = run_of(name, dict.fromkeys(boxes[s.box] for s in own), by_box)
            runs |= {name: run} if run is not None else {}
    return runs


def _by_controller(stations: Iterable[ListedStation]) -> dict[str, list[ListedStation]]:
    found: dict[str, list[ListedStation]] = {}
    for station in stations:
        found.setdefault(station.controller, []).append(station)
    return found


def list_job(
    table: ListTable,
    stations: Sequence[ListedStation],
    new: NewJob,
    legs: Mapping[str, ListedLeg] | None = None,
) -> str:
    """The text of the job; `legs` are by station."""
    boxes, runs = list_boxes(stations), list_runs(stations, legs or {})
    by_controller = _by_controller(stations)
    cables = {name: f"{name}-K1" for name in runs}
    parts = [_head(new, table.title), "controllers:"]
    commons = {name: _common(by_controller[name]) for name in cables}
    for name, own in by_controller.items():
        parts += _controller(name, own, commons.get(name, ""))
    parts.append("")
    if cables:
        parts.append("cables:")
    else:
        parts.append(_NO_CABLES.format(name=next(iter(by_controller))))
    parts += [
        line
        for name, cable in cables.items()
        for line in _cable(cable, by_controller[name], runs[name], commons[name])
    ]
    parts += ["", "boxes:"] if cables and boxes else ["boxes:"] if boxes else []
    parts += [line for text, name in _of_names(boxes).items() for line in _box(text, name)]
    parts += ["", "stations:"] if boxes or cables else ["stations:"]
    for station in stations:
        cable = cables.get(station.controller, "")
        hot = f"{cable} {station.color}" if cable else ""
        common = station.common if station.common != commons.get(station.controller) else ""
        kept = () if station.controller in runs else LEG_COLUMNS
        node = _station(table, station, boxes, hot, common, kept)
        parts += entry_lines(station.name, node, 2)
    return "\n".join(parts) + "\n"


def _head(new: NewJob, title: str) -> str:
    remark = "made of the name of the site" if new.code else "short code"
    remark = "of the list" if new.listed_code else remark
    return _HEAD.format(
        not_known=NOT_KNOWN,
        code=_remarked(
            f"  code: {scalar(new.listed_code or new.code or starter.CODE)}",
            f"{remark}, printed on each card",
        ),
        site=scalar(new.site or title or starter.SITE),
        address=starter.ADDRESS,
        date=starter.DATE,
        key=new.key,
    )


def _is_certain(stations: Sequence[ListedStation]) -> bool:
    """One cable can have them all: each has a box and a color, and no two have the same color."""
    colors = {station.color for station in stations}
    whole = all(s.color and s.box and "hot" not in s.cells for s in stations)
    return whole and len(colors) == len(stations)


def _common(stations: Sequence[ListedStation]) -> str:
    """Its color, where all stations have that one and no hot has it; else empty."""
    commons = {station.common for station in stations}
    common = commons.pop() if len(commons) == 1 else ""
    return "" if common in (station.color for station in stations) else common


def _controller(name: str, stations: Sequence[ListedStation], common: str) -> Iterator[str]:
    highest = max(station.number for station in stations)
    yield f"  {name}:"
    yield _remarked(f"    place: {NOT_KNOWN}", "where it hangs")
    yield _remarked("    supply: 24 V AC", "the list does not say it: correct it if it is another")
    yield _remarked(f"    stations: {highest}", "the highest in the list: write how many it has")
    yield _remarked("    # coil: usual", "the coil of its valves, by name from 'coils'")
    sign = "" if common else "# "
    yield _remarked(
        f"    {sign}common: {name}-K1 {common or 'white'}", "the conductors of its common"
    )


def _cable(
    name: str, stations: Sequence[ListedStation], run: Sequence[str], common: str
) -> Iterator[str]:
    yield f"  {name}:"
    yield _remarked(f"    gauge: {NOT_KNOWN}", "'18 AWG' or '1.5 mm2'")
    missing = "the spares" if common else "the common and the spares"
    yield f"    # The hots of the list. Add {missing}."
    colors = [*([common] if common else []), *(s.color for s in stations)]
    yield from entry_lines("colors", _sequence(colors), 4)
    if NOT_KNOWN in run:
        yield "    # The boxes as they come in the list. Put them in the order of the cable, and"
        yield "    # write the length of each leg."
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


def _station(
    table: ListTable,
    station: ListedStation,
    boxes: dict[str, str],
    hot: str,
    common: str,
    kept: Sequence[str],
) -> Node:
    """Args:
    common: the color that the list has for it, where it is not the controller's.
    kept: columns that say nothing of the job and stay as they are.
    """
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
        elif column.heading == COMMON and station.common:
            continue
        elif cell is not None and column.heading not in ("controller", "terminal"):
            values.append((column.heading, cell_value(cell, column, _NOWHERE)))
    extra = [(heading, text) for heading, text in station.extra.items() if text is not None]
    open_colors = ([COMMON] if common else []) + ([] if hot else [COLOR])
    for column_name in (*open_colors, *kept):
        if column_name in station.cells:
            said = _scalar(one_text(station.cells[column_name]))
            extra.insert(0, (table.headings[column_name], said))
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
