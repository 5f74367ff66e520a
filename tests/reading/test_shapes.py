"""Small readers, each with what it takes, what it refuses, and the schema that says the same."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import pytest

from cardgen.problems import Span
from cardgen.reading.nodes import Mapping, Node
from cardgen.reading.parse import parse
from cardgen.reading.shapes import (
    IDENTIFIER,
    LONGEST_TEXT,
    TEXT,
    YES_NO,
    BlockShape,
    Field,
    ListOf,
    OneOf,
    Report,
    SaidShape,
    Shape,
    TableOf,
    Whole,
    Written,
    either,
    nearest,
    nearest_one,
)
from tests.jobs import Found, found_in, well_said


@dataclass(frozen=True, kw_only=True)
class Thing:
    span: Span
    name: str
    size: int | None
    tags: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class NamedThing(Thing):
    id: str


def fields() -> tuple[Field[str], Field[int], Field[tuple[str, ...]]]:
    return (
        Field("name", TEXT, required=True, help="what it is called: 'gate'"),
        Field("size", Whole("the size", 1, 9)),
        Field("tags", ListOf(TEXT, what="a list of tags"), default=()),
    )


THING = BlockShape("the thing", Thing, *fields())
THINGS = TableOf("the section 'things'", IDENTIFIER, BlockShape("the thing", NamedThing, *fields()))


def value_of(text: str) -> tuple[Node, Span]:
    """What stands after `x:`, and the place of `x`."""
    root, problems = parse(text, "job.yaml")
    assert isinstance(root, Mapping), problems
    return root.entries[0].value, root.entries[0].key.span


def read(shape: Shape[Any], text: str) -> tuple[object, list[Found]]:
    node, at = value_of(text)
    report = Report()
    value = shape.read(node, at, report)
    assert (value is None) == bool(report.problems)
    return value, found_in(tuple(well_said(p) for p in report.problems))


def sentence(shape: Shape[Any], text: str) -> tuple[str, str]:
    node, at = value_of(text)
    report = Report()
    shape.read(node, at, report)
    (problem,) = report.problems
    return problem.sentence, problem.help


@pytest.mark.parametrize(
    ("written", "text"),
    [
        ("front lawn", "front lawn"),
        ("'  front   lawn '", "front lawn"),
        ("|\n  front\n  lawn\n", "front lawn"),
        ("no", "no"),
        ("~", "~"),
        ("08", "08"),
        ("e\u0301t\u00e9", "\u00e9t\u00e9"),
        ("x" * LONGEST_TEXT, "x" * LONGEST_TEXT),
    ],
)
def test_text(written: str, text: str) -> None:
    assert read(TEXT, f"x: {written}") == (text, [])


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("x: ''", ("wrong-type", 1, 4)),
        ("x: '  '", ("wrong-type", 1, 4)),
        ("x: {a: b}", ("wrong-type", 1, 4)),
        ("x: [a]", ("wrong-type", 1, 4)),
        ("x: " + "x" * (LONGEST_TEXT + 1), ("too-long", 1, 4)),
        ("x: " + "x" * 1_000_000, ("too-long", 1, 4)),
    ],
    ids=range(6),
)
def test_no_text(text: str, found: Found) -> None:
    value, problems = read(SaidShape(TEXT), text)
    assert (value, problems) == (None, [found])


@pytest.mark.parametrize("name", ["A", "A-K1", "VB-03", "8", "no", "null", "a.b_c", "x" * 24])
def test_name(name: str) -> None:
    assert read(IDENTIFIER, f"x: {name}") == (name, [])


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("V\u0412-2", "look-alike-character"),  # Cyrillic Ve
        ("\u0410-K1", "look-alike-character"),  # Cyrillic A
        ("VB\u20132", "look-alike-character"),  # en dash
        ("VB\u22122", "look-alike-character"),  # minus
        ("VB-\uff12", "look-alike-character"),  # full-width 2
        ("VB-\u0662", "look-alike-character"),  # Arabic 2
        ("VB 2", "name"),
        ("-VB", "name"),
        ("VB/2", "name"),
        ("../VB", "name"),
        ("x" * 25, "name"),
        ("~", "name"),
    ],
    ids=ascii,
)
def test_no_name(name: str, code: str) -> None:
    assert read(IDENTIFIER, f"x: {name}") == (None, [(code, 1, 4)])


def test_name_that_nearly_is_one() -> None:
    said = "write 'VB-2': letters, digits, '-', '.' and '_' only"
    assert sentence(IDENTIFIER, "x: VB 2") == ("'VB 2' cannot be a name", said)


@pytest.mark.parametrize(("text", "number"), [("1", 1), ("9", 9), ("08", 8), ("'3'", 3)])
def test_whole_number(text: str, number: int) -> None:
    assert read(Whole("the size", 1, 9), f"x: {text}") == (number, [])


@pytest.mark.parametrize(
    ("text", "code"),
    [
        *((text, "value") for text in ("1.0", "1e3", "0x1A", "1:30", "no", "~", "8 ft", "\u0663")),
        *((text, "out-of-range") for text in ("0", "10", "-1", "99999999999999999999")),
        *((text, "wrong-type") for text in ("[8]", "{a: 8}")),
    ],
    ids=ascii,
)
def test_no_whole_number(text: str, code: str) -> None:
    assert read(Whole("the size", 1, 9), f"x: {text}") == (None, [(code, 1, 4)])


@pytest.mark.parametrize(("text", "said"), [("yes", True), ("no", False), ("YES", True)])
def test_yes_or_no(text: str, said: bool) -> None:
    assert read(SaidShape(YES_NO), f"x: {text}")[0] == Written(
        Span("job.yaml", 1, 4, len(text)), said
    )


@pytest.mark.parametrize("text", ["true", "on", "off", "y", "1", "~"])
def test_neither_yes_nor_no(text: str) -> None:
    assert read(YES_NO, f"x: {text}") == (None, [("unknown-word", 1, 4)])


def test_choice_names_what_there_is() -> None:
    kinds = OneOf("the kind", {"rain": 1, "flow": 2, "other": 3})
    assert sentence(kinds, "x: wind") == (
        "the kind cannot be 'wind'",
        "write 'rain', 'flow' or 'other'",
    )
    assert read(kinds, "x: [rain]") == (None, [("wrong-type", 1, 4)])
    assert read(kinds, "x:") == (None, [("wrong-type", 1, 1)])


TAGS = ListOf(TEXT, what="a list of tags", example="[red, blue]")
TAG_OR_TAGS = ListOf(TEXT, what="a list of tags", example="[red, blue]", single=True)
PAIRS = ListOf(ListOf(TEXT, what="a pair", least=2), what="a list of pairs", example="[[1, 2]]")


def test_list() -> None:
    assert read(TAGS, "x: [a, b]") == (("a", "b"), [])
    assert read(TAGS, "x:\n  - a\n  - b\n") == (("a", "b"), [])
    assert read(TAG_OR_TAGS, "x: a") == (("a",), [])
    assert read(PAIRS, "x: [[a, b], [c, d]]") == ((("a", "b"), ("c", "d")), [])


@pytest.mark.parametrize(
    ("shape", "text", "found"),
    [
        (TAGS, "x: a", [("wrong-type", 1, 4)]),
        (TAGS, "x: {a: b}", [("wrong-type", 1, 4)]),
        (TAGS, "x:", [("wrong-type", 1, 1)]),
        (TAGS, "x: []", [("too-few", 1, 4)]),
        (TAGS, "x: [a, [b], {c: d}]", [("wrong-type", 1, 8), ("wrong-type", 1, 13)]),
        (TAGS, "x:\n  - a\n  -\n", [("wrong-type", 2, 3)]),
        (TAG_OR_TAGS, "x: {a: b}", [("wrong-type", 1, 4)]),
        (TAG_OR_TAGS, "x:", [("wrong-type", 1, 1)]),
        (PAIRS, "x: [a, b, c]", [("wrong-type", 1, 4)]),
        (PAIRS, "x: [[a]]", [("too-few", 1, 5)]),
        (PAIRS, "x: [[a, b], c]", [("wrong-type", 1, 13)]),
    ],
)
def test_no_list(shape: Shape[Any], text: str, found: list[Found]) -> None:
    assert read(shape, text) == (None, found)


def test_section_may_stay_empty() -> None:
    assert read(ListOf(TEXT, what="a list of tags", section=True), "x:") == ((), [])


def test_record() -> None:
    value, _ = read(THING, "x: {name: gate, size: 3, tags: [a]}")
    assert value == Thing(span=Span("job.yaml", 1, 1, 1), name="gate", size=3, tags=("a",))


def test_record_without_what_may_be_left_out() -> None:
    value, _ = read(THING, "x: {name: gate}")
    assert value == Thing(span=Span("job.yaml", 1, 1, 1), name="gate", size=None, tags=())


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("x: gate", [("wrong-type", 1, 4)]),
        ("x: [name]", [("wrong-type", 1, 4)]),
        ("x:", [("missing", 1, 1)]),
        ("x: {}", [("missing", 1, 1)]),
        ("x: {size: 3}", [("missing", 1, 1)]),
        ("x: {name: }", [("wrong-type", 1, 5)]),
        ("x: {name: gate, size: }", [("wrong-type", 1, 17)]),
        ("x: {name: gate, color: red}", [("unknown-key", 1, 17)]),
        (
            "x: {name: [], size: 0, tags: a}",
            [(c, 1, n) for c, n in (("wrong-type", 11), ("out-of-range", 21), ("wrong-type", 30))],
        ),
        ("x: {nmae: gate}", [("unknown-key", 1, 5)]),
        ("x: {Name: gate}", [("unknown-key", 1, 5)]),
        ("x: {name: gate, siez: 0}", [("unknown-key", 1, 17)]),
        ("x: {<<: {name: gate}}", [("unknown-key", 1, 5), ("missing", 1, 1)]),
        ("x: {name: gate, north}", [("comma", 1, 17)]),
        ("x: {name: 1,5 m}", [("comma", 1, 11)]),
    ],
)
def test_no_record(text: str, found: list[Found]) -> None:
    assert read(THING, text) == (None, found)


@pytest.mark.parametrize(
    ("text", "said", "way_out"),
    [
        ("x: {nmae: gate}", "the thing has no key 'nmae'", "did you mean 'name'?"),
        ("x: {name: a, zz: b}", "the thing has no key 'zz'", "it has 'name', 'size', 'tags'"),
        ("x: {name: a, '': b}", "the thing has no key ''", "it has 'name', 'size', 'tags'"),
        ("x: {}", "the thing has no 'name'", "what it is called: 'gate'"),
        ("x: {name: }", "'name:' is empty", "what it is called: 'gate'"),
        (
            "x: {name: [a]}",
            "a text is expected, but a list is here",
            "write 'a', without brackets",
        ),
        (
            "x: {name: gate, north}",
            "the comma after 'gate' splits the text",
            "put the whole value in quotes: 'gate, north'",
        ),
        ("x: {name: 1,5 m}", "the comma splits '1,5 m' in two", "write '1.5 m'"),
    ],
)
def test_what_a_record_says(text: str, said: str, way_out: str) -> None:
    assert sentence(THING, text) == (said, way_out)


def test_table() -> None:
    node, at = value_of("x: {b: {name: gate}, a: {name: door}}")
    report = Report()
    things = THINGS.read(node, at, report)
    assert things is not None
    assert [(key, thing.id, thing.name, thing.span.column) for key, thing in things.items()] == [
        ("b", "b", "gate", 5),
        ("a", "a", "door", 22),
    ]
    assert report == Report()


def test_table_leaves_out_what_it_cannot_read_and_remembers_its_name() -> None:
    node, at = value_of("x: {b: {name: gate}, a: {}, c d: {name: door}}")
    report = Report()
    things = THINGS.read(node, at, report)
    assert list(things or ()) == ["b"]
    assert report.reported == {"a", "c d"}
    assert found_in(tuple(report.problems)) == [("missing", 1, 22), ("name", 1, 29)]


def test_table_may_stay_empty() -> None:
    assert read(THINGS, "x:") == ({}, [])


@pytest.mark.parametrize("text", ["x: a", "x: [a, b]", "x: ''"])
def test_no_table(text: str) -> None:
    assert read(THINGS, text) == (None, [("wrong-type", 1, 4)])


@pytest.mark.parametrize(
    ("word", "known", "said"),
    [
        ("gage", ["gauge", "palette"], "did you mean 'gauge'?"),
        ("GAUGE", ["gauge"], "did you mean 'gauge'?"),
        ("VB-9", ["VB-1", "VB-2", "SB-1"], "did you mean 'VB-1' or 'VB-2'?"),
        ("VB-9", ["VB-1", "VB-2", "VB-3", "VB-4"], ""),
        ("xyz", ["gauge"], ""),
        ("", ["gauge"], ""),
        ("x" * 100_000, ["gauge"], ""),
        ("gauge", [], ""),
    ],
    ids=range(8),
)
def test_nearest(word: str, known: list[str], said: str) -> None:
    assert nearest(word, known) == said


def test_nearest_one_is_sure_or_silent() -> None:
    assert nearest_one("gage", ["gauge", "palette"]) == "gauge"
    assert nearest_one("VB-9", ["VB-1", "VB-2"]) == ""
    assert nearest_one("xyz", ["gauge"]) == ""


def test_either() -> None:
    assert [either("a"), either("ab"), either("abc")] == ["'a'", "'a' or 'b'", "'a', 'b' or 'c'"]
