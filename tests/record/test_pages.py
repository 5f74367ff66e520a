"""The pages of all sample jobs: strict HTML, links that lead somewhere, small, and true."""

from __future__ import annotations

import math
import re
from functools import lru_cache
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest

from cardgen.address import record_spelling
from cardgen.cards import cards_of
from cardgen.cards.card import CardKind, Code, Table
from cardgen.examine import examine_text
from cardgen.output.as_printable import as_printable
from cardgen.record import offline
from tests.jobs import SAMPLES, edit, sample
from tests.record.records import (
    BOTH,
    made,
    pages,
    printable,
    publish,
    revision,
    sample_files,
    tree,
    words,
)

BOX_LIMIT = 60_000  # bytes, style and script included


@pytest.mark.parametrize("job", SAMPLES)
def test_each_page_is_strict_html_with_one_heading_and_no_id_twice(job: str) -> None:
    for name, page in pages(sample_files(job)).items():
        root = tree(page)
        assert len(root.findall(".//h1")) == 1, name
        ids = [node.get("id") for node in root.iter() if node.get("id")]
        assert len(ids) == len(set(ids)), name
        assert root.get("lang") == ("es" if name.startswith("ES_/") else "en")


@pytest.mark.parametrize("job", SAMPLES)
def test_each_link_leads_to_a_file_and_an_anchor_that_are_there(job: str) -> None:
    files = sample_files(job)
    for name, page in pages(files).items():
        root = tree(page)
        ids = {node.get("id") for node in root.iter()}
        for link in root.iter("a"):
            target = urlsplit(link.get("href") or "")
            if target.scheme == "geo":
                continue
            assert not target.scheme and not target.netloc, name
            if not target.path:
                assert target.fragment in ids, (name, target)
                continue
            found = Path("/", name).parent.joinpath(unquote(target.path)).resolve()
            assert str(found.relative_to("/")) in files, (name, target.path)
            assert target.path.endswith("index.html")  # a memory stick has no server


@pytest.mark.parametrize("job", SAMPLES)
def test_no_page_asks_anything_of_anyone(job: str) -> None:
    for name, page in pages(sample_files(job)).items():
        root = tree(page)
        assert not list(root.iter("img")) and not list(root.iter("iframe")), name
        assert [link.get("href") for link in root.iter("link")] == ["data:,"]
        assert all(script.get("src") is None for script in root.iter("script"))
        uses = [node.get("href") for node in root.iter() if str(node.tag).endswith("use")]
        assert all(use and use.startswith("#s-") for use in uses)
        style = "".join(node.text or "" for node in root.iter("style"))
        assert "url(" not in style and "@import" not in style
        assert not any(node.get("style") for node in root.iter()), name  # the policy forbids it
        assert not any(key.startswith("on") for node in root.iter() for key in node.attrib)


@pytest.mark.parametrize("job", SAMPLES)
def test_each_page_says_what_a_browser_must_not_do(job: str) -> None:
    for page in pages(sample_files(job)).values():
        metas = {
            meta.get("name") or meta.get("http-equiv"): meta.get("content") or ""
            for meta in tree(page).iter("meta")
        }
        assert "noindex" in metas["robots"]
        assert metas["referrer"] == "no-referrer"
        policy = metas["Content-Security-Policy"]
        assert policy.startswith("default-src 'none'; ")
        assert "unsafe" not in policy and "*" not in policy and "http" not in policy


@pytest.mark.parametrize("job", SAMPLES)
def test_boxes_are_small_and_the_whole_job_is_bounded(job: str) -> None:
    files = sample_files(job)
    for box in printable(job).asbuilt.boxes:
        assert len(files[f"{record_spelling(box.id)}/index.html"]) < BOX_LIMIT
    assert sum(map(len, files.values())) < offline.LIMIT / 2


@pytest.mark.parametrize("job", SAMPLES)
def test_every_valve_and_its_figures_stand_on_the_page_of_its_box(job: str) -> None:
    files = sample_files(job)
    for valve in printable(job).asbuilt.valves:
        page = tree(files[f"{record_spelling(valve.box)}/index.html"])
        found = [node for node in page.iter("article") if node.get("id") == f"V-{valve.id}"]
        assert len(found) == 1
        text = words(found[0])
        assert text.startswith(valve.id)
        for mark in (valve.hot, valve.back):
            for part in (mark.word, mark.cable, mark.code, mark.flag) if mark else ():
                assert part in text
        if valve.ohms is not None:
            low, high = math.floor(valve.ohms.low), math.ceil(valve.ohms.high)
            assert f"{valve.ohms.expected:.1f} Ω {max(low, 0)} to {high} Ω" in text
        if valve.milliamperes is not None and not valve.latching:
            assert f"{valve.milliamperes} mA" in text


