"""A hot that is not known, on paper: a line to write on, and what may be it, never as a spare.

Counted by hand in the job of tests/wiring/test_maybe_hots.py; the PDF is read by another library.
"""

from __future__ import annotations

import re

import pytest

from cardgen.cards import CardKind, cards_of
from cardgen.cards.expected import TO_FILL_IN
from cardgen.cards.materials_sheet import materials_rows
from cardgen.cards.open_items import open_items
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import make_print
from cardgen.output.selection import Selection
from tests.cards.printables import printable, rows
from tests.jobs import SAMPLES, edit, examined, sample
from tests.outside.pages import text_by_pdfium
from tests.wiring.test_maybe_hots import FAR, JOB, NEAR

LANGUAGES = (("en",), ("es",), ("en", "es"))
# One station, master valve or relay of each sample, and the conductor in its box that was its hot.
UNKNOWN = {
    "heron": ("A5", "A-N red (flag A5)"),
    "larkspur": ("A1", "A-K1 red"),
    "quarry": ("MV-1", "A-S2 black (flag MV)"),
    "sandpiper": ("P2", "P-K1 red (flag P2)"),
}


def hot_not_known(text: str, station: str) -> str:
    """The text with the hot of one station in other words."""
    hot = re.compile(rf"(\n  {station}:.*?hot: )(\[[^\]]*\]|[^,}}\n]+)", re.DOTALL)
    return hot.sub(r"\1not known", text, count=1)


def printed(text: str, languages: tuple[str, ...], *kinds: str) -> dict[str, str]:
    request = PrintRequest(selection=Selection(only=kinds), languages=languages)
    made, problems = make_print(examined(text), request)
    assert made is not None, problems
    pdfs = {name: pdf for name, pdf in made.files.items() if name.endswith(".pdf")}
    return {
        name: " ".join(" ".join(text_by_pdfium(pdf)).replace("\xa0", " ").split())
        for name, pdf in pdfs.items()
    }


def lines_for_ohms(tags: str) -> int:
    """Ohms that are followed by no figure, but by a line to write on."""
    return len(re.findall(r"Ω(?! *\d)", tags))


def lines_in_legend(job: str) -> int:
    """Cells of the strip in which a hand writes; tests/cards/test_survey.py sees their lines."""
    (legend,) = cards_of(printable(job), [CardKind.LEGEND])[CardKind.LEGEND]
    return sum(
        cell == TO_FILL_IN for row in rows(legend.fields["terminals"]) for cell in row.values()
    )


def test_each_kind_of_paper_says_that_it_is_not_known() -> None:
    kinds = ("valve-tags", "survey", "splice-cards", "wire-flags", "spare-list")
    text = printed(JOB, ("en",), *kinds)
    tags = text["valve-tags.pdf"]
    # A1 has both; A2 and A3 have a line for the color, and one for the ohms at the controller.
    assert tags.count("HOT · color") == 2 and tags.count("HOT · K1") == 1
    assert lines_for_ohms(tags) == 2 and tags.count("COMMON A · K1") == 2
    assert tags.count("30 (24") == 3  # the coil is known
    survey = text["survey.pdf"]
    assert "A2: which wire is its hot? Wires here that may be it: K1 blue, K1 green" in survey
    assert "A3: which wire is its hot? Wires here that may be it: K2 red and K2" in survey
    assert lines_in_legend(JOB) == 4  # colors and ohms of terminals 2 and 3
    cards = text["splice-cards.pdf"]
    # In VB-1 and SB-1 the three of K1, in SB-1 and VB-3 the two of K2.
    assert cards.count("may be the hot of A2 and A3") == 6
    assert cards.count("may be the hot of A3") == 4
    assert text["spare-list.pdf"].count("SP-") == 2  # K1 black, and K3 pink
    flags = text["wire-flags.pdf"]
    assert all(f" {name} " not in flags for name in (*NEAR, *FAR)) and "A2" not in flags


