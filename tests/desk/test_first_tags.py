"""From an empty folder to printed tags in a real browser, without YAML and without a terminal."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml
from playwright.sync_api import Browser, expect

from cardgen.examine import examine
from tests.desk.desks import OFFICE, TABLET, cell, desk_page, open_desk
from tests.desk.people import Person
from tests.desk.tags_read import tags_read
from tests.jobs import sample
from tests.record.test_access import axe_finds_nothing

pytestmark = pytest.mark.xdist_group("browser")

ROOT = Path(__file__).parents[2]
# What a person may have to do and to read until there is a PDF; our choice.
MOST_ACTIONS, MOST_WORDS = 120, 285
# 16 stations in 6 boxes, as a list in an office has them; two are typed, the rest is pasted.
AREAS = [f"bed {number}, spray" for number in range(3, 17)]
BOXES = ["VB-1", "VB-1", *(f"VB-{number // 3 + 1}" for number in range(3, 17))]
_TOO_WIDE = "() => document.documentElement.scrollWidth - innerWidth"
# Those that are known, in the order in which a set of 18 conductors may have them: made up.
COLORS = (
    "white, black, brown, red, orange, yellow, green, blue, violet, gray, pink, tan, turquoise, "
    "gold, silver, light-blue, white/red, white/blue"
)


class FirstTags:
    """A person with a list of stations and an empty folder, who reads one language."""

    def __init__(self, person: Person, language: str) -> None:
        self.person, self.page = person, person.page
        path = ROOT / "layouts" / "words" / f"{language}.yaml"
        self.words = yaml.safe_load(path.read_text(encoding="utf-8"))["desk"]

    def press(self, name: str, role: str = "button", **values: int) -> None:
        """What says so, once it is there; then all that is new is looked at."""
        said = self.words[name].format(**values)
        self.person.click(self.page.get_by_role(role, name=said, exact=True))  # type: ignore[arg-type]

    def open_part(self, part: str) -> None:
        self.person.click(self.page.locator(f"#tab-{part}"))
        self.page.locator(".tabulator-row").first.wait_for()
        self.person.look()

    def row(self, *texts: str) -> None:
        """The first row of the part that is open, from its name on."""
        self.person.type(0, "name", *texts)
        self.person.look()

    def make_job(self) -> None:
        self.person.look()
        for name, text in (
            ("site name", "Oak Court"),
            ("place of A", "garage wall"),
            ("terminals of A", "16"),
            ("record address", "https://jobs.example.com"),
        ):
            self.person.fill(self.words[name], text)
        self.press("make job")
        self.page.locator(".tabulator-row").first.wait_for()
        self.person.look()

    def list_stations(self) -> None:
        # What a job cannot do without, each a button that leads there.
        for part in ("stations", "boxes", "cables"):
            button = self.page.locator("#findings").get_by_role(
                "button", name=self.words[f"part {part}"]
            )
            expect(button).to_be_visible()
        self.person.type(0, "area", "front lawn, rotor", "VB-1")
        self.person.look()
        expect(cell(self.page, 0, "name")).to_have_text("A1")
        self.person.type(1, "area", "front walk, spray", "VB-1")
        self.person.look()
        lines = map("\t".join, zip(AREAS, BOXES[2:], strict=True))
        self.person.paste(2, "area", *lines)
        expect(cell(self.page, 15, "name")).to_have_text("A16")
        self.person.look()
        # One fault of six boxes is told once, with each place.
        assert self.page.locator("#findings .error").count() == 1
        expect(self.page.locator("#findings .error button")).to_have_text(
            [re.compile("A1$"), "A3: VB-2", "A6: VB-3", "A9: VB-4", "A12: VB-5", "A15: VB-6"]
        )
        self.press("add boxes", count=6)
        self.person.look()

    def describe_wiring(self) -> None:
        self.open_part("palettes")
        self.row("eighteen", COLORS)
        self.open_part("coils")
        self.row("usual", "24 V AC", "30 ohm", "0.40 A", "0.23 A", "20 V")
        self.open_part("connectors")
        self.row("small", "2-5 x 18 AWG")
        self.open_part("cables")
        run = ", ".join(["A, 85 ft, VB-1", *(f"40 ft, VB-{number}" for number in range(2, 7))])
        self.row("A-K1", run, "18 AWG", "eighteen")
        self.open_part("controllers")
        limits = "C, 1 to 16, MV\tA-K1 white\tusual\t0.5 A\t1.0 A"
        self.person.paste(0, "terminals", limits)
        self.person.look()

    def choose_wires(self) -> None:
        self.open_part("stations")
        # No wire yet is a state of the work, told once, with its way out.
        told = self.words["without wire"].format(count=16)
        expect(self.page.locator(".findings .open")).to_contain_text(told)
        expect(cell(self.page, 3, "hot")).to_have_text(self.words["no wire yet"])
        assert self.page.locator(".findings .error").count() == 0
        axe_finds_nothing(self.page)
        self.person.click(self.page.locator("#choose-wires"))
        self.page.locator("#proposals button").first.wait_for()
        self.person.look()
        self.press("accept all")
        expect(self.page.locator("#findings")).to_have_text(self.words["nothing wrong"])
        self.person.look()

    def print_tags(self, words_on_tags: str) -> None:
        self.press("to print", "link")
        self.page.get_by_label(self.words["stock"]).wait_for()
        self.person.look()
        axe_finds_nothing(self.page)
        if words_on_tags != "en":
            self.page.get_by_label(self.words["language"]).select_option(words_on_tags)
            self.person.actions += 2  # open the list, choose
        self.press("print")
        expect(self.page.get_by_role("link", name="valve-tags.pdf")).to_be_visible()
        axe_finds_nothing(self.page)


@pytest.mark.parametrize(
    ("language", "size", "says"),
    [
        ("en", OFFICE, ("box", "controller", "COMMON")),
        ("es", TABLET, ("caja", "controlador", "COMÚN")),
    ],
)
def test_sixteen_stations_from_an_empty_folder_to_tags_on_paper(
    browser: Browser, tmp_path: Path, language: str, size: dict[str, int], says: tuple[str, ...]
) -> None:
    with (
        open_desk(tmp_path) as address,
        desk_page(browser, size=size, language=language) as (page, faults),
    ):
        page.goto(address)
        axe_finds_nothing(page)
        person = Person(page)
        work = FirstTags(person, language)
        work.make_job()
        work.list_stations()
        work.describe_wiring()
        work.choose_wires()
        read = person.words
        work.print_tags(language)
        assert page.evaluate(_TOO_WIDE) <= 0
        assert faults == []
    assert 150 < read < person.words <= MOST_WORDS, person.read  # 150: it does read
    assert 100 < person.actions <= MOST_ACTIONS
    assert examine(tmp_path / "oak-court.yaml").problems == ()
    tags_say_what_was_typed(tmp_path, says)


def tags_say_what_was_typed(folder: Path, says: tuple[str, ...]) -> None:
    job = yaml.safe_load((folder / "oak-court.yaml").read_text(encoding="utf-8"))
    box_word, controller_word, common_word = says
    tags = tags_read(folder / "oak-court-cards" / "valve-tags.pdf", with_codes=True)
    assert [tag.valve for tag in tags] == [f"A{number}" for number in range(1, 17)]
    areas = ["front lawn, rotor", "front walk, spray", *AREAS]
    for number, (tag, area, box) in enumerate(zip(tags, areas, BOXES, strict=True), 1):
        assert f"{box_word} {box} {controller_word} A, terminal {number} {area} " in tag.text
        assert f"{common_word} A · A-K1" in tag.lines
        assert tag.codes == (f"HTTPS://JOBS.EXAMPLE.COM/{job['record']['key']}/{box}",)
    hots = [job["stations"][tag.valve]["hot"].removeprefix("A-K1 ") for tag in tags]
    assert len(set(hots)) == 16 and set(hots) <= set(COLORS.split(", ")[1:])
    if box_word == "box":
        for tag, hot in zip(tags, hots, strict=True):
            assert re.search(rf" {re.escape(hot)}( [A-Z]{{2}})? HOT · A-K1", tag.text), tag


def test_a_tablet_shows_all_of_it_in_spanish(browser: Browser, tmp_path: Path) -> None:
    (tmp_path / "heron.yaml").write_text(sample("heron"), encoding="utf-8")
    with (
        open_desk(tmp_path) as address,
        desk_page(browser, size=TABLET, language="es") as (page, faults),
    ):
        page.goto(address)
        assert page.evaluate(_TOO_WIDE) <= 0
        page.get_by_role("link", name="Heron Meadow Campus").click()
        expect(page.locator("#tab-stations")).to_contain_text("Estaciones")
        cell(page, 2, "area").click()
        page.locator("figure img").first.wait_for()
        assert page.evaluate(_TOO_WIDE) <= 0
        axe_finds_nothing(page)
        assert faults == []
