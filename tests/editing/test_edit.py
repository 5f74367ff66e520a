"""What a change does to the text of a job, letter for letter, each expectation written by hand."""

from __future__ import annotations

import re
from collections.abc import Sequence

import pytest

from cardgen.editing import CannotEdit, Change, Put, Remove, Rename, edited, refusals
from tests.benchmarks.campus import campus
from tests.editing.random_changes import values_of
from tests.jobs import SAMPLES, sample

# What it is about, the text, the changes, the text with them.
Case = tuple[str, str, Change | list[Change], str]

PUT: tuple[Case, ...] = (
    ("a value", "a: 1  # r\n", Put(path=("a",), value="2"), "a: 2  # r\n"),
    ("the same value", "a: '1'\n", Put(path=("a",), value="1"), "a: '1'\n"),
    ("no end of the last line", "b: x\na: 1", Put(path=("a",), value="2"), "b: x\na: 2"),
    ("quotes that it needs", "a: x\n", Put(path=("a",), value="y: z"), 'a: "y: z"\n'),
    ("quotes as beside", "a: 'x, y'\nb: z\n", Put(path=("b",), value="#1"), "a: 'x, y'\nb: '#1'\n"),
    ("quotes it needs no more", 'a: "x: y"\n', Put(path=("a",), value="no"), "a: no\n"),
    ("own quotes", "b: \"#\"\na: '#'\n", Put(path=("a",), value="# 2"), "b: \"#\"\na: '# 2'\n"),
    ("comma in braces", "a: {b: x}\n", Put(path=("a", "b"), value="y, z"), 'a: {b: "y, z"}\n'),
    ("comma in a line", "a: x\n", Put(path=("a",), value="y, z"), "a: y, z\n"),
    ("after nothing", "a:  # r\nb: x\n", Put(path=("a",), value="1"), "a: 1  # r\nb: x\n"),
    ("nothing in braces", "a: {b, c: }\n", Put(path=("a", "b"), value="1"), "a: {b: 1, c: }\n"),
    ("JSON", '{"a":"1"}', Put(path=("a",), value="2"), '{"a": "2"}'),
    (
        "a block of text with a remark on its first line",
        "a: >-  # r\n  x\n  y\n\n# s\nb: 1\n",
        Put(path=("a",), value="z"),
        "a: z  # r\n\n# s\nb: 1\n",
    ),
    ("lines of text", "a: x\n  y\nb: 1\n", Put(path=("a",), value="z"), "a: z\nb: 1\n"),
    (
        "below its key",
        "a:\n  # r\n  x\nb: 1\n",
        Put(path=("a",), value="z"),
        "a:\n  # r\n  z\nb: 1\n",
    ),
    ("an anchor none uses", "a: &n x\n", Put(path=("a",), value="y"), "a: &n y\n"),
    ("in place of *", "a: &n x\nb: *n\n", Put(path=("b",), value="y"), "a: &n x\nb: y\n"),
    (
        "a block in place of a value",
        "a:\n  b: x  # r\n  c: y\n",
        Put(path=("a", "b"), value={"d": "1"}),
        "a:\n  b: {d: 1}  # r\n  c: y\n",
    ),
    (
        "a value in place of a block",
        "a:\n  b:  # r\n    d: 1  # s\n  # t\n  c: y\n",
        Put(path=("a", "b"), value="x"),
        "a:\n  b: x  # r\n  # t\n  c: y\n",
    ),
    (
        "only what differs in a list",
        "run: [A, 85 ft,  # walk\n  VB-1, 60 ft, 'VB-2']\n",
        Put(path=("run",), value=["A", "85 ft", "VB-0", "9 ft", "VB-1", "60 ft", "VB-2"]),
        "run: [A, 85 ft, VB-0, 9 ft,  # walk\n  VB-1, 60 ft, 'VB-2']\n",
    ),
    (
        "only what differs in a block",
        "a:\n  b: 'x'  # r\n  c: y  # s\n  # t\n  d: z\n",
        Put(path=("a",), value={"b": "x", "e": "new", "d": "w"}),
        "a:\n  b: 'x'  # r\n  e: new\n  # t\n  d: w\n",
    ),
)