def test_a_box_tag_counts_no_splices_that_nobody_knows() -> None:
    crowd = "  A4: {area: roses, box: VB-1, hot: K1 green}\nspares:"
    tags = cards_of(printable(edit(JOB, "spares:", crowd)), [CardKind.BOX_TAG])[CardKind.BOX_TAG]
    (card,) = [tag for tag in tags if tag.id == "VB-1"]
    found = {row["valve"]: row["hot"] for row in rows(card.fields["stations"])}
    assert found["A2"] == "______"
    assert "splices" not in str(card.fields.get("box_kind", ""))


def test_materials_take_nothing_that_may_be_in_use_for_free() -> None:
    """Hots of A2 and A3 are in a splice each; caps: K1 red and black, K1 black at A, K3 two."""
    lines = list(materials_rows(printable(JOB)))
    assert any("2 splices of hots that are not known" in line[-1] for line in lines)
    (caps,) = [line[-1] for line in lines if "free end" in line[-1]]
    assert caps.startswith("5 free ends in boxes, 1 free end at a controller")
    found = {what.printed: where.printed for what, where in open_items(printable(JOB))}
    what = "Nobody knows which wire is the hot: find it out, see the survey list"
    assert found[what] == "A2 and A3"


def test_what_is_known_of_one_end_is_printed_there() -> None:
    """K1 green is on terminal 3, K2 red on the coil of A3; what is between nobody knows."""
    known = edit(JOB, "Not  Known", "[K1 green to SB-1, not known]")
    text = printed(known, ("en",), "valve-tags", "survey", "wire-flags", "box-tags")
    assert "at controller: K1 green" in text["valve-tags.pdf"]
    assert text["valve-tags.pdf"].count("HOT · color") == 2
    onward = "A3: its hot comes here on K1 green. Which wire does it go on in? Wires here that may"
    assert f"{onward} be it: K2 red and K2 blue" in text["survey.pdf"]
    # One flag, on both of its halves, where the wire leaves the controller.
    assert text["wire-flags.pdf"].count("A3 K1 green") == 2
    assert text["wire-flags.pdf"].count("contr. A → not known") == 2
    assert "splices" not in text["box-tags.pdf"]  # of VB-1 and SB-1 nobody knows how many
    assert lines_in_legend(known) == 3
    both = edit(JOB, "Not  Known", "[K1 green, not known, K2 red]")
    for languages in LANGUAGES:
        tags = printed(both, languages, "valve-tags", "survey")["valve-tags.pdf"]
        assert tags.count("· K2") == 2  # its hot and its common
        assert lines_for_ohms(tags) == 2


def test_what_joints_show_at_one_end_is_printed_there() -> None:
    """Terminal 3 holds K1 green; the lead of A3 in VB-3 is on K2 red."""
    joints = "joints:\n  A: [[C, K1 white], ['1', K1 red], ['3', K1 green]]\n"
    lead = "  VB-3: [[K2 white, A3], [K2 red, A3], [K2 blue]]\n"
    at_controller = printed(JOB + joints, ("en",), "valve-tags")
    assert "at controller: K1 green" in at_controller["valve-tags.pdf"]
    assert at_controller["valve-tags.pdf"].count("HOT · color") == 2
    assert lines_in_legend(JOB + joints) == 3
    both = printed(JOB + joints + lead, ("en",), "valve-tags")["valve-tags.pdf"]
    assert "red RD HOT · K2" in both and both.count("HOT · color") == 1


@pytest.mark.parametrize("name", SAMPLES)
def test_the_samples_print_with_one_hot_that_nobody_knows(name: str) -> None:
    station, wire = UNKNOWN[name]
    text = hot_not_known(sample(name), station)
    kinds = ("valve-tags", "box-tags", "splice-cards", "door-legend", "wire-flags", "survey")
    for languages in LANGUAGES if name != "heron" else LANGUAGES[2:]:
        said = printed(text, languages, *kinds)
        assert ("en" in languages) is (wire in said["survey.pdf"])
        # The joints of the sandpiper's VB-1 show what is on the lead, so that only ohms are open.
        assert ("· color" in said["valve-tags.pdf"]) is (name != "sandpiper")
        assert lines_for_ohms(said["valve-tags.pdf"]) > 0
