"""Random texts of a job in many styles, random changes, and what each must do to plain values."""

from __future__ import annotations

import copy
import json
from collections import Counter
from collections.abc import Iterator
from random import Random
from typing import Any

import yaml

from cardgen.editing import Change, Path, Put, Remove, Rename
from tests.jobs import SAMPLES, sample

WORDS = (
    *("", "x", "front lawn, west", "a: b", "a #b", "- x", "-", "*a", "&a", "!a", "%a", "@a", "`a"),
    *("'a'", '"a"', "it's", 'say "so"', "{a}", "[a]", "a,b", "a]", " a", "a ", "a\tb", "a\nb", "~"),
    *("no", "null", "1E5", "017", "2026-01-02", "3 1/2 in", "60'", "1,050 ft", "é ñ 🌳", "a\\b"),
    *("a\u00a0b", "\u2019", "a\x07b", "?", "? a", "a?", ":", "a:", ":a", "a:b", "---", "...", "<<"),
    *(
        "-12/+17 %",
        "|",
        ">",
        "#",
        "a:[b",
        "C:\\x",
        "\ufeff",
        "'",
        '"',
        "a  b",
        "=",
        "https://a.b:1/c",
    ),
)
NAMES = ("A1", "hot", "VB-9", "x y", "a: b", "a,b", "1", "#", "'", "- a", "área", "?", "[a", "a:")


def values_of(text: str) -> Any:
    """What PyYAML reads, every value as text; nothing after a colon is an empty text."""
    data = yaml.load(text, Loader=yaml.CBaseLoader)  # noqa: S506 — it makes texts only
    return json.loads(json.dumps(data or {}))  # what '*' repeats is a value of its own


def random_text(rng: Random) -> str:
    """A sample, as it is or in another style, with remarks and blank lines strewn in."""
    text = sample(rng.choice(SAMPLES))
    style = rng.randrange(6)
    if style == 1:
        text = json.dumps(values_of(text), indent=rng.choice((None, 1, 4)), ensure_ascii=False)
    elif style >= 2:
        text = yaml.dump(
            _some(values_of(text), rng),
            Dumper=yaml.CSafeDumper,
            default_flow_style=rng.choice((False, False, True, None)),
            indent=rng.choice((2, 2, 3, 4)),
            width=rng.choice((30, 80, 1000)),
            allow_unicode=True,
            sort_keys=False,
            default_style=rng.choice((None, None, None, "'", '"', "|", ">")),
        )
        if style >= 4:
            text = _with_remarks(text, rng)
    if rng.random() < 0.2:
        text = text.rstrip("\n")
    return text.replace("\n", rng.choice(("\n", "\n", "\r\n", "\r")))


def _some(data: Any, rng: Random) -> Any:
    """Some of its sections, a few entries of each, so that what is rare gets frequent.

    Sometimes a value is there twice, which is written as an anchor and what repeats it.
    """
    sections = rng.sample(list(data), rng.randint(1, len(data)))
    some = {
        key: dict(rng.sample(list(value.items()), min(len(value), 4)))
        if isinstance((value := data[key]), dict)
        else value
        for key in sections
    }
    if rng.random() < 0.3:
        again = at(some, rng.choice([path for path in places(some) if len(path) > 1] or [()]))
        some[sections[-1]] = {"one": again, "two": [again], "three": some[sections[-1]]}
    return some


def _with_remarks(text: str, rng: Random) -> str:
    """Only where each line is whole: nothing within quotes or a block of text."""
    lines = text.splitlines()
    for _ in range(rng.randint(1, 6)):
        number = rng.randrange(len(lines))
        line = lines[number]
        above = ("", "# a remark", line[: len(line) - len(line.lstrip())] + "# b")
        old = list(lines)
        if rng.random() < 0.5:
            lines.insert(number, rng.choice(above))
        else:
            lines[number] += rng.choice(("  # c: {d", "\t# e"))
        try:
            is_whole = values_of("\n".join(lines)) == values_of(text)
        except yaml.YAMLError:
            is_whole = False
        lines = lines if is_whole else old
    return "\n".join(lines) + "\n"


def places(data: Any, path: Path = ()) -> list[Path]:
    """The paths of all that there is."""
    found = [path] if path else []
    if isinstance(data, dict):
        for key, value in data.items():
            found += places(value, (*path, key))
    elif isinstance(data, list):
        for number, value in enumerate(data):
            found += places(value, (*path, number))
    return found


def at(data: Any, path: Path) -> Any:
    for part in path:
        data = data[part]
    return data


def random_value(rng: Random, depth: int = 0) -> Any:
    kind = rng.randrange(8 if depth < 3 else 5)
    if kind < 5:
        return rng.choice(WORDS)
    count = rng.randrange(4)
    if kind == 5:
        return [random_value(rng, depth + 1) for _ in range(count)]
    return {rng.choice(NAMES): random_value(rng, depth + 1) for _ in range(count)}


