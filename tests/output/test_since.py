"""What changed since a revision: by hand for quarry, by rule for random jobs with one edit."""

from __future__ import annotations

import random
import re
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import assume, event, given, settings
from hypothesis import strategies as st

from cardgen.cards.labels import label
from cardgen.drawing import home_runs, outline
from cardgen.examine import examine_text
from cardgen.memory.prints import PrintedRevision
from cardgen.memory.stored_job import StoredJob
from cardgen.output.card_texts import DRAWING
from cardgen.output.choosing import choose
from cardgen.output.hanging import changes_in, texts_hanging_at
from cardgen.output.job_cards import JobCards
from cardgen.output.print_request import PrintRequest
from cardgen.output.selection import KINDS, PACKET, Selection
from cardgen.output.stale_cards import compared
from cardgen.output.stale_list import stale_list
from cardgen.words import load_words
from tests.jobs import SAMPLES, edit, sample
from tests.output.jobs import fields_of, printable, printed, quarry, said_of, walk_of
from tests.property.jobs import plans
from tests.property.plan import Plan, to_text

SINGLE = {kind for word, found in KINDS.items() if word != PACKET for kind in found} - {DRAWING}


def keys_since(before: str, after: str, selection: Selection | None = None) -> set[str]:
    """What is printed of the job after, since the job before was printed whole."""
    earlier = printed(before)
    request = PrintRequest(
        since=printable(before).asbuilt.revision,
        earlier=earlier,
        selection=selection or Selection(),
        replace=True,
    )
    return set(choose(JobCards(printable(after)), request).keys)


def second(text: str) -> str:
    """Larkspur as its second revision."""
    return edit(text, "revision: 1,", "revision: 2,")


def single(keys: set[str], text: str) -> set[str]:
    """Without drawing and packet, which are printed whole."""
    return {key for key in keys if said_of(text)[key].kind in SINGLE}


def differing(before: str, after: str) -> set[str]:
    """Cards of the job after that are new or hold something else."""
    old, new = fields_of(before), fields_of(after)
    return {key for key, fields in new.items() if old.get(key) != fields}


# -- by hand -----------------------------------------------------------------------------------


def test_quarry_by_hand() -> None:
    taken = keys_since(quarry(), quarry(4))
    assert {key for key in taken if key.startswith("valve tag")} == {
        "valve tag A14",
        "valve tag B9",
    }
    assert {key for key in taken if key.startswith("flag")} == {
        *("flag B9 B-K1 tan at B", "flag B9 B-K1 tan at VB-8"),
        *("flag spare B-K1 violet at B", "flag spare B-K1 violet at VB-8"),
        *("flag spare A-K2 red at A", "flag spare A-K2 red at VB-6"),
    }
    # VB-4 has two valves left and needs no tag; B-K1 tan and violet pass VB-3, VB-5 and VB-7.
    assert {key for key in taken if key.startswith("box tag")} == {
        *("box tag VB-3", "box tag VB-5", "box tag VB-7"),
    }
    assert {"legend A", "legend B", "test sheet A", "spare list spares"} <= taken
    assert "test sheet B" not in taken  # it has no colors
    assert {key for key in taken if key.startswith("wiring drawing")} == {
        f"wiring drawing {cable}" for cable in ("A-K1", "A-K2", "B-K1")
    }  # numbered through, so whole


def test_the_list_says_what_to_take_down_replace_and_put_up() -> None:
    """Without A9 its red is a spare from end to end.

    The flags of the dead rest go as well; the splice card of VB-6, where it ended, says spare.
    """
    changes = compared(said_of(quarry()), said_of(quarry(4)))
    lines = stale_list(changes, walk_of(quarry(4)), ["QUAR-24"]).splitlines()
    heads = [line for line in lines if line and not line.startswith(("[", " "))]
    assert heads == [
        *("QUAR-24", "TAKE DOWN (10)", "REPLACE (13)", "PUT UP (6)", "REPRINTED SHEETS (11)"),
    ]
    at = lines.index("[ ] VB-8: valve tag B9")
    assert lines[at + 1] == (
        "      hot: B-K1 violet, VT, black band, 18 AWG -> B-K1 tan, TN, black band, 18 AWG"
    )
    assert (
        lines[lines.index("[ ] VB-6: valve tag A14") + 1] == "      area: dock lawn -> dock meadow"
    )
    rows = [line for line in lines if line.startswith("      terminals: ")]
    assert any(row.endswith("area dock lawn -> area dock meadow") for row in rows), rows
    down = lines[lines.index("TAKE DOWN (10)") + 1 :]
    assert down[:4] == [
        "[ ] controller A: flag A9 A-K2 red, RD, 18 AWG",
        "[ ] VB-4: box tag",
        "[ ] VB-4: valve tag A9",
        "[ ] VB-4: flag A9 A-K2 red, RD, 18 AWG",
    ]


