"""The packet as a reader's program sees it: ten pages for the owner, an annex for each controller.

That ten pages are the most is our choice; orders and names are counted by hand from the jobs.
"""

from __future__ import annotations

import re
from functools import cache

import pytest

from cardgen.examine import examine_text
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import make_print
from cardgen.output.selection import Selection
from tests.jobs import SAMPLES, sample
from tests.outside.pages import outline_by_pypdf, text_by_pdfium, whole_outline_by_pypdf
from tests.property.jobs import Wish, random_plan

ALL_LANGUAGES = [("en",), ("es",), ("en", "es")]
CONTROLLERS = {"larkspur": "A", "sandpiper": "P", "quarry": "AB", "heron": "ABCD"}


@cache
def packet(text: str, *languages: str) -> bytes:
    request = PrintRequest(selection=Selection(only=("packet",)), languages=languages or ("en",))
    made, problems = make_print(examine_text(text), request)
    assert made is not None, problems
    return made.files["packet.pdf"]


def big_job(stations: int, controllers: int) -> str:
    wish = Wish(seed=72, stations=stations, controllers=controllers, specials=1.0, sharing=0.3)
    return random_plan(wish).text


def owners_pages(pdf: bytes) -> int:
    """All before the first annex."""
    return next(page for title, page in outline_by_pypdf(pdf) if re.match("An[en]", title)) - 1


def plain(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("languages", ALL_LANGUAGES)
@pytest.mark.parametrize("name", SAMPLES)
def test_the_owners_part_has_at_most_ten_pages(name: str, languages: tuple[str, ...]) -> None:
    assert owners_pages(packet(sample(name), *languages)) <= 10


@pytest.mark.parametrize(("stations", "controllers"), [(72, 1), (160, 4)])
def test_so_it_is_for_large_jobs(stations: int, controllers: int) -> None:
    pdf = packet(big_job(stations, controllers))
    assert owners_pages(pdf) <= 10


@pytest.mark.parametrize("name", SAMPLES)
def test_first_comes_what_the_owner_reads_then_an_annex_for_each_controller(name: str) -> None:
    """The spare list of heron has no room in the ten pages; sandpiper has no spares."""
    found = [title for title, _ in outline_by_pypdf(packet(sample(name)))]
    spares = ["Spare list"] if name in ("larkspur", "quarry") else []
    assert found == [
        "Cover",
        *(f"Station schedule {controller}" for controller in CONTROLLERS[name]),
        *spares,
        "Changes and open items",
        "Handover and sign-off",
        *(f"Annex {controller}" for controller in CONTROLLERS[name]),
        "Annex: whole job",
    ]


@pytest.mark.parametrize("name", SAMPLES)
def test_an_annex_can_be_taken_along_by_itself(name: str) -> None:
    """Each of its pages names it, and those with a title their controller."""
    pdf = packet(sample(name))
    texts = [plain(text) for text in text_by_pdfium(pdf)]
    found = whole_outline_by_pypdf(pdf)
    for number, (_, title, page) in enumerate(found):
        controller = title.removeprefix("Annex ")
        if controller not in CONTROLLERS[name]:
            continue
        documents = [
            "Test sheet",
            "Wiring drawing",
            f"Conductor schedule {controller}",
            f"Splice register {controller}",
        ]
        assert [title for _, title, _ in found[number + 1 : number + 5]] == documents
        after = next(p for level, _, p in found[number + 1 :] if level == 0)
        for text in texts[page - 1 : after - 1]:
            assert f"Annex {controller} · packet page" in text
            assert not re.search(rf"CONTROLLER (?!{controller}\b)[A-Z]\b", text)
    whole = next(page for _, title, page in found if title == "Annex: whole job")
    assert all("Annex: whole job · packet page" in text for text in texts[whole - 1 :])


def test_each_box_of_the_campus_is_in_the_annexes() -> None:
    """49 boxes; PB-1 is on cables of A and of B, so it is in two registers."""
    pdf = packet(sample("heron"))
    register = " ".join(t for t in map(plain, text_by_pdfium(pdf)) if "SPLICE REGISTER" in t)
    boxes = re.findall(r"^  ([A-Z]+-[\dA]+): \{place", sample("heron"), re.MULTILINE)
    kind = "(?:valve|splice|pull|wall) box"
    counted = {box: len(re.findall(rf"\b{box} {kind}", register)) for box in boxes}
    assert len(boxes) == 49
    assert counted == {box: 2 if box == "PB-1" else 1 for box in boxes}


def test_what_has_no_room_goes_into_the_annexes_and_the_cover_says_so() -> None:
    small = packet(sample("larkspur"))
    assert "owner's part short" not in plain(text_by_pdfium(small)[0])
    heron = plain(text_by_pdfium(packet(sample("heron")))[0])
    assert "To keep the owner's part short, these are in the annexes: Spare list." in heron
    pdf = packet(big_job(160, 4))
    levels = {title: level for level, title, _ in whole_outline_by_pypdf(pdf)}
    assert levels["Spare list"] == levels["Station schedule A"] == 1
    assert levels["Changes and open items"] == levels["Handover and sign-off"] == 0
    assert "Station schedule A" in plain(text_by_pdfium(pdf)[0])


SAID = {
    "en": ("OPEN ITEMS", "Two distances to fixed points are missing", "VB-2 and VB-3", "SIGN-OFF"),
    "es": ("PENDIENTES", "Faltan dos distancias a puntos fijos", "VB-2 y VB-3", "FIRMAS"),
}


@pytest.mark.parametrize("languages", ALL_LANGUAGES)
def test_open_items_and_sign_off_are_printed_in_each_language(languages: tuple[str, ...]) -> None:
    """Larkspur gives the distances of VB-1 only."""
    text = plain(" ".join(text_by_pdfium(packet(sample("larkspur"), *languages))))
    for language in languages:
        assert all(words in text for words in SAID[language])


def test_a_drawing_of_one_cable_on_two_sheets_is_not_in_parts() -> None:
    """The path of D begins with one cable; A has five."""
    text = plain(" ".join(text_by_pdfium(packet(sample("heron")))))
    assert "WIRING DRAWING in 5 parts" in text
    assert "in 1 part" not in text
