"""Tell the holder of an older tag what changed for this box since, and where things went."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from cardgen.asbuilt import AsBuilt, Band, BuiltBox, BuiltSpare, ConductorMark
from cardgen.asbuilt.model.built_boxes import Neighbor, Passing
from cardgen.asbuilt.model.built_valves import BuiltDecoder, Elsewhere
from cardgen.memory.changes import Difference, changes
from cardgen.record import names
from cardgen.record.html import Markup, element
from cardgen.record.page_frame import PageFrame, document, heading, link, plain_list, section, ul
from cardgen.record.page_parts import (
    area,
    by_cable,
    decoder_text,
    flagged,
    in_words,
    ohms_text,
    volts_text,
)
from cardgen.record.page_words import PageWords

ANCHOR = "older"
TOLD = 8  # different states that are told in full, so that a page stays small


def _earlier(frame: PageFrame, box: str) -> list[tuple[AsBuilt, tuple[Difference, ...]]]:
    """Revisions before the newest, newest first, each with what changed since."""
    found = [(r, changes(box, r, frame.now)) for r in reversed(frame.all) if r is not frame.now]
    return [(r, c) for r, c in found if box in r.box or box in frame.now.box]


def alarm(frame: PageFrame, box: str) -> Markup:
    """At the top: which revision the tag must bear."""
    words, number = frame.words, frame.now.revision
    text = element("p", words("tag", revision=number))
    then = (found for revision, found in _earlier(frame, box) if box in revision.box)
    if not any(change.is_on_tags for found in then for change in found):
        return text
    warned = words("tag wrong", revision=number)
    return element(
        "div", element("p", warned), link(words("what changed"), f"#{ANCHOR}"), class_="alarm"
    )


def history(frame: PageFrame, box: str) -> Markup:
    """By revision what changed since; revisions that say the same stand together."""
    words = frame.words
    groups = groupby(_earlier(frame, box), key=lambda pair: pair[1])
    parts: list[Markup] = []
    for number, (found, group) in enumerate(groups):
        numbers = ", ".join(str(revision.revision) for revision, _ in group)
        parts += _group(words, numbers, found, in_full=number < TOLD)
    if not parts:
        parts.append(element("p", words("first")))
    parts.append(element("p", words("newer", revision=frame.now.revision), class_="small"))
    return section(words("older", revision=frame.now.revision), *parts, id=ANCHOR)


def _group(
    words: PageWords, numbers: str, found: tuple[Difference, ...], *, in_full: bool
) -> Iterator[Markup]:
    """Revisions since which the same has changed."""
    due = any(change.is_on_tags for change in found)
    if not found or not (due or in_full):
        yield element("p", words("same since", revisions=numbers))
    elif not in_full:
        yield element("p", words("out of date", revisions=numbers))
    else:
        new = found == (Difference(what="new"),)
        title = "in revision" if new else "changed since" if due else "changed beside"
        yield element("h3", words(title, revisions=numbers))
        yield plain_list(sentence_of(words, change) for change in found)


# ---- changes in words ----------------------------------------------------------------------


def sentence_of(words: PageWords, change: Difference) -> str:
    """One change as a sentence."""
    match change.what:
        case "new" | "gone":
            return words(f"change {change.what}")
        case "left":
            key = "change left" if change.after else "change left nowhere"
            return words(key, valve=change.valve, after=change.after)
        case "came":
            key = "change came" if change.before else "change came new"
            return words(key, valve=change.valve, before=change.before)
    what = words(f"what {change.what}")
    values = change.before, change.after
    before, after = (_shown(words, change.what, each) for each in values)
    if before == after:  # a spare that goes further, or less far
        before, after = (_shown(words, change.what, each, told_apart=True) for each in values)
    if before is None or after is None:
        return words("others now", what=what)
    if change.valve:
        return words("change of", valve=change.valve, what=what, before=before, after=after)
    return words("changed", what=what, before=before, after=after)


def _shown(words: PageWords, what: str, value: object, *, told_apart: bool = False) -> str | None:
    """A value in words; None for what is too long to be told in a line."""
    match value:
        case None | () | "":
            unknown = what in ("ohms", "volts", "hot", "hot_at_controller", "back")
            return words("not known" if unknown else "nothing")
        case str() if what == "kind":
            return words(f"kind {value}") if words.has(f"kind {value}") else words.box_kind(value)
        case str() if what == "water":
            return words.of("cautions", value)
        case tuple() if what == "polarity":
            return ", ".join(words.color(color) for color in value)
        case bool():
            return words("yes" if value else "no")
        case ConductorMark():
            return in_words(words, value)
        case Band():
            return ohms_text(value)
        case BuiltDecoder():
            return decoder_text(words, value)
        case tuple() if what == "volts":
            return volts_text(value)
        case tuple() if what == "milliamperes":
            return None
        case tuple():
            parts = [_part(words, each, told_apart=told_apart) for each in value]
            return None if None in parts else ", ".join(part for part in parts if part)
    return str(value)


def _part(words: PageWords, value: object, *, told_apart: bool = False) -> str | None:
    match value:
        case str():
            return value
        case Elsewhere():
            return words("other", valve=value.id, box=value.box)
        case BuiltSpare() if told_apart:
            return (
                f"{_name(words, value.mark)} ({words('runs', first=value.first, last=value.last)})"
            )
        case BuiltSpare() | Passing():
            return _name(words, value.mark)
        case Neighbor():
            return f"{value.place}, {by_cable(words, value)}"
    return None


def _name(words: PageWords, mark: ConductorMark) -> str:
    return flagged(words, f"{mark.cable} {words.color(mark.word)}", mark)


# ---- boxes that are gone -------------------------------------------------------------------


def gone_page(frame: PageFrame, box: BuiltBox, last: AsBuilt) -> bytes:
    """A box that the newest revision does not have: that it is gone, and where things went."""
    words, now = frame.words, frame.now
    gone = words("gone title", thing=box.id, revision=now.revision)
    told = words("gone", last=last.revision, date=last.date, thing=box.id)
    went = [sentence_of(words, c) for c in changes(box.id, last, now) if c.what != "gone"]
    targets = dict.fromkeys(
        now.valve[valve.id].box for valve in box.valves if valve.id in now.valve
    )
    links = [link(name, f"../{names.page(names.box_folder(name))}") for name in targets]
    return document(
        frame,
        names.box_folder(box.id),
        words("box title", box=box.id, site=now.site),
        heading(frame, box.id, box.where),
        element("div", element("p", gone), element("p", told), class_="alarm"),
        section(words("went"), plain_list(went or [words("nothing")]), ul(links)),
        section(words("then", last=last.revision), plain_list(_then(words, box))),
        history(frame, box.id),
    )


def gone_thing_page(frame: PageFrame, folder: str, thing: str, last: AsBuilt) -> bytes:
    """A station or controller that the newest revision does not have."""
    words, now = frame.words, frame.now
    gone = words("gone title", thing=thing, revision=now.revision)
    told = words("gone", last=last.revision, date=last.date, thing=thing)
    return document(
        frame,
        folder,
        words("box title", box=thing, site=now.site),
        heading(frame, thing),
        element("div", element("p", gone), element("p", told), class_="alarm"),
    )


def _then(words: PageWords, box: BuiltBox) -> Iterator[str]:
    for valve in box.valves:
        hot = in_words(words, valve.hot) if valve.hot else ""
        yield " · ".join(part for part in (valve.id, area(words, valve), hot) if part)
    if not box.valves:
        yield words("no valves")
