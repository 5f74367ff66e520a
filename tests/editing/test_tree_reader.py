"""The tree of a text has every character of it."""

from __future__ import annotations

from random import Random

from cardgen.editing.text_tree import BlockText
from cardgen.editing.tree_reader import tree_of
from tests.editing.random_changes import random_text
from tests.jobs import SAMPLES, sample

STRANGE = (
    *("", "# only\n", "---\n", "--- \na: 1\n...\n", "%YAML 1.1\n---\na: 1\n", "{}", "{ }\n", "[]"),
    *(
        "a: |\n  x\n\n\nb: 1\n",
        "a: |+\n  x\n\n\n# c\nb: 1\n",
        "a: >- # r\n  x",
        "a: |2\n\n\nb: 1\n",
    ),
    *(
        "a: &q\n  b: 1\n  c: &z\nd:\n- &k x: 1\n  y: 2\n-\n- *q\n",
        "&k a: 1\n*k : 2\n",
        "&a\nb: 1\n",
    ),
    *("{a, b: , 'c':1, \"é🌳\": [x: y, ]}\n", "a: &b # h\n  text\n  more\nb: ! x\n"),
    *(
        "a:\n- b\n-  # x\n  - c: 1\n    d: 2\n- - e\n  - f\n",
        "a:\n  b:\n    c: 1 # r\n    # s\n  # t\nd: 1\n",
    ),
    *("{\n  a: 1, # x\n  b: [\n   1,\n 2] # z\n }\n", '"a"  :  x\n', "a:\n\n\n  b"),
)


def test_the_text_comes_back_to_the_letter() -> None:
    rng = Random(1)
    texts = [*STRANGE, *map(sample, SAMPLES), *(random_text(rng) for _ in range(15))]
    for text in texts:
        for end in ("\n", "\r\n", "\r"):
            assert tree_of(text.replace("\n", end)).text() == text.replace("\n", end)


def test_each_entry_has_its_parts() -> None:
    root = tree_of("# r\na:  # s\n  b: 'x'  # t\n  c: {d: 1 , e: 2}\nf: 1\n").root
    a = root.by_key["a"]
    assert (a.lead, a.raw_key, a.gap, a.tail) == ("# r\n", "a", ":  # s\n", "")
    assert isinstance(a.value, BlockText)
    b, c = a.value.entries
    assert (b.lead, b.gap, b.tail) == ("  ", ": ", "  # t\n")
    assert isinstance(c.value, BlockText)
    d, e = c.value.entries
    assert (c.value.opening, d.tail, e.lead, e.tail, c.value.closing) == ("{", " ,", " ", "", "}")
