"""Set the page on which everything of the job stands in words, to be found without a server."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from cardgen.asbuilt import BuiltSpare, BuiltValve
from cardgen.record import names
from cardgen.record.html import Markup, element, joined
from cardgen.record.page_assets import FIND
from cardgen.record.page_frame import PageFrame, document, heading, link, section
from cardgen.record.page_parts import area, in_words, lands


class FindRow(NamedTuple):
    """A link with its words; `code` is what stands beside the symbol on a tag."""

    title: str
    folder: str
    about: str
    code: str


def find_page(frame: PageFrame) -> bytes:
    """All rows, usable without script; the field above them only hides."""
    words = frame.words
    groups = (
        (words("valves"), _valves(frame)),
        (words("boxes"), _boxes(frame)),
        (words("controllers"), _controllers(frame)),
        (words("spare list"), _spares(frame, dead=False)),
        (words("dead list"), _spares(frame, dead=True)),
    )
    return document(
        frame,
        names.FIND,
        words("find title", site=frame.now.site),
        heading(frame, words("find")),
        _field(frame),
        *(_group(title, rows) for title, rows in groups),
        script=FIND,
    )


def _field(frame: PageFrame) -> Markup:
    words = frame.words
    label = element("label", words("find hint"), for_="field")
    field = element(
        "input",
        id="field",
        type="search",
        class_="field",
        autocomplete="off",
        autocapitalize="none",
        spellcheck="false",
    )
    return joined(
        element("div", label, field, id="form", hidden=True),
        element("p", words("find none"), id="none", class_="must", hidden=True),
        element("noscript", element("p", words("find how"))),
    )


def _group(title: str, found: Iterator[FindRow]) -> Markup | None:
    rows = [_row(row) for row in found]
    if not rows:
        return None
    return element("div", section(title, element("ul", *rows, class_="list")), data_group="")


def _row(row: FindRow) -> Markup:
    about = " · ".join(part for part in (row.about, row.code) if part)
    to_place = link(row.title, f"../{names.page(row.folder)}", about)
    return element("li", to_place, data_find=f"{row.title} {about}".lower())


def _valves(frame: PageFrame) -> Iterator[FindRow]:
    for valve in frame.now.valves:
        about = f"{valve.box} · {_of_valve(frame, valve)}"
        title = f"{valve.id} {area(frame.words, valve)}"
        folder = names.box_folder(valve.box)
        yield FindRow(title, folder, about, f"{frame.now.key}/{folder}")


def _of_valve(frame: PageFrame, valve: BuiltValve) -> str:
    words = frame.words
    shown = dict.fromkeys(m for m in (valve.hot, valve.hot_at_controller) if m is not None)
    parts = [in_words(words, mark) for mark in shown]
    if valve.hot_unknown and not (valve.hot and valve.hot_at_controller):
        parts.append(words.of("terms", "wire not known"))
    if valve.decoder:
        parts.append(words("decoder", decoder=valve.decoder.id, address=valve.decoder.address))
    else:
        parts.append(lands(words, valve))
    return " · ".join(parts)


def _boxes(frame: PageFrame) -> Iterator[FindRow]:
    for box in frame.now.boxes:
        folder = names.box_folder(box.id)
        about = " · ".join(part for part in (box.where, frame.words.box_kind(box.kind)) if part)
        yield FindRow(box.id, folder, about, f"{frame.now.key}/{folder}")


def _controllers(frame: PageFrame) -> Iterator[FindRow]:
    for controller in frame.now.controllers:
        folder = names.box_folder(controller.id)
        title = frame.words("controller", controller=controller.id)
        yield FindRow(title, folder, controller.where, f"{frame.now.key}/{folder}")


def _spares(frame: PageFrame, *, dead: bool) -> Iterator[FindRow]:
    for spare in frame.now.spares:
        if spare.dead is dead:
            yield FindRow(spare.id, names.SPARES, _of_spare(frame, spare), "")


def _of_spare(frame: PageFrame, spare: BuiltSpare) -> str:
    runs = frame.words("runs", first=spare.first, last=spare.last)
    return f"{in_words(frame.words, spare.mark)} · {runs}"