ADD: tuple[Case, ...] = (
    (
        "as its neighbors are, in braces",
        "s:\n  A1: {area: x}  # r\n\nt: 1\n",
        Put(path=("s", "A2"), value={"area": "y, z", "hot": ["a", "b"]}),
        's:\n  A1: {area: x}  # r\n  A2: {area: "y, z", hot: [a, b]}\n\nt: 1\n',
    ),
    (
        "as its neighbors are, in lines",
        "s:\n    A1:\n      area: x\n    A3: {area: z}\n",
        Put(path=("s", "A2"), value={"area": "y", "hot": ["a"]}, after="A1"),
        "s:\n    A1:\n      area: x\n    A2:\n      area: y\n      hot: [a]\n    A3: {area: z}\n",
    ),
    ("after a key", "{a: 1, b: 2}", Put(path=("c",), value="3", after="a"), "{a: 1, c: 3, b: 2}"),
    (
        "after the first of several that is there",
        "s:\n  A: {area: x, box: y, hot: z}\n",
        Put(path=("s", "A", "coil"), value="u", after=("valves", "box", "area")),
        "s:\n  A: {area: x, box: y, coil: u, hot: z}\n",
    ),
    ("a comma at the end", "{a: 1, }", Put(path=("b",), value="2"), "{a: 1, b: 2, }"),
    (
        "each on its line",
        "a: {\n  b: 1,  # r\n  c: 2  # s\n}\n",
        [Put(path=("a", "d"), value="3"), Put(path=("a", "e"), value="4", after="b")],
        "a: {\n  b: 1,  # r\n  e: 4,\n  c: 2,  # s\n  d: 3\n}\n",
    ),
    (
        "into an empty section",
        "s:  # r\n\nt: 1\n",
        Put(path=("s", "A1"), value={"area": "x"}),
        "s:  # r\n  A1: {area: x}\n\nt: 1\n",
    ),
    (
        "into braces with nothing in them",
        "s: {A1: {}}\nb: {}\n",
        [Put(path=("s", "A1", "area"), value="x"), Put(path=("b", "VB-1"), value={"size": "z"})],
        "s: {A1: {area: x}}\nb:\n  VB-1: {size: z}\n",
    ),
    ("to a list", "a:\n- x  # r\n# s\n", Put(path=("a", 1), value="y"), "a:\n- x  # r\n- y\n# s\n"),
    ("to a list in brackets", "a: [x]\n", Put(path=("a", 1), value="y]"), 'a: [x, "y]"]\n'),
    (
        "to a list of blocks",
        "a:\n  - b: 1\n    c: 2\n",
        Put(path=("a", 1), value={"b": "3", "c": "4"}),
        "a:\n  - b: 1\n    c: 2\n  - b: 3\n    c: 4\n",
    ),
    (
        "sections that were not there, parted as the others are",
        "job: {code: X}\n\nboxes:\n  B: {size: 1}\n",
        [
            Put(path=("joints",), value={"B": [["a", "b"]]}),
            Put(path=("record",), value={"key": "K"}, after="job"),
        ],
        "job: {code: X}\n\nrecord: {key: K}\n\nboxes:\n  B: {size: 1}\n\njoints:\n  B: [[a, b]]\n",
    ),
    (
        "to a text with remarks only",
        "# mine",
        [Put(path=("job",), value={"code": "X"}), Put(path=("s",), value={"A": {"b": "1"}})],
        "# mine\njob: {code: X}\ns:\n  A: {b: 1}\n",
    ),
    ("to no text", "", Put(path=("a",), value="1"), "a: 1\n"),
    (
        "into what was added before",
        "s:\n  A: {b: 1}",
        [Put(path=("s", "B"), value={}), Put(path=("s", "B", "b"), value="2")],
        "s:\n  A: {b: 1}\n  B: {b: 2}",
    ),
    (
        "too long for a line",
        "s: 1\n",
        Put(path=("t",), value={"a": "x" * 60, "b": "y" * 60}),
        f"s: 1\nt:\n  a: {'x' * 60}\n  b: {'y' * 60}\n",
    ),
    ("line ends as they are", "a: 1\r\n", Put(path=("b",), value="2"), "a: 1\r\nb: 2\r\n"),
    ("a mark at the start", "\ufeffa: 1\n", Put(path=("a",), value="2"), "\ufeffa: 2\n"),
)

