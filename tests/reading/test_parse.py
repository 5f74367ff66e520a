"""Text that YAML cannot read, or reads as something that nobody meant."""

from __future__ import annotations

import time
from importlib import import_module

import pytest
import yaml

from cardgen.reading.nodes import Mapping, Node, Scalar, Sequence
from cardgen.reading.parse import DEEPEST, parse
from tests.jobs import Found, found_in, well_said


def faults(text: str) -> list[Found]:
    _, problems = parse(text, "job.yaml")
    return found_in(tuple(well_said(problem) for problem in problems))


def plain(node: Node | None) -> object:
    """The node as lists, pairs and text."""
    if isinstance(node, Scalar):
        return node.text
    if isinstance(node, Sequence):
        return [plain(item) for item in node.items]
    assert node is not None
    return {entry.key.text: plain(entry.value) for entry in node.entries}


NOT_YAML: dict[str, tuple[str, Found, str]] = {
    "bracket never closed": ("a: [b, c\nd: e", ("not-yaml", 1, 4), "bracket"),
    "brace never closed": ("a: {b: c\nd: e", ("not-yaml", 1, 4), "bracket"),
    "two colons": ("a: b: c", ("not-yaml", 1, 5), "quotes"),
    "comma missing in a second line": ("a: {b: c,\n  d: e f: g}", ("not-yaml", 2, 9), "comma"),
    "comma missing": ("a: {b: c d: e}", ("not-yaml", 1, 11), "comma"),
    "two commas": ("a: [b, , c]", ("not-yaml", 1, 8), "comma"),
    "quote never closed": ('a: "b\nc: d\n', ("not-yaml", 1, 4), "close it"),
    "quote within quotes": ("a: 'front's lawn'", ("not-yaml", 1, 11), "quote"),
    "at sign": ("a: @b", ("not-yaml", 1, 4), "quotes"),
    "per cent sign": ("a: %b", ("not-yaml", 1, 4), "quotes"),
    "back quote": ("a: `b`", ("not-yaml", 1, 4), "quotes"),
    "line not indented enough": ("a:\n    b: c\n  d: e\n", ("not-yaml", 3, 3), "column 5"),
    "line without a colon": ("a: b\nc\nd: e\n", ("not-yaml", 2, 1), "':'"),
    "list after a value": ("a: b\n- c\n", ("not-yaml", 2, 1), "indentation"),
    "list in the line of its key": ("a: - b\n", ("not-yaml", 1, 4), "own line"),
    "backslash in double quotes": (r'a: "b\c"', ("not-yaml", 1, 6), "single quotes"),
    "star that is no alias": ("a: * b", ("not-yaml", 1, 5), "quotes"),
    "value under a value": ("a: b\n  c: d\n", ("not-yaml", 2, 3), "column 1"),
    "version of YAML to come": ("%YAML 9.9\n---\na: b", ("not-yaml", 1, 1), "line above"),
    "tab before a key": ("a:\n\tb: c", ("tab", 2, 1), "spaces"),
    "tab after blanks": ("a:\n  b: c\n \td: e", ("tab", 3, 2), "spaces"),
    "empty brackets as a start": ("]", ("not-yaml", 1, 1), "bracket"),
}


@pytest.mark.parametrize("case", NOT_YAML)
def test_not_yaml(case: str) -> None:
    text, found, way_out = NOT_YAML[case]
    root, problems = parse(text, "job.yaml")
    assert root is None
    assert found_in(tuple(well_said(problem) for problem in problems)) == [found]
    assert way_out in problems[0].help