def test_the_same_list_in_spanish_and_in_both() -> None:
    """Which cards they are is the same; what is said of them is in the words of the catalogue.

    Translated by hand from the list above.
    """
    before, after = printable(quarry()), printable(quarry(4))
    log = printed(quarry())
    changes = compared(said_of(quarry()), said_of(quarry(4)))
    told = {}
    for languages in (("en",), ("es",), ("en", "es")):
        words, _ = load_words(languages)
        assert words is not None
        shown = changes_in(words, changes, log, before.asbuilt.revision, after)
        told[languages] = stale_list(shown, walk_of(quarry(4)), ["QUAR-24"], words).splitlines()
    english, spanish, both = told.values()
    assert english == stale_list(changes, walk_of(quarry(4)), ["QUAR-24"]).splitlines()
    heads = [line for line in spanish if line and not line.startswith(("[", " "))]
    assert heads == [
        *("QUAR-24", "QUITAR (10)", "REEMPLAZAR (13)", "COLGAR (6)", "HOJAS REIMPRESAS (11)"),
    ]
    down = spanish[spanish.index("QUITAR (10)") + 1 :]
    assert down[:4] == [
        "[ ] controlador A: marcador A9 A-K2 rojo, RD, 18 AWG",
        "[ ] VB-4: etiqueta de caja",
        "[ ] VB-4: etiqueta de válvula A9",
        "[ ] VB-4: marcador A9 A-K2 rojo, RD, 18 AWG",
    ]
    at = spanish.index("[ ] VB-8: etiqueta de válvula B9")
    assert spanish[at + 1] == (
        "      cable de estación: B-K1 morado, VT, black band, 18 AWG -> "
        "B-K1 beige, TN, black band, 18 AWG"
    )  # the band is as the job says it
    at = spanish.index("[ ] VB-6: etiqueta de válvula A14")
    assert spanish[at + 1] == "      área: dock lawn -> dock meadow"
    assert "    hoja de pruebas A" in spanish and "    diagrama de cableado A-K2" in spanish
    # Whole, and no word of English in it but what a person has typed.
    assert len(english) == len(spanish) == len(both)
    ours = re.compile(r"\b(red|tan|violet|valve|flag|spare|legend|splice|hot|box|sheet|of|the)\b")
    assert [line for line in spanish if ours.search(line)] == []
    assert "[ ] VB-4: box tag\xa0/ etiqueta de caja" in both


def test_every_field_that_hangs_has_a_name_in_both_languages() -> None:
    """What the lists of all samples may name, by the fields of their cards."""
    spanish, _ = load_words(("es",))
    assert spanish is not None
    texts = [text for name in SAMPLES for text in said_of(sample(name)).values() if text.at]
    fields = {field for text in texts for field in text.words}
    assert len(fields) > 40
    same = {"conductor", "terminal"}  # in both languages
    for field in fields:
        assert label(field, spanish).replace(" ", "_") != field or field in same, field
    assert label("from_to") == "way" and label("hot", spanish) == "cable de estación"
    assert {kind for text in texts for kind in [text.kind] if not spanish.has(f"stale.{kind}")} == (
        set()
    )


def test_a_joint_that_only_got_another_number_is_not_told_and_a_drawing_by_its_name() -> None:
    before, after = (
        sample("larkspur"),
        edit(sample("larkspur"), "box: VB-1, hot: A-K1 red", "box: VB-2, hot: A-K1 red"),
    )
    changes = compared(said_of(before), said_of(after))
    text = stale_list(changes, walk_of(after), [])
    sheets = text.partition("REPRINTED SHEETS")[2].splitlines()
    assert [line.strip() for line in sheets if "drawing" in line] == ["wiring drawing A-K1"]
    splices = [line.strip() for line in text.splitlines() if line.startswith("      splices: ")]
    assert splices
    assert not any("HOT A2" in line for line in splices), splices  # it was 2 in VB-1, now 1
    assert any(line.startswith("splices: HOT A1 ") for line in splices), splices
    assert not any(line.endswith("|") for line in splices)


def test_a_common_that_changed_is_one_line_of_its_joint() -> None:
    before = sample("larkspur")
    after = edit(before, "[A-K1 white, A-K2 white]", "[A-K1 brown, A-K2 white]")
    text = stale_list(compared(said_of(before), said_of(after)), walk_of(after), [])
    splices = [line.strip() for line in text.splitlines() if line.startswith("      splices: ")]
    assert splices
    assert not any("nothing" in line for line in splices), splices
    assert all(line.startswith("splices: COMMON A: ") for line in splices), splices
    assert all("A-K1 white" in line and "A-K1 brown" in line for line in splices), splices


def test_a_valve_that_moves_to_another_box_is_of_both() -> None:
    """Its tag is printed for whoever selects the box where the old one still hangs."""
    before, after = (
        sample("larkspur"),
        second(
            edit(sample("larkspur"), "box: VB-2, hot: A-K1 green", "box: VB-1, hot: A-K1 green")
        ),
    )
    changes = compared(said_of(before), said_of(after))
    assert "VB-2 to VB-1: valve tag A3" in stale_list(changes, walk_of(after), [])
    for box in ("VB-1", "VB-2"):
        assert "valve tag A3" in keys_since(before, after, Selection(boxes=(box,)))
    assert "valve tag A3" not in keys_since(before, after, Selection(boxes=("VB-3",)))