REMOVE: tuple[Case, ...] = (
    ("a line with its remark", "a: 1\nb: 2  # r\nc: 3\n", Remove(path=("b",)), "a: 1\nc: 3\n"),
    (
        "remarks above stay where something follows",
        "s:\n  # both\n  a: 1\n  b: 2\n",
        Remove(path=("s", "a")),
        "s:\n  # both\n  b: 2\n",
    ),
    (
        "remarks above go where nothing follows",
        "s:\n  a: 1\n  # of b\n  # as well\n  b: 2\n\n# t\nt: 1\n",
        Remove(path=("s", "b")),
        "s:\n  a: 1\n\n# t\nt: 1\n",
    ),
    (
        "remarks that are indented otherwise or stand apart stay",
        "s:\n  a: 1\n  # far\n\n # other\n  b: 2\n",
        Remove(path=("s", "b")),
        "s:\n  a: 1\n  # far\n\n # other\n",
    ),
    (
        "the head of the file stays",
        "# head\na: 1\n\nb: 2\n",
        Remove(path=("a",)),
        "# head\n\nb: 2\n",
    ),
    (
        "the last of a block",
        "s:  # r\n  a: 1  # q\nt: 1\n",
        Remove(path=("s", "a")),
        "s: {}  # r\nt: 1\n",
    ),
    ("the last of a list", "s:\n- a\nt: 1\n", Remove(path=("s", 0)), "s: []\nt: 1\n"),
    ("the first behind a dash", "- a: 1\n  b: 2\n", Remove(path=(0, "a")), "- b: 2\n"),
    ("one in braces", "{a: 1, b: 2, c: 3}", Remove(path=("b",)), "{a: 1, c: 3}"),
    ("the first in braces", "{a: 1, b: 2}", Remove(path=("a",)), "{b: 2}"),
    ("the last in braces", "{a: 1, b: 2}", Remove(path=("b",)), "{a: 1}"),
    ("the only one in braces", "{a: 1}", Remove(path=("a",)), "{}"),
    ("before a comma at the end", "[a, b, ]", Remove(path=(1,)), "[a, ]"),
    (
        "a line in braces with its remark",
        "{\n  a: 1,  # r\n  b: 2,  # s\n  c: 3  # t\n}",
        [Remove(path=("b",)), Remove(path=("c",))],
        "{\n  a: 1  # r\n}",
    ),
    (
        "a new line stays where it was",
        "{a: 1,\n  b: 2, c: 3}",
        Remove(path=("b",)),
        "{a: 1,\n  c: 3}",
    ),
    (
        "what is repeated with all that repeats it",
        "a: [&n x, *n]\nb: 1\n",
        Remove(path=("a",)),
        "b: 1\n",
    ),
    (
        "what is not repeated any more",
        "a: &n x\nb: *n\nc: 1\n",
        [Remove(path=("b",)), Remove(path=("a",))],
        "c: 1\n",
    ),
)

RENAME: tuple[Case, ...] = (
    ("a key", "a:   1  # r\n", Rename(path=("a",), key="b"), "b:   1  # r\n"),
    ("to one with quotes", "s: {a: 1}\n", Rename(path=("s", "a"), key="b, c"), 's: {"b, c": 1}\n'),
    ("in JSON", '{"a": "1"}', Rename(path=("a",), key="b"), '{"b": "1"}'),
    (
        "and what is in it",
        "s:\n  a: {x: 1}\n",
        [Rename(path=("s", "a"), key="b"), Put(path=("s", "b", "x"), value="2")],
        "s:\n  b: {x: 2}\n",
    ),
)


@pytest.mark.parametrize(
    "cases", [PUT, ADD, REMOVE, RENAME], ids=["put", "add", "remove", "rename"]
)
def test_a_change_is_made_at_its_place_and_nowhere_else(cases: Sequence[Case]) -> None:
    for what, text, changes, new in cases:
        done = changes if isinstance(changes, list) else [changes]
        assert edited(text, done) == new, what
        values_of(new)  # a reader that is not ours takes it


def test_line_ends_and_tabs_of_every_kind_stay() -> None:
    text = "# é\n\ns:\t# tab\n  A1: {a: x}\t# \tr\n\n  A2: {a: y}\n \n"
    new = text.replace("a: x", 'a: "z, z"').replace("{a: y}", "{a: y, b: 1}")
    changes = [Put(path=("s", "A1", "a"), value="z, z"), Put(path=("s", "A2", "b"), value="1")]
    for end in ("\n", "\r\n", "\r"):
        assert edited(text.replace("\n", end), changes) == new.replace("\n", end)