@pytest.mark.parametrize("case", NOT_YAML)
def test_not_yaml_where_pyyaml_has_no_libyaml(case: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Its own reader puts some places elsewhere, and takes one of the texts."""
    monkeypatch.setattr(import_module("cardgen.reading.parse"), "_LOADER", yaml.SafeLoader)
    root, problems = parse(NOT_YAML[case][0], "job.yaml")
    assert (root is None) == bool(problems)
    for problem in problems:
        well_said(problem)


def test_where_it_began_is_shown_too() -> None:
    _, (problem,) = parse("a:\n  - b\n  c: d\n", "job.yaml")
    assert [(also.span.line, also.span.column) for also in problem.also] == [(2, 3)]


def test_only_comments() -> None:
    assert faults("# a job\n") == [("file-empty", 1, 1)]


def test_second_document() -> None:
    assert faults("a: b\n---\nc: d\n") == [("second-document", 2, 1)]


def test_first_document_may_have_its_line() -> None:
    assert faults("---\na: b\n") == []


@pytest.mark.parametrize("value", ["!!python/object/apply:os.system [ls]", "!b c", "!!int 8"])
def test_tag(value: str) -> None:
    assert faults(f"a: {value}\n") == [("yaml-tag", 1, 4)]


@pytest.mark.parametrize("opening", ["[", "{a: "])
def test_nested_too_deep(opening: str) -> None:
    column = DEEPEST * len(opening) + 1
    assert faults(opening * 300) == [("nested-too-deep", 1, column)]


def test_nested_deeper_than_yaml_itself_can() -> None:
    assert faults("[" * 100_000) == [("not-yaml", 1, 1001)]


def test_nested_too_deep_by_indentation() -> None:
    text = "\n".join(" " * depth + "a:" for depth in range(500))
    assert faults(text) == [("nested-too-deep", DEEPEST + 1, DEEPEST + 1)]


def test_nested_as_deep_as_allowed() -> None:
    assert faults("[" * DEEPEST + "]" * DEEPEST) == []


def test_alias() -> None:
    root, problems = parse("a: &x {b: c}\nd: *x\n", "job.yaml")
    assert plain(root) == {"a": {"b": "c"}, "d": {"b": "c"}}
    assert problems == ()


def test_alias_of_nothing() -> None:
    assert faults("a: *b\n") == [("alias-unknown", 1, 4)]


def test_alias_of_itself() -> None:
    assert faults("a: &a [*a]\n") == [("alias-unknown", 1, 8)]


def test_alias_bomb() -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, 30)]
    start = time.monotonic()
    assert faults("\n".join(lines)) == [("too-many-values", 6, 5)]
    assert time.monotonic() - start < 1


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("a: b\na: c\n", ("duplicate-key", 2, 1)),
        ("x: {a: b, a: c}\n", ("duplicate-key", 1, 11)),
        ("1: b\n1: c\n", ("duplicate-key", 2, 1)),
        ("a: b\n'a': c\n", ("duplicate-key", 2, 1)),
        ("[a, b]: c\n", ("key-not-text", 1, 1)),
        ("? {a: b}\n: c\n", ("key-not-text", 1, 3)),
        ("a: {? : b}\n", ("key-not-text", 1, 7)),
    ],
)
def test_keys(text: str, found: Found) -> None:
    assert faults(text) == [found]


def test_duplicate_key_shows_the_first_and_keeps_it() -> None:
    root, (problem,) = parse("a: b\nc: d\na: e\n", "job.yaml")
    assert plain(root) == {"a": "b", "c": "d"}
    assert [(also.span.line, also.span.column) for also in problem.also] == [(1, 1)]


def test_keys_that_differ_in_case_are_two() -> None:
    assert faults("a: b\nA: c\n") == []


@pytest.mark.parametrize(
    "text",
    [
        *("no", "on", "yes", "off", "true", "1:30", "0x1A", "08", "1e3", "~", "null", "NULL"),
        *("2026-03-14", "2026-03-14 10:00:00", "1_000", "0b1", ".inf", ".nan", "+1", "=", "1.50"),
    ],
)
def test_what_yaml_might_take_for_something_else_stays_text(text: str) -> None:
    root, problems = parse(f"{text}: {text}\nlist: [{text}]\n", "job.yaml")
    assert plain(root) == {text: text, "list": [text]}
    assert problems == ()


def test_places() -> None:
    root, _ = parse("a:\n  - 'bc'\n  - {d: é e}\n", "job.yaml")
    assert isinstance(root, Mapping)
    items = root.entries[0].value
    assert isinstance(items, Sequence)
    quoted, mapping = items.items
    assert isinstance(quoted, Scalar) and quoted.quoted
    assert isinstance(mapping, Mapping)
    places = [quoted.span, mapping.entries[0].key.span, mapping.entries[0].value.span]
    assert [(p.line, p.column, p.length) for p in places] == [(2, 5, 4), (3, 6, 1), (3, 9, 3)]


def test_nothing_after_the_colon_is_not_the_same_as_empty_quotes() -> None:
    root, _ = parse("a:\nb: ''\n", "job.yaml")
    assert isinstance(root, Mapping)
    values = [entry.value for entry in root.entries]
    assert [isinstance(v, Scalar) and (v.text, v.quoted) for v in values] == [
        ("", False),
        ("", True),
    ]


def test_windows_line_ends_change_nothing() -> None:
    text = "a: b\nc:\n  - d # e\n  - f\n"
    assert plain(parse(text, "x")[0]) == plain(parse(text.replace("\n", "\r\n"), "x")[0])


@pytest.mark.parametrize(
    "text", ["a: \0", "\x1b", "a: \ud800", "a: \x7f", "\ufffe", "a\x0b: b"], ids=ascii
)
def test_characters_that_no_file_may_hold(text: str) -> None:
    assert [code for code, *_ in faults(text)] == ["not-text"]
