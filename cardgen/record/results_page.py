"""Set what was measured: beside the expected, with its verdict, by controller and valve."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from cardgen.asbuilt import BuiltController, BuiltValve
from cardgen.record import names
from cardgen.record.diagnosis_part import diagnosis_part
from cardgen.record.html import Child, Markup, element, joined
from cardgen.record.judging import Judged, newest
from cardgen.record.page_frame import PageFrame, document, heading, link, plain_list, section
from cardgen.record.page_parts import area, band_text, ohms_text, pair, volts_text
from cardgen.record.page_words import PageWords
from cardgen.results import Kind, Outcome, compare, oldest_first, trend

# A sign beside the sentence: nothing is told by hue.
SIGNS = {Outcome.GOOD: "✓", Outcome.LOOK: "!", Outcome.UNKNOWN: "?"}


def results_page(frame: PageFrame) -> bytes:
    """All that was read, the valves in the order of the job."""
    words, now = frame.words, frame.now
    if frame.results:
        parts = [
            element("p", _counted(frame)),
            diagnosis_part(words, now, frame.results) or _together(frame),
            *(_of_controller(frame, controller) for controller in now.controllers),
            _gone(frame),
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
    read = [valve for valve in valves if valve in frame.results]
    look = [valve for valve in read if any(map(_is_to_see, _newest(frame, valve)))]
    return frame.words("results counted", number=len(read), all=len(valves), look=len(look))


def _newest(frame: PageFrame, valve: str) -> Iterable[Judged]:
    return newest(frame.results[valve]).values()


def _is_to_see(each: Judged) -> bool:
    return each.outdated_by is not None or each.finding.outcome is Outcome.LOOK


def _together(frame: PageFrame) -> Markup | None:
    """Only values that speak of the wiring of today are compared."""
    words = frame.words
    sound = [j.measured for all_ in frame.results.values() for j in all_ if j.outdated_by is None]
    patterns = compare(oldest_first(sound), frame.now.valve)
    if not patterns:
        return None
    told = (
        element(
            "div",
            element("p", words.of("together", pattern.name, **pattern.values)),
            element("p", words.of("next", pattern.name, **pattern.values), class_="small"),
            class_="must",
        )
        for pattern in patterns
    )
    return section(words("together show"), *told)


def _of_controller(frame: PageFrame, controller: BuiltController) -> Markup | None:
    words = frame.words
    valves = _in_order(frame, controller)
    if not valves:
        return None
    unread = [valve.id for valve in valves if valve.id not in frame.results]
    parts = [_of_valve(frame, valve) for valve in valves if valve.id in frame.results]
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
    return element("div", title, *_kinds(frame, valve.id), to_place, class_="item")


def _gone(frame: PageFrame) -> Markup | None:
    """Of valves that the job has no more."""
    left = [valve for valve in frame.results if valve not in frame.now.valve]
    parts = [
        element("div", element("h3", valve), *_kinds(frame, valve), class_="item") for valve in left
    ]
    return section(frame.words("read gone"), *parts) if parts else None


def _kinds(frame: PageFrame, valve: str) -> Iterator[Markup]:
    """One kind after the other: expected, read, verdict, what to do, and how it has moved."""
    words = frame.words
    for kind, last in newest(frame.results[valve]).items():
        every = [each for each in frame.results[valve] if each.measured.kind is kind]
        facts = [
            pair(words("expected"), expected(words, kind, last.valve)),
            pair(words("was read"), f"{last.measured.shown}, {last.measured.when[:10]}"),
        ]
        yield element("h4", words.of("measured", kind))
        yield element("dl", *facts, class_="row")
        yield verdict_line(words, last)
        if last.finding.outcome is Outcome.LOOK:
            yield element("p", words.of("next", last.finding.next_name, **last.finding.values))
        if len(every) > 1:
            yield _earlier(words, every)


def _earlier(words: PageWords, every: list[Judged]) -> Markup:
    moved = trend([each.measured for each in every])
    values = (f"{each.measured.shown}, {each.measured.when[:10]}" for each in reversed(every[:-1]))
    said = words.of("trend", moved.name, **moved.values)
    return joined(element("p", f"{words('earlier')}: {said}", class_="small"), plain_list(values))


# ---- what other pages say of it too --------------------------------------------------------


def last_read(frame: PageFrame, valve: str) -> Markup | None:
    """The last value of each kind with its verdict."""
    values = newest(frame.results.get(valve, ())).values()
    return element("div", *(_last(frame.words, each) for each in values)) if values else None


def _last(words: PageWords, each: Judged) -> Markup:
    kind = words.of("measured", each.measured.kind)
    said = words("last read", value=each.measured.shown, when=each.measured.when[:10])
    return verdict_line(words, each, f"{kind}: {said}. ")


def verdict_line(words: PageWords, each: Judged, before: str = "") -> Markup:
    finding = each.finding
    said: list[Child] = [before, words.of("verdict", finding.name, **finding.values)]
    sign = SIGNS[finding.outcome]
    if each.outdated_by is not None:
        sign = SIGNS[Outcome.UNKNOWN]
        said.append(" " + words("read before", revision=each.outdated_by))
    return element("p", element("b", sign, class_="sign", aria_hidden="true"), *said, class_="said")


def expected(words: PageWords, kind: Kind, valve: BuiltValve) -> str:
    """What the box page says it should read."""
    band = {Kind.CONTROLLER: valve.ohms, Kind.COIL: valve.coil}.get(kind)
    if band is not None and not valve.device:
        return f"{ohms_text(band)} ({band_text(words, band)})"
    if kind is Kind.VOLTS and valve.line_voltage:
        return words("line voltage")
    if kind is Kind.VOLTS and valve.volts:
        return volts_text(valve.volts)
    if kind is Kind.MILLIAMPERES and valve.milliamperes is not None:
        return f"{valve.milliamperes} mA"
    return words("not known")
