"""What pigtails link is drawn as one joint, with their names: outlines written by hand."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import takewhile

from cardgen.drawing import home_runs, outline
from cardgen.words import load_words
from tests.cards.pigtails import TEXT
from tests.cards.printables import printable
from tests.drawing.drawings import homes_of
from tests.jobs import edit


def box(text: str, name: str) -> list[str]:
    """The lines of a box of the first home run, up to the next cable."""
    found = outline(homes_of(text)[0]).splitlines()
    start = next(i for i, line in enumerate(found) if line.strip() == name)
    inside = takewhile(lambda line: not line.startswith("K"), map(str.strip, found[start + 1 :]))
    return list(inside)


def test_conductors_in_joints_that_pigtails_link_have_one_line() -> None:
    """K3 begins in VB-1 and is drawn behind it; red, brown and tan go on dead to VB-2."""
    assert box(TEXT, "VB-1") == [
        "red RD · terminal 1 · valve A1 · lawn",
        "brown BN · terminal 2 · valve A2 · beds",
        (
            "white WH · joined to K3 white/black WH/BK · common A · for A1 and A2 · color changes"
            " · by pigtail PT-1 and PT-3"
        ),
        "tan TN · joined to K3 blue BU · A5 · color changes · by pigtail PT-2",
    ]
    assert box(TEXT, "VB-4") == [
        "blue BU · terminal 5 · valve A5 · pond · at controller K1 tan",
        "white/black WH/BK · common A · for A5 · ends here",
    ]


def test_a_common_that_goes_on_in_a_second_connector_goes_on() -> None:
    """White in with the lead of A1, white out with that of A2, the pigtail between."""
    text = edit(TEXT, "[K1 white in, K1 white out, PT-1]", "[K1 white in, A1, PT-1]")
    text = edit(text, "[PT-1, A1, PT-3]", "[PT-1, K1 white out, A2]")
    text = edit(text, "    - [PT-3, A2, K3 white/black]\n", "")
    text = edit(text, "    - [K1 tan in, PT-2]\n", "")
    text = edit(text, "    - [PT-2, K3 blue]\n", "")
    for name in ("PT-2", "PT-3", "A5", "K3"):
        text = re.sub(rf"^  {name}: .*\n", "", text, flags=re.MULTILINE)
    text = edit(text, "    - ['5', K1 tan]\n", "")
    text = edit(text, "VB-3: {}, VB-4: {}", "VB-3: {}")
    assert "white WH · common A · for A1 and A2" in box(text, "VB-1")


def test_in_spanish() -> None:
    spanish, _ = load_words(("es",))
    assert spanish is not None
    first = home_runs(replace(printable(TEXT), words=spanish))[0]
    assert "beige TN · unido con K3 azul BU · A5 · cambia el color · por cola PT-2" in outline(
        first
    )