def like(value: Any, rng: Random) -> Any:
    """The same with something other in it."""
    value = copy.deepcopy(value)
    inner = rng.choice(places({"all": value})[1:] or [("all",)])
    if len(inner) == 1:
        return random_value(rng)
    holder: Any = at({"all": value}, inner[:-1])
    if rng.random() < 0.3:
        del holder[inner[-1]]
    elif isinstance(holder, list) and rng.random() < 0.5:
        holder.insert(len(holder) // 2, random_value(rng, 2))
    else:
        holder[inner[-1]] = random_value(rng, 2)
    return value


def random_change(data: Any, rng: Random) -> Change:
    """One that can be done to these values."""
    path = rng.choice(places(data) or [()])
    kind = rng.randrange(6)
    if not path:
        return Put(path=(rng.choice(NAMES),), value=random_value(rng))
    holder = at(data, path[:-1])
    if kind == 0:
        return Remove(path=path)
    if kind == 1 and isinstance(holder, dict):
        new = [name for name in NAMES if name not in holder]
        return Rename(path=path, key=rng.choice(new))
    if kind == 2:
        return Put(path=path, value=like(at(data, path), rng))
    if kind == 3:
        return Put(path=path, value=random_value(rng))
    inside = at(data, path)
    if isinstance(inside, list):
        return Put(path=(*path, len(inside)), value=random_value(rng))
    if isinstance(inside, dict):
        after = rng.choice(["", *inside])
        new = [name for name in NAMES if name not in inside]
        return Put(path=(*path, rng.choice(new)), value=random_value(rng), after=after)
    return Put(path=path, value=random_value(rng))


def changed(data: Any, change: Change) -> Any:
    """The values after it."""
    data = copy.deepcopy(data)
    holder, last = at(data, change.path[:-1]), change.path[-1]
    if isinstance(change, Remove):
        del holder[last]
    elif isinstance(change, Rename):
        holder[change.key] = holder.pop(last)
    elif isinstance(holder, list) and last == len(holder):
        holder.append(change.value)
    else:
        holder[last] = change.value
    return data


def untouched(text: str, change: Change) -> tuple[list[str], list[str]]:
    """The lines before and after the place of a change, which it must leave as they are.

    Of what comes or goes the neighbors are its place, too, for a comma may come or go there.
    """
    lines = text.splitlines(keepends=True)
    node: yaml.Node | None = yaml.compose(text, Loader=yaml.CSafeLoader)
    begin, end = 0, len(lines)
    for number, part in enumerate(change.path):
        entries = _entries(node)
        spans = [_lines_of(key, value) for key, value in entries]
        keys = [key.value if key else index for index, (key, _) in enumerate(entries)]
        if part not in keys:
            after = change.after if isinstance(change, Put) else ""
            at_last = keys.index(after) if after in keys else len(keys) - 1
            begin, end = spans[at_last] if spans else (begin, end)
            break
        place = keys.index(part)
        node = entries[place][1]
        is_removed = isinstance(change, Remove) and number == len(change.path) - 1
        if not is_removed:
            begin, end = spans[place]
        elif len(spans) > 1:
            begin, end = spans[max(place - 1, 0)][0], spans[min(place + 1, len(spans) - 1)][1]
    return lines[:begin], lines[end:]


def is_repeated(text: str, change: Change) -> bool:
    """Its place is on the way to, or within, what a `*` stands for: PyYAML has one node for it."""
    root = yaml.compose(text, Loader=yaml.CSafeLoader)
    counts = Counter(map(id, _nodes(root)))
    node = root
    for part in change.path:
        inner = {key.value if key else i: value for i, (key, value) in enumerate(_entries(node))}
        if part not in inner:
            return counts[id(node)] > 1
        if counts[id(node)] > 1:
            return True
        node = inner[part]
    return any(counts[id(each)] > 1 for each in _nodes(node))


def _nodes(node: yaml.Node | None) -> Iterator[yaml.Node]:
    if node is not None:
        yield node
        for _, value in _entries(node):
            yield from _nodes(value)


def _entries(node: yaml.Node | None) -> list[tuple[yaml.Node | None, yaml.Node]]:
    if isinstance(node, yaml.MappingNode):
        return list(node.value)
    return [(None, item) for item in node.value] if isinstance(node, yaml.SequenceNode) else []


def _lines_of(key: yaml.Node | None, value: yaml.Node) -> tuple[int, int]:
    """From its first line to before the one after its last."""
    begin = (key or value).start_mark.line
    last = value
    while isinstance(last, yaml.CollectionNode) and not last.flow_style:
        last = _entries(last)[-1][1]
    end: int = last.end_mark.line + (last.end_mark.column > 0)
    return begin, max(end, begin + 1)
