"""Change names in the text of a job together with all that mentions them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby

from cardgen.editing import CannotEdit, Change, Path, Put, Rename, edited
from cardgen.editing.plain_values import PlainValues
from cardgen.job import load_text
from cardgen.job.job_parts import Job
from cardgen.problems import Span, UserError
from cardgen.reading import nodes, parse
from cardgen.reading.nodes import Node, Scalar
from cardgen.renaming.mentions import Mention, mentions
from cardgen.renaming.new_names import APART, SECTIONS, NewNames, new_names, taken
from cardgen.wiring.loads import read_name

Place = tuple[int, int]


class CannotRename(UserError):
    """What mentions the name cannot be told, or the new one is taken; nothing is changed."""


@dataclass(frozen=True, slots=True)
class RenamedText:
    """A text with changes made.

    Attributes:
        count: the places that mention a name and were changed with it.
        left: places where a name still stands: in a sentence, or in what cannot be read yet.
        names: of all things that have another name now, by section the old ones and the new.
    """

    text: str
    count: int = 0
    left: tuple[Path, ...] = ()
    names: Mapping[str, Mapping[str, str]] = field(default_factory=dict)


def edited_with_names(text: str, changes: Sequence[Change]) -> RenamedText:
    """The text with the changes in it, a `Rename` of a thing with all that mentions it.

    Raises:
        CannotRename: if a name cannot be changed everywhere.
        CannotEdit: if one of the changes cannot be done.
    """
    whole = RenamedText(text)
    for section, group in groupby(changes, key=_section_renamed):
        if not section:
            whole = replace(whole, text=edited(whole.text, list(group)))
            continue
        wanted = {str(c.path[1]): c.key for c in group if isinstance(c, Rename)}
        part = _renamed(whole.text, section, wanted)
        whole = RenamedText(
            part.text,
            whole.count + part.count,
            (*whole.left, *part.left),
            {**whole.names, **part.names},
        )
    return whole


def _section_renamed(change: Change) -> str:
    """Of a `Rename` of a thing its section; empty for every other change."""
    if not isinstance(change, Rename) or len(change.path) != 2:
        return ""
    section = str(change.path[0])
    return section if section in (*SECTIONS, *APART) else ""


def _renamed(text: str, section: str, wanted: Mapping[str, str]) -> RenamedText:
    root, _ = parse(text, "")
    job, _ = load_text(text, "")
    if job is None:
        raise CannotRename(
            "the job cannot be read so far, so what mentions the name is not known",
            "correct what is wrong first, or change the name alone",
        )
    new = new_names(job, section, wanted)
    for old, name in taken(job, new):
        raise CannotRename(
            f"'{old}' would become '{name}', which is there already", "choose another name"
        )
    found = {_place(mention.span): mention for mention in mentions(job, new)}
    changes: list[Change] = [
        *_values(root, found),
        *_lands(new),
        *(
            Rename(path=("joints", place), key=new.names[place])
            for place in job.joints
            if place in new.names
        ),
        *(Rename(path=path, key=name) for path, name in new.keys.items()),
    ]
    left = tuple(_left(job, root, found, new))
    count = len(found) + len(new.keys) - len(wanted)
    try:
        return RenamedText(edited(text, changes), count, left, new.of_sections)
    except CannotEdit as fault:
        raise CannotRename(fault.sentence, fault.help) from fault


def _values(root: Node | None, found: Mapping[Place, Mention]) -> Iterator[Put]:
    """A list in which one item becomes several is put as a whole."""
    texts = {
        path: found[_place(scalar.span)].texts
        for path, scalar in _scalars(root, ())
        if _place(scalar.span) in found
    }
    values, whole = PlainValues(root), set[Path]()
    for path, then in texts.items():
        *before, last = path
        holder = tuple(before)
        if len(then) == 1 and holder not in whole:
            yield Put(path=path, value=then[0])
        elif not isinstance(last, int):
            yield Put(path=path, value=then)
        elif holder not in whole:
            whole.add(holder)
            items = values.at(holder)
            parts = (texts.get((*holder, at), (item,)) for at, item in enumerate(items))
            yield Put(path=holder, value=[text for part in parts for text in part])


def _lands(new: NewNames) -> Iterator[Put]:
    for station, keys in new.lands.items():
        for key, text in keys.items():
            yield Put(path=("stations", station, key), value=text)


def _scalars(node: Node | None, path: Path) -> Iterator[tuple[Path, Scalar]]:
    """What is repeated by a `*` at the place where it is written."""
    if isinstance(node, Scalar):
        yield path, node
    elif isinstance(node, nodes.Sequence):
        for at, item in enumerate(node.items):
            yield from _scalars(item, (*path, at))
    elif node is not None:
        for entry in node.entries:
            yield from _scalars(entry.value, (*path, entry.key.text))


def _left(
    job: Job, root: Node | None, found: Mapping[Place, Mention], new: NewNames
) -> Iterator[Path]:
    """Where a name stands that is not changed: in what is printed as it stands, or not read yet."""
    old = "|".join(map(re.escape, new.names))
    if not old:
        return
    word = re.compile(rf"(?<![\w.-])(?:{old})(?![\w-]|\.\w)")
    for station in sorted(job.unread):
        if read_name(station)[0] in new.names and station not in new.names:
            yield "stations", station
    printed = {_place(text.span) for text in job.texts}
    for path, scalar in _scalars(root, ()):
        place = _place(scalar.span)
        is_unread = any(part in job.unread for part in path)
        if place not in found and (place in printed or is_unread) and word.search(scalar.text):
            yield path


def _place(span: Span) -> Place:
    return span.line, span.column
