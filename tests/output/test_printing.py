"""What is on the pages is what was chosen: read from the files by programs that are not ours."""

from __future__ import annotations

from collections import Counter
from functools import cache
from typing import NoReturn

import pytest

from cardgen.cards import MAKERS, Card, CardKind
from cardgen.examine import examine_text
from cardgen.layout.widest_digits import WidestDigits
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import Print, make_print
from cardgen.output.selection import Selection
from tests.jobs import sample
from tests.output.jobs import printed, quarry
from tests.outside.pages import by_zxing, gray_by_pdfium, text_by_pdfium

pytestmark = pytest.mark.xdist_group("print only what is needed")


@cache
def since_third() -> Print:
    """Quarry's fourth revision after its third was printed whole."""
    request = PrintRequest(since=3, earlier=printed(quarry(3)))
    made, problems = make_print(examine_text(quarry(4)), request)
    assert made is not None, problems
    return made


def test_since_has_the_changed_cards_on_its_pages_and_no_others() -> None:
    """The cards of quarry's fourth revision as `test_since` has them by hand."""
    made = since_third()
    assert made.changes is not None
    cards = {name.removeprefix("since-3/"): things for name, (things, _) in made.counts.items()}
    assert cards == {
        "valve-tags.pdf": 2,
        "box-tags.pdf": cards["box-tags.pdf"],
        "wire-flags.pdf": 6,
        "splice-cards.pdf": cards["splice-cards.pdf"],
        "door-legend-A.pdf": 1,
        "door-legend-B.pdf": 1,
        "test-sheet.pdf": 1,
        "spare-list.pdf": 1,
        "materials.pdf": 1,
        "wiring-drawing.pdf": 3,
        "packet.pdf": cards["packet.pdf"],
    }
    # As they are cut: what does not fit on one card goes on on the next.
    assert cards["box-tags.pdf"] >= 3
    assert cards["splice-cards.pdf"] >= 5
    codes = Counter(
        code.text.rpartition("/")[2]
        for code in by_zxing(gray_by_pdfium(made.files["since-3/valve-tags.pdf"]))
    )
    assert codes == {"VB-6": 1, "VB-8": 1}
    flags = " ".join(text_by_pdfium(made.files["since-3/wire-flags.pdf"])).split()
    assert {word for word in flags if word in ("B9", "SP-7", "A9", "B8")} == {"B9", "SP-7"}
    assert made.manifest["revisions"]["4"]["gone"] == sorted(s.key for s in made.changes.gone)
    assert len(made.changes.gone) == 10  # with both flags of the dead end of A9
    assert made.files["since-3/stale-tags.txt"].decode() == made.stale


def test_the_manifest_says_of_each_card_when_it_was_printed_last() -> None:
    made = since_third()
    assert made.changes is not None
    last = made.manifest["cards"]
    printed_now = {key for key, revision in last.items() if revision == 4}
    assert printed_now == set(made.manifest["revisions"]["4"]["cards"])
    assert made.changes.keys <= printed_now
    assert not {said.key for said in made.changes.gone} & set(last)
    assert not made.manifest["revisions"]["4"]["whole"]


def test_a_print_of_tags_makes_no_other_cards(monkeypatch: pytest.MonkeyPatch) -> None:
    def unwanted(_: object) -> NoReturn:
        raise AssertionError("nobody asked for it")

    for kind in MAKERS.keys() - {CardKind.VALVE_TAG}:
        monkeypatch.setitem(MAKERS, kind, unwanted)
    monkeypatch.setattr("cardgen.output.job_cards.home_runs", unwanted)
    request = PrintRequest(selection=Selection(only=("valve-tags",)))
    made, _ = make_print(examine_text(sample("quarry")), request)
    assert made is not None
    assert [*made.files] == ["valve-tags.pdf"]
    with pytest.raises(AssertionError, match="nobody asked"):
        make_print(examine_text(sample("quarry")))


def test_a_print_is_the_same_where_what_stood_for_its_tags_was_narrower(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Let the first tag stand for all; then each is measured itself, and nothing is told twice."""
    request = PrintRequest(
        selection=Selection(only=("valve-tags",)), stocks=("shipping-tag-1",), without_misfits=True
    )
    job = examine_text(sample("quarry"))
    usual, problems = make_print(job, request)
    stands_in: list[Card] = []

    def first(_: WidestDigits, card: Card) -> Card:
        stands_in.append(card)
        return stands_in[0]

    monkeypatch.setattr(WidestDigits, "of", first)
    made, more = make_print(job, request)
    assert usual is not None and made is not None and stands_in
    assert (made.files, made.counts, made.left_out) == (usual.files, usual.counts, usual.left_out)
    assert [problem.sentence for problem in more] == [problem.sentence for problem in problems]