def test_the_content_comes_in_the_order_a_crew_needs_it() -> None:
    text = words(sample_files("larkspur")["VB-1/index.html"])
    order = (
        *("VB-1", "revision 1", "2026-03-14", "A1", "Hot at this valve", "red", "RD", "A-K1"),
        *("controller A, terminal 1", "Coil, leads off", "31.1 Ω", "Upstream and downstream"),
        *(
            "In the box",
            "Spares here",
            "Cautions",
            "How to find it",
            "6.5 ft (2 m) from garage corner",
        ),
        "Tag older than revision 1?",
    )
    places = [text.index(each) for each in order]
    assert places == sorted(places)


def test_a_reading_of_two_coils_on_one_terminal_says_so() -> None:
    """A10a and A10b are a twin, A9 is alone; the figure of 17.3 is held in `tests/electrics`."""
    page = tree(sample_files("quarry")["VB-4/index.html"])
    texts = {node.get("id"): words(node) for node in page.iter("article") if node.get("id")}
    assert "wires lifted 32.3" in texts["V-A9"]
    assert "At the controller, on 230 mA" in texts["V-A9"]  # 0.23 A, as its kind of coil says
    for twin in ("V-A10a", "V-A10b"):
        assert "wires lifted, all 2 valves 17.3" in texts[twin]
        assert "At the controller, on, all 2 valves 460 mA" in texts[twin]
    controller = words(tree(sample_files("quarry")["A/index.html"]))
    assert "Valves A10a and A10b" in controller
    assert "Valves A9" not in controller


def test_what_is_not_known_says_so() -> None:
    text = sample("larkspur").replace(", holding: 0.23 A", "")
    page = words(made(text, Path("nowhere")).files["VB-1/index.html"])
    assert "At the valve, connected, on not known" in page


def test_coordinates_open_a_map_and_come_before_the_ties() -> None:
    place = "{place: front bed, size: 12 x 17 in}"
    text = sample("larkspur").replace(
        place, "{place: front bed, coordinates: '51.12345, -1.12345'}"
    )
    page = tree(made(text, Path("nowhere")).files["VB-2/index.html"])
    # RFC 5870: latitude, longitude; the figures beside it for phones that do not know the link.
    assert "geo:51.12345,-1.12345" in [link.get("href") for link in page.iter("a")]
    assert "Open the map Latitude, longitude: 51.12345, -1.12345" in words(page)


def test_without_coordinates_there_are_distances_and_no_map() -> None:
    page = tree(sample_files("larkspur")["VB-1/index.html"])
    assert not any((link.get("href") or "").startswith("geo") for link in page.iter("a"))
    assert "How to find it front walk 6.5 ft (2 m) from garage corner" in words(page)


def test_the_loop_of_a_spare_is_that_of_the_printed_list() -> None:
    """On the page of each box it comes to, and in the list of all."""
    files = sample_files("quarry")
    (card,) = cards_of(printable("quarry"))[CardKind.SPARE_LIST]
    table = card.fields["spares"]
    assert isinstance(table, Table)
    known = 0
    for row in table.rows:
        said = dict(zip(table.columns, row, strict=True))
        expected = re.fullmatch(r"([\d.]+)\D+(\d+)–(\d+)\D*", str(said["expected loop Ω"]))
        known += expected is not None
        loop = "{} Ω {} to {} Ω".format(*expected.groups()) if expected else "not known"
        title = f"Loop from {said['from']}, joined in {said['last box']} {loop}"
        for name in ("SPARE_LIST", record_spelling(str(said["last box"]))):
            text = words(files[f"{name}/index.html"])
            assert title in text[text.index(str(said["flag"])) :]
    assert known > 3


@pytest.mark.parametrize("job", SAMPLES)
def test_the_code_beside_the_symbol_is_found_in_the_record(job: str) -> None:
    printed, files = printable(job), sample_files(job)
    text = words(files["FIND_IN_JOB/index.html"])
    for card in (c for cards in cards_of(printed).values() for c in cards):
        code = card.fields.get("code")
        if isinstance(code, Code):
            assert code.text in text