def test_a_box_that_is_gone_can_still_be_selected() -> None:
    before = sample("larkspur")
    after = second(
        edit(before, "VB-3: {", "VB-33: {").replace("VB-3,", "VB-33,").replace("VB-3]", "VB-33]")
    )
    request = PrintRequest(
        since=1, earlier=printed(before), selection=Selection(boxes=("VB-3",)), replace=True
    )
    changes = choose(JobCards(printable(after)), request).changes
    assert changes and {said.at for said in changes.gone} == {"VB-3"}


def test_another_order_of_rows_is_told() -> None:
    one, two = dict(said_of(sample("larkspur"))), dict(said_of(sample("larkspur")))
    legend = one["legend A"]
    rows = legend.words["terminals"]
    assert isinstance(rows, tuple)
    two["legend A"] = replace(legend, words={**legend.words, "terminals": rows[::-1]})
    said = stale_list(compared(one, two), walk_of(sample("larkspur")), [])
    assert "      terminals: in another order, or not as often" in said


# -- by rule -----------------------------------------------------------------------------------


@pytest.mark.parametrize("name", SAMPLES)
def test_nothing_is_printed_where_only_the_revision_is_another(name: str) -> None:
    job = printable(sample(name))
    head = f"revision: {job.asbuilt.revision}, date: {job.asbuilt.date}}}\nrecord"
    later = edit(sample(name), head, "revision: 9, date: 2027-01-02}\nrecord")
    assert keys_since(sample(name), later) == set()
    assert not compared(said_of(sample(name)), said_of(later))


def packet_of(text: str) -> set[str]:
    return {key for key, said in said_of(text).items() if said.kind in KINDS[PACKET]}


def bound(text: str) -> list[Any]:
    """All that the packet holds, straight from the cards and the drawing."""
    kinds = ("spare list", "test sheet", "materials", "schedule", "closing")
    sheets = [item for item in fields_of(text).items() if item[0].startswith(kinds)]
    return [*sheets, *(outline(home) for home in home_runs(printable(text)))]


def edited(plan: Plan, rng: random.Random) -> str:
    """Its next revision with one value changed, whichever, or one station less."""
    sections = plan.copy()
    sections["job"]["revision"] += 1
    spot = rng.choice(("area", "place", "leg", "coil", "key", "station", "station"))
    if spot == "area":
        rng.choice(list(sections["stations"].values()))["area"] = "somewhere else"
    elif spot == "place":
        rng.choice(list(sections["boxes"].values()))["place"] = "behind the shed"
    elif spot == "leg":
        run = rng.choice(list(sections["cables"].values()))["run"]
        run[1] = "31 ft" if str(run[1]).endswith("ft") else "9 m"
    elif spot == "coil":
        next(iter(sections["coils"].values()))["resistance"] = "31 ohm"
    elif spot == "station":
        give_up(rng.choice(list(sections["stations"])), sections)
    else:
        sections["record"]["key"] = "QQQQQQQQQQQQ"
    return to_text(sections)


def give_up(station: str, sections: dict[str, Any]) -> None:
    """Take it out, also of the joints; what is left alone in one is capped."""
    del sections["stations"][station]
    leads = {station, f"{station}a", f"{station}b"}
    for joints in sections.get("joints", {}).values():
        left = [[end for end in joint if end not in leads] for joint in joints]
        joints[:] = [joint for joint in left if len(joint) > 1]


@settings(max_examples=8)
@given(plans(most=20), st.integers(0, 10**6))
def test_exactly_the_cards_are_printed_that_hold_something_else(plan: Plan, seed: int) -> None:
    """And whoever follows the list has everything hanging as if all had been printed anew."""
    before, after = plan.text, edited(plan, random.Random(seed))
    assume(not examine_text(after).has_errors)
    taken = keys_since(before, after)
    assert single(taken, after) == single(differing(before, after), after)
    assert taken & packet_of(after) == (
        packet_of(after) if bound(before) != bound(after) else set()
    )
    gone = set(fields_of(before)) - set(fields_of(after))
    changes = compared(said_of(before), said_of(after))
    assert {said.key for said in changes.gone if said.kind != DRAWING} == gone
    event(f"{len(gone)} gone")
    now = printable(after).asbuilt
    told = frozenset(said.key for said in changes.gone)
    part = PrintedRevision(
        date="", whole=False, cards=frozenset(taken), gone=told, job=StoredJob.of(now)
    )
    hanging = texts_hanging_at(
        printed(before).with_print("RAND-1", now.revision, part), now.revision
    )
    assert {key: said.words for key, said in hanging.items()} == {
        key: said.words for key, said in said_of(after).items()
    }
