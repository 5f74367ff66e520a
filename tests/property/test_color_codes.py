"""Letter codes of random jobs: no two insulations of a job share one, and all of ours are told."""

from __future__ import annotations

from itertools import product

from hypothesis import given, settings
from hypothesis import strategies as st

from cardgen.cards import CardKind, cards_of
from cardgen.trade.colors import color_words
from tests.cards.printables import printable
from tests.wiring.trench import job

# By hand: the only ones that IEC 60757 has no code of their own for.
OURS = {"light-blue": "LB", "tan": "TN"}
EVERY = [
    base if base == stripe else f"{base}/{stripe}"
    for base, stripe in product(color_words(), repeat=2)
]
colors = st.lists(st.sampled_from(EVERY), min_size=3, max_size=40, unique=True)


@settings(max_examples=40)
@given(inside=colors, pigtail=st.sampled_from(EVERY))
def test_no_two_insulations_of_a_job_share_a_code(inside: list[str], pigtail: str) -> None:
    common, hot, *_ = inside
    made = printable(
        job(
            f"""\
            cables:
              K1: {{gauge: 18 AWG, colors: [{", ".join(inside)}], run: [A, 100 ft, VB-1]}}
            boxes: {{VB-1: {{kind: pull box}}}}
            stations:
              A1: {{area: lawn, box: VB-1, hot: K1 {hot}}}
            pigtails:
              PT-1: {{at: A, gauge: 14 AWG, color: {pigtail}, length: 8 in}}
            joints:
              A:
                - [C, PT-1]
                - [PT-1, K1 {common}]
                - [1, K1 {hot}]
            """,
            f"K1 {common}",
        )
    )
    looks = {*inside, pigtail}
    assert {c.mark.word: c.mark.code for c in made.asbuilt.conductors}.keys() == set(inside)
    assert len(made.asbuilt.codes) == len(looks)
    ours = [code for word, code in OURS.items() if any(word in each.split("/") for each in looks)]
    striped = [code for code in made.asbuilt.codes if "/" in code]
    told = ours + [f"base/stripe as in {code}" for code in striped[:1]]
    (legend,) = cards_of(made)[CardKind.LEGEND]
    line = legend.fields.get("codes", "")
    expected = " and ".join(part for part in (", ".join(told[:-1]), *told[-1:]) if part)
    assert line == (f"Color codes of these cards, not of a standard: {expected}." if told else "")