@pytest.mark.parametrize("job", SAMPLES)
def test_a_controller_page_has_the_terminals_of_the_legend_in_its_door(job: str) -> None:
    files = sample_files(job)
    for card in cards_of(printable(job))[CardKind.LEGEND]:
        page = tree(files[f"{record_spelling(card.id)}/index.html"])
        items = [node for node in page.iter("div") if node.get("class") == "item"]
        shown: dict[str, str] = {}
        for item in items:
            for head in item.iter("h3"):
                shown[words(head)] = shown.get(words(head), "") + words(item).lower()
        table = card.fields["terminals"]
        assert isinstance(table, Table)
        told: dict[str, None] = {}
        for row in table.rows:
            said = dict(zip(table.columns, row, strict=True))
            name, _, station = str(said["terminal"]).replace("\u00a0", " ").partition(" · ")
            key, _, number = name.partition(" ")
            titles = {"PATH": f"Two-wire path, side {number}", "address": f"Address {number}"}
            title = titles.get(key, f"Terminal {name}")
            told[title] = None
            color = said["wire color here"]
            for part in (station, getattr(color, "word", ""), getattr(color, "cable", "")):
                assert part.lower() in shown[title], (name, part)
        assert list(told) == [title for title in shown if title in told]
        assert len(told) == len(shown)


def test_a_controller_page_says_power_shared_boxes_and_how_a_sensor_is_bypassed() -> None:
    """As larkspur, quarry and sandpiper have them: read from their files by hand."""
    place = "    place: garage wall\n"
    text = edit(sample("larkspur"), place, place + "    transformer: 40 VA\n    fuse: 1.5 A\n")
    files = made(text, Path("nowhere"), BOTH).files
    for page, said in (
        (
            files["A/index.html"],
            (
                "Power: transformer 40 VA; fuse 1.5 A; at most 0.5 A on one terminal; at most 1 A",
                "6 of 8 stations used; free: 7 and 8.",
                "RAIN: rain sensor (garage eave), normally closed, on SEN. To bypass it for",
                "for a test: lock the power off, put a jumper across the SEN terminals.",
            ),
        ),
        (
            files["ES_/A/index.html"],
            (
                "Alimentación: transformador 40 VA; fusible 1.5 A;",
                "Para anularlo en una prueba: corte la energía y ponga un jumper",
            ),
        ),
        # B-K1 comes to VB-3 and VB-5; MV-1 is shared, and its hot goes on in SB-1.
        (
            sample_files("quarry")["A/index.html"],
            ("Boxes shared with B: SB-1, VB-3, MVB-1 and VB-5.",),
        ),
        (sample_files("sandpiper")["P/index.html"], ("for a test: take the battery out,",)),
    ):
        shown = words(tree(page))
        assert [part for part in said if part not in shown] == [], shown


def test_a_drawing_on_a_screen_claims_no_scale() -> None:
    for name in ("WIRING_DRAWING/index.html", "ES_/WIRING_DRAWING/index.html"):
        page = sample_files("quarry")[name].decode()
        assert "QUAR-24 · rev" in page
        assert "50 mm" not in page


def test_each_look_of_a_conductor_is_drawn_once_and_named_in_words() -> None:
    root = tree(sample_files("quarry")["VB-3/index.html"])
    drawn = [n.get("id") for n in root.iter() if str(n.tag).endswith("symbol")]
    assert len(drawn) == len(set(drawn))
    for box in root.iter("div"):
        if (box.get("class") or "").startswith("wire"):
            word = words(box).split()[0]
            use = next(node for node in box.iter() if str(node.tag).endswith("use"))
            assert use.get("href") == "#s-" + word.replace("/", "-")


def test_the_same_job_gives_the_same_bytes() -> None:
    again = made(sample("heron"), Path("nowhere"), BOTH).files
    assert again == sample_files("heron")


# ---- small facts that nobody would miss until they stand in the mud ------------------------

# A - K1 - SB-1 - K2 - VB-1 - K2 - SB-2 - K3 - VB-2; only VB-1 has a place.
CHAIN = """\
job: {code: CHA-1, site: Hillside, revision: 1, date: 2026-03-14}
record: {address: https://jobs.example.com, key: 7Q2F9KX4M3T8}
coils:
  usual: {supply: 24 V AC, resistance: 30 ohm, inrush: 0.40 A, holding: 0.23 A, minimum: 20 V}
connectors: {small: {takes: [2-5 x 18 AWG]}}
controllers:
  A:
    {place: wall, supply: 24 V AC, stations: 4, coil: usual, common: [K1 white, K2 white, K3 white]}
cables:
  K1: {gauge: 18 AWG, colors: [white, red, blue], run: [A, 100 ft, SB-1]}
  K2: {gauge: 18 AWG, colors: [white, orange, green, blue], run: [SB-1, 80 ft, VB-1, 40 ft, SB-2]}
  K3: {gauge: 18 AWG, colors: [white, brown], run: [SB-2, 50 ft, VB-2]}
boxes:
  SB-1: {kind: splice box}
  SB-2: {kind: splice box}
  VB-1: {place: front walk}
  VB-2: {}
stations:
  A1: {area: pond, box: VB-2, hot: [K1 red, K2 orange, K3 brown]}
  A2: {area: lawn, box: VB-1, hot: [K1 blue, K2 blue], device: surge arrester}
"""


