"""Show changes of a job to a person, one line for each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from cardgen.editing import Change, Put, Remove, Value
from cardgen.reading import nodes
from cardgen.reading.nodes import Node, Scalar, short

Path = tuple[str | int, ...]


class KeyNames:
    """What keys are called in such a line: here as the file has them."""

    nothing = "nothing"

    def key(self, path: Path) -> str:
        """The last key of a path."""
        return str(path[-1])

    def leg(self, one: str, two: str) -> str:
        """Of a run, between two places."""
        return f"{one} to {two}"


def change_lines(
    changes: Sequence[Change], root: Node, names: KeyNames | None = None
) -> Iterator[str]:
    """`stations A1 area: front lawn -> front lawn west`; `root` is the job before."""
    shower = _ChangeShower(root, names or KeyNames())
    for change in changes:
        if isinstance(change, (Put, Remove)):
            yield shower.line(change)


class _ChangeShower:
    def __init__(self, root: Node, names: KeyNames) -> None:
        self._root, self._names = root, names

    def line(self, change: Put | Remove) -> str:
        path = tuple(change.path)
        before = self._shown(_at(self._root, path), path)
        after = self._names.nothing
        if isinstance(change, Put):
            after = self._in_line(change.value, path)
        return f"{self._way(path)}: {before} -> {after}"

    def _way(self, path: Path) -> str:
        """The keys; of a list the number of the thing in it, and of a run the leg."""
        parts: list[str] = []
        for number, key in enumerate(path):
            if isinstance(key, int):
                parts.append(self._leg(path, number) or f"({key + 1})")
            else:
                parts.append(self._names.key(path[: number + 1]))
        return " ".join(parts)

    def _leg(self, path: Path, number: int) -> str:
        """`A to VB-1`: a length in a run stands between two places."""
        run, key = _at(self._root, path[:number]), path[number]
        if number == 0 or path[number - 1] != "run" or not isinstance(run, nodes.Sequence):
            return ""
        assert isinstance(key, int)
        if key % 2 == 0 or key + 1 >= len(run.items):
            return ""
        one, two = (self._shown(run.items[at], path) for at in (key - 1, key + 1))
        return self._names.leg(one, two)

    def _shown(self, node: Node | None, path: Path) -> str:
        return self._names.nothing if node is None else short(self._in_line(_plain(node), path))

    def _in_line(self, value: Value, path: Path) -> str:
        return in_line(value, self._names, path)


def in_line(value: Value, names: KeyNames, path: Path = ()) -> str:
    if isinstance(value, str):
        return value or names.nothing
    if isinstance(value, Mapping):
        return ", ".join(
            f"{names.key((*path, key))}: {in_line(each, names, (*path, key))}"
            for key, each in value.items()
        )
    return ", ".join(in_line(each, names, path) for each in value)


def _at(node: Node, path: Path) -> Node | None:
    found: Node | None = node
    for key in path:
        if isinstance(key, int):
            items = found.items if isinstance(found, nodes.Sequence) else ()
            found = items[key] if key < len(items) else None
        else:
            entries = found.entries if isinstance(found, nodes.Mapping) else ()
            found = next((e.value for e in entries if e.key.text == key), None)
    return found


def _plain(node: Node) -> Value:
    if isinstance(node, Scalar):
        return " ".join(node.text.split())
    if isinstance(node, nodes.Sequence):
        return [_plain(item) for item in node.items]
    return {entry.key.text: _plain(entry.value) for entry in node.entries}
