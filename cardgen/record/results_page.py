"""Set what was measured: beside the expected, with its verdict, by controller and valve."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from cardgen.asbuilt import BuiltController, BuiltValve
from cardgen.record import names
from cardgen.record.diagnosis_part import diagnosis_part
from cardgen.record.html import Child, Markup, element, joined
from cardgen.record.judging import Judged, newest
from cardgen.record.page_frame import PageFrame, document, heading, link, plain_list, section
from cardgen.record.page_parts import area, band_text, ohms_text, pair
from cardgen.record.page_words import PageWords
from cardgen.results import Kind, Outcome, expected_band, trend

# A sign beside the sentence: nothing is told by hue.
SIGNS = {Outcome.GOOD: "✓", Outcome.LOOK: "!", Outcome.UNKNOWN: "?"}


def results_page(frame: PageFrame) -> bytes:
    """All that was read, the valves in the order of the job."""
    words, now = frame.words, frame.now
    if frame.results.by_valve or frame.results.of_conductors:
        parts = [
            element("p", _counted(frame)),
            diagnosis_part(words, now, frame.results.today) or _together(frame),
            *(_of_controller(frame, controller) for controller in now.controllers),
            _gone(frame),
            _of_conductors(frame),
        ]
    else:
        parts = [element("p", words("no results"))]
    return document(
        frame,
        names.RESULTS,
        words("results title", site=now.site),
        heading(frame, words("results")),
        *parts,
        element("p", words("how to read"), class_="small"),
    )


def _counted(frame: PageFrame) -> str:
    valves = [valve.id for valve in frame.now.valves]
    read = [valve for valve in valves if valve in frame.results.by_valve]
    look = [valve for valve in read if any(map(_is_to_see, _newest(frame, valve)))]
    return frame.words("results counted", number=len(read), all=len(valves), look=len(look))


def _newest(frame: PageFrame, valve: str) -> Iterable[Judged]:
    return newest(frame.results.by_valve[valve]).values()


def _is_to_see(each: Judged) -> bool:
    return each.outdated_by is not None or each.finding.outcome is Outcome.LOOK


def _together(frame: PageFrame) -> Markup | None:
    words, patterns = frame.words, frame.results.patterns
    told = (
        element(
            "div",
            element("p", words.of("together", pattern.name, **pattern.values)),
            element("p", words.of("next", pattern.name, **pattern.values), class_="small"),
            class_="must",
        )
        for pattern in patterns
    )
    return section(words("together show"), *told) if patterns else None


def _of_controller(frame: PageFrame, controller: BuiltController) -> Markup | None:
    words = frame.words
    valves = _in_order(frame, controller)
    if not valves:
        return None
    results = frame.results.by_valve
    unread = [valve.id for valve in valves if valve.id not in results]
    parts = [_of_valve(frame, valve) for valve in valves if valve.id in results]
    if unread:
        parts.append(element("p", words("unread", valves=words.list_of(unread))))
    return section(words("controller", controller=controller.id), *parts)


def _in_order(frame: PageFrame, controller: BuiltController) -> list[BuiltValve]:
    """As one goes from terminal to terminal; what is on none comes last."""
    owners = [owner for terminal in controller.terminals for owner in terminal.owners]
    valves = [valve for valve in frame.now.valves if valve.controller == controller.id]
    rank = {owner: number for number, owner in enumerate(owners)}
    return sorted(valves, key=lambda valve: rank.get(valve.station, len(owners)))


def _of_valve(frame: PageFrame, valve: BuiltValve) -> Markup:
    target = f"../{names.page(names.box_folder(valve.box))}"
    title = element("h3", f"{valve.id} {area(frame.words, valve)}", id=f"R-{valve.id}")
    to_place = link(frame.words("box", box=valve.box), target)
    return element("div", title, *_values(frame, valve.id), to_place, class_="item")


def _gone(frame: PageFrame) -> Markup | None:
    """Of valves that the job has no more."""
    left = [valve for valve in frame.results.by_valve if valve not in frame.now.valve]
    parts = [
        element("div", element("h3", valve), *_values(frame, valve), class_="item")
        for valve in left
    ]
    return section(frame.words("read gone"), *parts) if parts else None


def _of_conductors(frame: PageFrame) -> Markup | None:
    """What was measured on commons, spares and other conductors that are no valve's."""
    values = frame.results.of_conductors
    if not values:
        return None
    return section(frame.words("read on conductors"), *_set(frame.words, values))