REPEATED = "s:\n  A1: &n {a: x, b: &m [y]}\n  A2: *n\n  A3: {b: *m}\n"
# The change, where it cannot be made, what is told of it, and how to go on.
REFUSED = (
    (Put(path=("s", "A1", "a"), value="z"), "repeated elsewhere by '*n'", "in place of each '*n'"),
    (Put(path=("s", "A1", "b", 1), value="z"), "repeated elsewhere by '*n'", "remove '&n'"),
    (Put(path=("s", "A1"), value="z"), "'s A1' is repeated elsewhere", "in place of each '*n'"),
    (Remove(path=("s", "A1")), "'s A1' is repeated elsewhere", "in place of each"),
    (Put(path=("s",), value="z"), "", ""),
    (
        Put(path=("s", "A2", "a"), value="z"),
        "repeated here by '*n'",
        "write its value in place of '*n'",
    ),
    (
        Rename(path=("s", "A2", "a"), key="z"),
        "repeated here by '*n'",
        "write its value in place of",
    ),
    (
        Put(path=("s", "A3", "b", 0), value="z"),
        "repeated here by '*m'",
        "write its value in place of",
    ),
    (Put(path=("s", "A9", "a"), value="z"), "there is no 's A9'", ""),
    (Put(path=("s", "A9"), value="z", after="A8"), "there is no 'A8' in 's'", ""),
    (Put(path=("s", "A3", "b", 2), value="z"), "'s A3 b' has no place 3", ""),
    (Put(path=("s", "A3", 0), value="z"), "'s A3' has no place 1", ""),
    (Put(path=("s", "A3", "b", "k"), value="z"), "'s A3 b' is not a block", ""),
    (Remove(path=("s", "A9")), "there is no 's A9'", ""),
    (Rename(path=("s", "A1"), key="A3"), "there is a 's A3' already", ""),
    (Rename(path=("s", "A3", "b", 0), key="z"), "is an item of a list", ""),
    (Put(path=(), value="z"), "whole file", ""),
    (Put(path=("t",), value="a\ud800b"), "cannot be changed without", "by hand"),
)


def test_what_cannot_be_changed_at_one_place_alone_is_told() -> None:
    for change, sentence, way_out in REFUSED:
        if not sentence:  # the whole of it takes along what repeats it
            assert edited(REPEATED, [change]) == "s: z\n"
            continue
        with pytest.raises(CannotEdit) as caught:
            edited(REPEATED, [change])
        assert sentence in caught.value.sentence, change
        assert way_out in caught.value.help, change
        assert caught.value.path == change.path


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("a: [1\n", "line 1 must be put right first"),
        ("a: 1\na: 2\n", "line 2 must be put right first"),
        ("? a\n: 1\n", "a key after '?'"),
        ("a\n", "one value"),
        ("a: [b: 1]\n", "braces of its own"),
        ("a: !x 1\n", "line 1 must be put right first"),
    ],
)
def test_a_file_that_cannot_be_read_or_kept_is_not_changed(text: str, sentence: str) -> None:
    with pytest.raises(CannotEdit, match=re.escape(sentence)):
        edited(
            text,
            [Put(path=("a", 0, "c"), value="1") if "[b" in text else Put(path=("a",), value="x")],
        )


def test_no_change_leaves_any_text_as_it_is() -> None:
    for name in SAMPLES:
        assert edited(sample(name), []) == sample(name)


def test_each_of_several_that_cannot_be_made_is_named() -> None:
    changes = [Put(path=("s", station, "a"), value="z") for station in ("A2", "A3", "A9")]
    assert [fault.path for fault in refusals(REPEATED, changes)] == [
        ("s", "A2", "a"),
        ("s", "A9", "a"),
    ]


def test_many_changes_take_one_reading() -> None:
    """2,000 new values and 2,000 new stations in one go; by hand: every line has its own."""
    text = campus(1000)
    stations = list(values_of(text)["stations"])
    puts = [Put(path=("stations", s, "notes"), value=f"n{i}") for i, s in enumerate(stations)]
    more = [
        Put(path=("stations", f"Z{n}"), value={"area": f"new {n}", "box": "VB-1"})
        for n in range(1000)
    ]
    areas = [Put(path=("stations", f"Z{n}", "area"), value=f"newer {n}") for n in range(1000)]
    new = edited(text, [*puts, *more, *areas])
    assert new.count("notes: n") == len(stations)
    assert re.findall(r"^  Z(\d+): \{area: newer (\d+), box: VB-1\}$", new, re.MULTILINE) == [
        (str(n), str(n)) for n in range(1000)
    ]