@lru_cache
def chain() -> dict[str, bytes]:
    return dict(made(CHAIN, Path("nowhere")).files)


def section(page: bytes, title: str) -> str:
    """What stands on a page below that heading."""
    (found,) = (s for s in tree(page).iter("section") if words(s).startswith(title))
    return words(found)


def test_a_capped_end_stands_on_the_page_of_its_box() -> None:
    """K2 blue is taken at VB-1: what is left of it goes on to SB-2 and is capped at both ends."""
    capped = section(chain()["VB-1/index.html"], "In the box").partition("Capped ends")[2]
    assert "blue BU K2 · 18 AWG · to SB-2" in capped
    assert "blue BU K2" in section(chain()["SB-2/index.html"], "In the box")


def test_behind_a_device_no_band_is_told() -> None:
    """A meter would measure the device."""
    (valve,) = tree(chain()["VB-1/index.html"]).iter("article")
    (reads,) = (node for node in valve.iter("dl") if node.get("class") == "reads")
    assert words(reads).count("no meaning") == 2
    assert "Ω" not in words(reads)
    (other,) = tree(chain()["VB-2/index.html"]).iter("article")
    assert words(other).count("Ω") > 2 and "no meaning" not in words(other)


def test_a_spare_begins_in_one_box_passes_the_next_and_ends_in_the_last() -> None:
    """K2 green, which nothing uses."""
    told = {"SB-1": "begins here", "VB-1": "passes here uncut", "SB-2": "ends here"}
    for box, said in told.items():
        text = section(chain()[f"{box}/index.html"], "Spares here")
        green = text[text.index("green") :]
        assert [each for each in told.values() if each in green] == [said], box
    printable = as_printable(examine_text(CHAIN))
    assert printable is not None
    boxes = [box.id for box in printable.asbuilt.boxes for spare in box.spares if spare.passes]
    assert boxes == ["VB-1"]


def test_where_a_box_has_no_place_nothing_is_left_of_it() -> None:
    links = [words(a) for a in tree(chain()["index.html"]).iter("a")]
    assert "VB-1 A2 · front walk" in links
    assert "VB-2 A1" in links
    assert not any(link.endswith("·") or "· ·" in link for link in links)


def test_every_conductor_on_the_way_has_its_swatch() -> None:
    """K2 orange is on no tag: only the page of the station shows it."""
    page = tree(chain()["STATION_A1/index.html"])
    drawn = {n.get("id") for n in page.iter() if str(n.tag).endswith("symbol")}
    shown = {n.get("href") for n in page.iter() if str(n.tag).endswith("use")}
    assert "#s-orange" in shown
    assert shown == {f"#{name}" for name in drawn}


@pytest.mark.parametrize("job", SAMPLES)
def test_every_picture_of_a_conductor_is_on_its_page(job: str) -> None:
    for name, page in pages(sample_files(job)).items():
        nodes = list(tree(page).iter())
        drawn = {f"#{n.get('id')}" for n in nodes if str(n.tag).endswith("symbol")}
        shown = {n.get("href") for n in nodes if str(n.tag).endswith("use")}
        assert shown <= drawn, (name, shown - drawn)


def test_a_box_that_is_gone_tells_of_the_revisions_that_had_it(tmp_path: Path) -> None:
    boxes = "boxes:\n"
    gate = f"{boxes}  VB-9: {{place: rear gate, kind: pull box}}\n"
    for text in (revision(1), revision(2, (boxes, gate))):
        publish(text, tmp_path)
    folder = publish(revision(3), tmp_path)
    said = words((folder / "VB-9" / "index.html").read_bytes())
    assert "If your tag says revision 2: it needs a new tag." in said
    assert "revision 1" not in said


def test_a_controller_that_is_gone_says_so(tmp_path: Path) -> None:
    """Its door legend may hang on, and the code on it leads here."""
    more = [
        "  SHED: {place: shed, supply: 24 V AC, stations: 4, coil: usual, common: S-K1 white}",
        "  S-K1: {gauge: 18 AWG, palette: five, band: red tape, run: [SHED, 10 ft, VB-3]}",
    ]
    heads = ("controllers:\n", "cables:\n")
    edits = [(head, f"{head}{line}\n") for head, line in zip(heads, more, strict=True)]
    publish(revision(1, *edits), tmp_path)
    folder = publish(revision(2), tmp_path)
    assert "SHED is not in revision 2" in words((folder / "SHED" / "index.html").read_bytes())
