"""A name changed everywhere: the job as built is the same but for the name."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from cardgen.asbuilt import AsBuilt
from cardgen.editing import Change, Put, Remove, Rename
from cardgen.examine import examine_text
from cardgen.memory.codec import as_text
from cardgen.output.as_printable import as_printable
from cardgen.reading import nodes, parse
from cardgen.renaming import CannotRename, edited_with_names
from tests.jobs import SAMPLES, edit, sample
from tests.wiring.test_known_parts import with_hot

# Stands in no sample, and names that end with it are in the order of those without.
MARK = "zz"
# Stations before their controllers: then each must say its terminal, for its name does not.
SECTIONS = (
    *("stations", "boxes", "cables", "coils", "palettes", "connectors", "master valves", "relays"),
    *("decoders", "sensors", "spares", "controllers"),
)


def renamed(text: str, section: str, old: str, new: str) -> str:
    return edited_with_names(text, [Rename(path=(section, old), key=new)]).text


def marked(text: str, sections: Sequence[str]) -> list[Change]:
    root, _ = parse(text, "")
    assert isinstance(root, nodes.Mapping)
    of_section = {entry.key.text: entry.value for entry in root.entries}
    return [
        Rename(path=(section, entry.key.text), key=f"{entry.key.text}{MARK}")
        for section in sections
        if isinstance(block := of_section.get(section), nodes.Mapping)
        for entry in block.entries
    ]


def as_built(text: str) -> str:
    printable = as_printable(examine_text(text))
    assert printable is not None
    known: AsBuilt = printable.asbuilt
    return as_text(known)


@pytest.mark.parametrize("name", SAMPLES)
def test_all_names_of_a_job_changed_at_once_change_nothing_else(name: str) -> None:
    text = sample(name)
    before = as_built(text)
    assert MARK not in before
    for sections in (SECTIONS, ["controllers"]):
        after = as_built(edited_with_names(text, marked(text, sections)).text)
        assert after != before and after.replace(MARK, "") == before


def test_of_a_hot_with_a_gap_what_is_named_follows() -> None:
    text = with_hot("[K1 green to SB-1, not known, K2 red from VB-2]")
    after = renamed(renamed(text, "cables", "K1", "not"), "boxes", "SB-1", "SB-9")
    assert "hot: [not green to SB-9, not known, K2 red from VB-2]" in after
    assert "box: VB-1, hot: not known" in after


def test_what_mentions_a_name_is_written_as_a_person_would() -> None:
    """Each line by hand, of the quarry: a flag in a range, a twin, the ends of joints."""
    quarry = sample("quarry")
    station = renamed(quarry, "stations", "A3", "A16")
    assert "{color: red, gauge: 14 AWG, flags: [A1, A2, A16, A4 to A8]}" in station
    assert "    - [A-K1 green, A-S1 red A16]\n" in station
    twin = renamed(quarry, "stations", "A10", "B11")
    assert "B11: {area: plaza lawn, hot: A-K2 blue, valves: {B11a: {box: VB-4}, B11b:" in twin
    assert "    - [A-K2 white in, A-K2 white out, A9, B11a, B11b]\n" in twin
    box = renamed(quarry, "boxes", "VB-3", "STAIRS")
    assert box.count("STAIRS") == quarry.count("VB-3") - 1 == 10  # one is a remark
    stretch = edit(quarry, "A9: {area: plaza planters drip, box: VB-4, hot: A-K2 red}",
                   "A9: {area: plaza, box: VB-4, hot: A-K2 red to VB-4}")  # fmt: skip
    assert "hot: A-K2 red to PLAZA}" in renamed(stretch, "boxes", "VB-4", "PLAZA")
    known = f"{quarry}known: [several-commons A, several-commons B]\n"
    assert "known: [several-commons P, several-commons B]" in renamed(
        known, "controllers", "A", "P"
    )


def test_a_station_stays_on_its_terminal_or_goes_where_its_name_says() -> None:
    larkspur = sample("larkspur")
    rose = renamed(larkspur, "stations", "A3", "ROSE")
    assert "ROSE: {" in rose and "hot: A-K1 green, controller: A, terminal: 3}" in rose
    # Named for its new controller it goes there; `P17` would be terminal 17 of a controller P.
    assert "P1-3: {area: " in renamed(larkspur, "controllers", "A", "P1")
    assert "terminal:" not in renamed(larkspur, "stations", "A3", "A8")
    # One that says its terminal keeps it, and its name with it.
    said = renamed(rose, "controllers", "A", "P")
    assert "ROSE: {area:" in said and "controller: P, terminal: 3}" in said


def test_what_cannot_be_changed_is_told() -> None:
    larkspur = sample("larkspur")
    cases = (
        (larkspur, ("boxes", "VB-1"), "A2", "'VB-1' would become 'A2', which is there already"),
        (f"{larkspur}relays: [PUMP]\n", ("boxes", "VB-1"), "X", "cannot be read so far"),
        (larkspur.replace("coil: usual", "coil: usual\n    box: VB-9"), ("controllers", "A"),
         "VB-1", "is there already"),
    )  # fmt: skip
    for text, path, key, sentence in cases:
        with pytest.raises(CannotRename, match=sentence):
            edited_with_names(text, [Rename(path=path, key=key)])
    # In a sentence, and in a row that lacks its area and so cannot be read yet.
    text = larkspur.replace("place: garage eave", "place: above VB-1")
    text = text.replace('area: "front lawn west, spray", ', "")
    done = edited_with_names(text, [Rename(path=("boxes", "VB-1"), key="WALK")])
    assert done.left == (("stations", "A1", "box"), ("sensors", "RAIN", "place"))
    # By hand: two runs and a hot less; the run of A-K1 and the box of A2.
    assert done.count == 2


def test_what_is_not_finished_or_written_once_for_several_is_told() -> None:
    unread = sample("larkspur").replace('area: "front lawn west, spray", ', "")
    done = edited_with_names(unread, [Rename(path=("controllers", "A"), key="P")])
    # By hand: two runs, the sensor, and the names of five stations that can be read.
    assert (done.count, done.left) == (8, (("stations", "A1"),))
    shared = sample("larkspur").replace("box: VB-1,", "box: &b VB-1,", 1)
    shared = shared.replace("box: VB-1,", "box: *b,")
    with pytest.raises(CannotRename, match="repeated elsewhere"):
        renamed(shared, "boxes", "VB-1", "WALK")


def test_other_changes_are_made_in_their_order() -> None:
    done = edited_with_names(
        sample("larkspur"),
        [
            Put(path=("stations", "A6", "box"), value="VB-1"),
            Rename(path=("boxes", "VB-1"), key="WALK"),
            Remove(path=("stations", "A5")),
            Put(path=("boxes", "VB-1"), value={"place": "new"}),
        ],
    )
    assert 'A6: {area: "side beds, drip", box: WALK' in done.text
    assert "  A5:" not in done.text and "  VB-1: {place: new}" in done.text