def _values(frame: PageFrame, valve: str) -> Iterator[Markup]:
    yield from _set(frame.words, frame.results.by_valve[valve])


def _set(words: PageWords, values: Sequence[Judged]) -> Iterator[Markup]:
    """One subject after the other: expected, read, verdict, what to do, and how it has moved."""
    for subject, last in newest(values).items():
        every = [each for each in values if each.measured.subject == subject]
        yield element("h4", title(words, last))
        yield element("dl", *_facts(words, last), class_="row")
        yield verdict_line(words, last)
        if last.finding.outcome is Outcome.LOOK:
            yield element("p", words.of("next", last.finding.next_name, **last.finding.values))
        if len(every) > 1 and last.measured.kind.unit:
            yield _earlier(words, every)


def title(words: PageWords, each: Judged) -> str:
    """What was measured, and between what where that is not the valve's own hot and common."""
    kind, between = words.of("measured", each.measured.kind), each.measured.between
    return f"{kind}: {between}" if between else kind


def _facts(words: PageWords, each: Judged) -> Iterator[Markup]:
    measured = each.measured
    if each.valve is not None and measured.kind.unit:
        yield pair(words("expected"), expected(words, each))
    yield pair(words("was read"), f"{measured.shown}, {measured.when[:10]}")
    if measured.conditions:
        yield pair(words("conditions"), measured.conditions)


def _earlier(words: PageWords, every: list[Judged]) -> Markup:
    moved = trend([each.measured for each in every])
    values = (f"{each.measured.shown}, {each.measured.when[:10]}" for each in reversed(every[:-1]))
    said = words.of("trend", moved.name, **moved.values)
    return joined(element("p", f"{words('earlier')}: {said}", class_="small"), plain_list(values))


# ---- what other pages say of it too --------------------------------------------------------


def last_read(frame: PageFrame, valve: str) -> Markup | None:
    """The last value of each subject with its verdict."""
    values = newest(frame.results.by_valve.get(valve, ())).values()
    return element("div", *(_last(frame.words, each) for each in values)) if values else None


def _last(words: PageWords, each: Judged) -> Markup:
    said = words("last read", value=each.measured.shown, when=each.measured.when[:10])
    return verdict_line(words, each, f"{title(words, each)}: {said}. ")


def verdict_line(words: PageWords, each: Judged, before: str = "") -> Markup:
    finding = each.finding
    said: list[Child] = [before, words.of("verdict", finding.name, **finding.values)]
    sign = SIGNS[finding.outcome]
    if each.outdated_by is not None:
        sign = SIGNS[Outcome.UNKNOWN]
        said.append(f" {outdated(words, each)}")
    return element("p", element("b", sign, class_="sign", aria_hidden="true"), *said, class_="said")


def outdated(words: PageWords, each: Judged) -> str:
    name = "read before" if each.valve else "read before of a conductor"
    return words(name, revision=each.outdated_by)


def expected(words: PageWords, each: Judged) -> str:
    """What the box page says it should read, and between what it is taken for good."""
    valve, measured = each.valve, each.measured
    assert valve is not None
    kind = measured.kind
    band = {Kind.CONTROLLER: valve.ohms, Kind.COIL: valve.coil}.get(kind)
    if band is not None and not valve.device:
        return f"{ohms_text(band)} ({band_text(words, band)})"
    if kind is Kind.INSULATION:
        return words("sound insulation")
    if kind is Kind.VOLTS and valve.line_voltage:
        return words("line voltage")
    volts = expected_band(kind, valve, measured.under) if kind is Kind.VOLTS else None
    if volts:
        return f"{volts[0]:.1f}–{volts[1]:.1f} V"
    current = {Kind.MILLIAMPERES: valve.milliamperes, Kind.HOT_MILLIAMPERES: valve.in_hot}.get(kind)
    return f"{current} mA" if current is not None else words("not known")
