"""Tags of older revisions: what changed, where things went, and that no page is ever lost."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from cardgen.asbuilt import AsBuilt
from cardgen.examine import examine_text
from cardgen.memory.changes import changes
from cardgen.output.as_printable import as_printable
from cardgen.output.recording import RecordRequest
from cardgen.problems import CannotWrite
from cardgen.record import PageWords
from cardgen.record.changes_since import sentence_of
from cardgen.words import load_words
from tests.cards.pigtails import AT_C, HEAD, TWO_C, YARD
from tests.jobs import edit, sample
from tests.record.records import (
    BOTH,
    LARKSPUR,
    in_folder,
    kept_pages,
    pages,
    publish,
    revision,
    tree,
    words,
)

A6 = 'A6: {area: "side beds, drip", box: VB-2, hot: A-K1 yellow}'
VB_3 = "VB-3: {place: back lawn edge, size: 12 x 17 in}"
# Revision 2 has a box at the end of A-K1 for A6; in 3 it is gone again and A3 has another color.
FIRST = revision(1)
SECOND = revision(
    2,
    (A6, A6.replace("VB-2", "VB-4")),
    (VB_3, f"{VB_3}\n  VB-4: {{place: side yard}}"),
    ("60 ft, VB-2]}", "60 ft, VB-2, 30 ft, VB-4]}"),
)
THIRD = revision(3, ("hot: A-K1 green", "hot: A-K1 orange"))
ALL = (FIRST, SECOND, THIRD)


def publish_all(out: Path) -> Path:
    """All three, oldest first; the folder of the job."""
    for text in ALL:
        publish(text, out)
    return out / LARKSPUR


def older(folder: Path, box: str) -> str:
    """What a page says to the holder of an older tag."""
    text = words((folder / box / "index.html").read_bytes())
    return text[text.index("Tag older than revision") :]


def alarmed(folder: Path, box: str) -> bool:
    root = tree((folder / box / "index.html").read_bytes())
    return any(node.get("class") == "alarm" for node in root.iter())


def test_the_order_of_publishing_does_not_matter(tmp_path: Path) -> None:
    found = []
    for number, order in enumerate((ALL, ALL[::-1], (SECOND, THIRD, FIRST))):
        folders = {publish(text, tmp_path / str(number)) for text in order}
        found.append(in_folder(folders.pop()))
    assert all(each == found[0] for each in found)


def test_a_page_says_what_changed_since_each_revision(tmp_path: Path) -> None:
    folder = publish_all(tmp_path)
    assert alarmed(folder, "VB-2")
    text = older(folder, "VB-2")
    assert (
        "If your tag says revision 2: it needs a new tag. Since then: A6 came here from VB-4"
        in text
    )
    was = "A3, hot at the valve: was A-K1 green GN, now A-K1 orange OG"
    assert text.count(was) == 2  # since 2, and since 1


def test_a_tag_that_still_says_what_is_here_is_not_called_old(tmp_path: Path) -> None:
    folder = publish_all(tmp_path)
    assert not alarmed(folder, "VB-3")
    text = older(folder, "VB-3")
    assert "If your tag says revision 2, 1: it is still right." in text


def test_a_box_that_is_gone_keeps_a_page_that_says_where_things_went(tmp_path: Path) -> None:
    folder = publish_all(tmp_path)
    text = words((folder / "VB-4" / "index.html").read_bytes())
    assert "VB-4 is not in revision 3 It was last in revision 2, 2026-04-02." in text
    assert "A6 is now in VB-2." in text
    links = [a.get("href") for a in tree((folder / "VB-4" / "index.html").read_bytes()).iter("a")]
    assert "../VB-2/index.html" in links


def test_a_station_that_is_gone_keeps_a_page(tmp_path: Path) -> None:
    publish(FIRST, tmp_path)
    gone = revision(2, (f"  {A6}\n", ""))
    folder = publish(gone, tmp_path)
    text = words((folder / "STATION_A6" / "index.html").read_bytes())
    assert "A6 is not in revision 2" in text
    assert "A6 is no longer in the job." in older(folder, "VB-2")


def test_every_page_of_every_revision_stays_and_is_kept_without_signal(tmp_path: Path) -> None:
    once: set[str] = set()
    folder = tmp_path / LARKSPUR
    for text in ALL:
        publish(text, tmp_path)
        once |= set(in_folder(folder))
        assert once == set(in_folder(folder))
    kept = kept_pages((folder / "offline_.js").read_bytes())
    assert sorted(kept) == sorted(pages(in_folder(folder)))


def test_an_older_revision_leaves_what_the_newest_says(tmp_path: Path) -> None:
    before = in_folder(publish(THIRD, tmp_path / "only"))
    publish(THIRD, tmp_path / "both")
    after = in_folder(publish(FIRST, tmp_path / "both"))
    drawing = "WIRING_DRAWING/index.html"
    assert after[drawing] == before[drawing]
    assert "orange OG A-K1" in words(after["STATION_A3/index.html"])
    assert "revision 3" in words(after["index.html"])


def test_a_revision_published_again_with_other_wiring_stops(tmp_path: Path) -> None:
    before = in_folder(publish(THIRD, tmp_path))
    other = revision(3, ("hot: A-K1 green", "hot: A-K1 brown"))
    with pytest.raises(CannotWrite, match="revision 3 was published before"):
        publish(other, tmp_path)
    assert in_folder(tmp_path / LARKSPUR) == before
    publish(other, tmp_path, RecordRequest(replace=True))
    assert in_folder(publish(other, tmp_path)) != before


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("color: white, length: 8 in}\n  PT-2", "color: white, length: 9 in}\n  PT-2"),
        ("PT-2: {at: VB-1, gauge: 18 AWG}", "PT-2: {at: VB-1, gauge: 14 AWG}"),
        ("color: white/red, length: 0.2 m", "color: white/red, length: 0.3 m"),
        ("    - [C 1, K2 white]\n    - [C 2, PT-C]", "    - [C 2, K2 white]\n    - [C 1, PT-C]"),
        ("[C 2, PT-C]\n    - [PT-C, K1 white]", "[C 2, K1 white, PT-C]\n    - [PT-C]"),
    ],
)
def test_other_pigtails_are_another_wiring(tmp_path: Path, old: str, new: str) -> None:
    joints = "    - [C 1, K2 white]\n    - [C 2, PT-C]\n    - [PT-C, K1 white]\n"
    text = edit(HEAD + TWO_C + YARD, AT_C, joints)
    before = in_folder(publish(text, tmp_path))
    assert in_folder(publish(text, tmp_path)) == before
    with pytest.raises(CannotWrite, match="revision 1 was published before"):
        publish(edit(text, old, new), tmp_path)


def test_the_same_revision_again_changes_nothing(tmp_path: Path) -> None:
    before = in_folder(publish(SECOND, tmp_path))
    assert in_folder(publish(SECOND, tmp_path)) == before


@pytest.mark.parametrize(
    "damage",
    [
        b"",
        b"{",
        b"[]",
        b'{"languages": ["en"], "results": [], "revisions": []}',
        b'{"format": 1, "languages": ["en"], "results": [], "revisions": [{}]}',
    ],
)
def test_a_damaged_file_of_revisions_stops_everything(tmp_path: Path, damage: bytes) -> None:
    folder = publish(FIRST, tmp_path)
    (folder / "revisions_.json").write_bytes(damage)
    before = in_folder(folder)
    with pytest.raises(CannotWrite, match="damaged"):
        publish(SECOND, tmp_path)
    assert in_folder(folder) == before


def test_a_file_of_another_version_says_what_to_do(tmp_path: Path) -> None:
    folder = publish(FIRST, tmp_path)
    path = folder / "revisions_.json"
    written = json.loads(path.read_bytes())
    first = written["revisions"][0]
    strange = {**written, "revisions": [{**first, "weather": "fine"}]}
    for other in ({**written, "format": 2}, {**written, "weather": "fine"}, strange):
        path.write_text(json.dumps(other), encoding="utf-8")
        before = in_folder(folder)
        with pytest.raises(CannotWrite, match="was written by another version") as refused:
            publish(SECOND, tmp_path)
        assert "publish all revisions again into an empty folder" in refused.value.help
        assert in_folder(folder) == before


def test_a_lost_file_of_revisions_stops_everything(tmp_path: Path) -> None:
    folder = publish_all(tmp_path)
    (folder / "revisions_.json").unlink()
    before = in_folder(folder)
    with pytest.raises(CannotWrite, match="is missing"):
        publish(THIRD, tmp_path)
    assert in_folder(folder) == before


def test_another_job_with_the_same_key_stops(tmp_path: Path) -> None:
    publish(FIRST, tmp_path)
    with pytest.raises(CannotWrite, match="another job"):
        publish(SECOND.replace("LARK-06", "OTHER-1"), tmp_path)


def test_two_things_that_would_share_a_page_stop(tmp_path: Path) -> None:
    text = revision(1).replace("VB-3", "a").replace("[a,", "[A,")
    with pytest.raises(CannotWrite, match="would share the page 'A'"):
        publish(text, tmp_path)
    assert not (tmp_path / LARKSPUR).exists()


def test_what_no_tag_says_makes_no_tag_old(tmp_path: Path) -> None:
    publish(FIRST, tmp_path)
    folder = publish(revision(2, ("4.0 ft from walk edge", "4.5 ft from walk edge")), tmp_path)
    assert not alarmed(folder, "VB-1")
    text = older(folder, "VB-1")
    assert "If your tag says revision 1: the tag is still right. Changed nearby: distances:" in text
    assert "now 6.5 ft from garage corner, 4.5 ft from walk edge" in text


def test_many_revisions_leave_a_page_small(tmp_path: Path) -> None:
    area = "front lawn west, spray"
    for number in range(1, 13):
        publish(revision(number, (area, f"front lawn {number}")), tmp_path)
    page = tmp_path / LARKSPUR / "VB-1" / "index.html"
    assert len(page.read_bytes()) < 30_000
    text = older(tmp_path / LARKSPUR, "VB-1")
    assert "A1, area: was front lawn 11, now front lawn 12" in text
    assert "If your tag says revision 1: it needs a new tag." in text


def test_a_warning_of_the_tags_stands_on_every_page_and_makes_tags_without_it_old(
    tmp_path: Path,
) -> None:
    publish(FIRST, tmp_path)
    reclaimed = revision(2, ("date: 2026-04-02}", "date: 2026-04-02, water: reclaimed}"))
    folder = publish(reclaimed, tmp_path, BOTH)
    warning = "RECLAIMED WATER\N{NO-BREAK SPACE}– DO NOT DRINK".replace("\N{NO-BREAK SPACE}", " ")
    for name, page in pages(in_folder(folder)).items():
        assert (warning in words(page)) != name.startswith("ES_/"), name
    assert alarmed(folder, "VB-1")
    assert f"water: was none, now {warning}" in older(folder, "VB-1")


def test_a_serial_number_that_came_is_told() -> None:
    """It is on the tag, as its decoder and the address are, which stay."""
    then = sample("heron")
    was, now = "was Decoder DC-201, address 201", "now Decoder DC-201, address 201, serial 88-4021"
    told = told_since(then, edit(then, "DC-201: {", "DC-201: {serial: 88-4021, "), "DX-1")
    assert told == [f"D1, decoder: {was}, {now}"]


def test_leads_that_are_exchanged_are_told_by_their_colors() -> None:
    """The first is on the hot, in the job as it was and with all of them exchanged."""
    then, other = sample("sandpiper"), {"red": "black", "black": "red"}
    now = re.sub(r"(?<=\d |P )(red|black)(?=\]\n)", lambda lead: other[lead[1]], then)
    now = edit(now, "{hot: red, common: black}", "{hot: black, common: red}")
    told = told_since(then, now, "VB-1")
    for valve in ("P1", "P2"):
        assert f"{valve}, polarity: was red, black, now black, red" in told


def told_since(then: str, now: str, box: str) -> list[str]:
    catalogues, _ = load_words(("en",))
    assert catalogues is not None
    found = changes(box, as_built(then), as_built(now))
    return [sentence_of(PageWords(catalogues), change) for change in found]


def as_built(text: str) -> AsBuilt:
    printable = as_printable(examine_text(text))
    assert printable is not None
    return printable.asbuilt
