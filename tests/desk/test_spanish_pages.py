"""Every page of the desk in a browser that asks for Spanish: no English is on any of them.

That what is searched for would be found is seen on the same pages in English.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from threading import Event
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, Page, expect

from cardgen.memory.prints import MANIFEST
from tests.desk.desks import cell, desk_page, open_desk, opened, pasted, typed
from tests.desk.english_seen import english_in, english_on
from tests.desk.people import SETTLED
from tests.for_each import for_each
from tests.jobs import edit, sample
from tests.record.browser import MAKING_MS

pytestmark = pytest.mark.xdist_group("browser")

# What a person in Sonora would type; all else of the sample is names and figures.
IN_SPANISH = {
    "front lawn west, spray": "pasto del frente, poniente",
    "front lawn east, spray": "pasto del frente, oriente",
    "front beds, drip": "jardineras del frente, goteo",
    "back lawn north, rotor": "pasto de atrás, norte",
    "back lawn south, rotor": "pasto de atrás, sur",
    "side beds, drip": "jardineras del lado, goteo",
    "6.5 ft from garage corner": "6.5 ft desde la cochera",
    "4.0 ft from walk edge": "4.0 ft desde la banqueta",
    "garage wall": "pared de la cochera",
    "garage eave": "alero de la cochera",
    "front walk": "banqueta",
    "front bed": "jardinera",
    "back lawn edge": "orilla del pasto",
    "Larkspur Cottage": "Casa Espuela",
    "yellow tape": "cinta amarilla",
}
# The table of the part that is open; only then it is known which columns it leaves out.
_BUILT = "() => !jobPage.grid || jobPage.grid.isBuilt"
LIST = "Estación,Área,Caja,Color\n1,pasto,VB-1,red\n2,rosas,VB-1,blue\n"
SEVERAL = (
    "Sitio,Estación,Área,Caja,Color\nParque Uno,1,pasto,VB-1,red\nParque Dos,1,rosas,VB-1,red\n"
)


def job(code: str) -> str:
    text = re.sub("(?m)^ *#.*\n", "", sample("larkspur"))
    text = edit(text, "code: LARK-06", f"code: {code}")
    for english, spanish in IN_SPANISH.items():
        text = re.sub(rf'(?<=[ "[]){re.escape(english)}(?=[",}}\]\n])', spanish, text)
    return text


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    wrong = edit(job("MAL"), ", hot: A-K1 red}", "}")
    wrong = edit(wrong, "box: VB-3, hot: A-K2 red", "box: VB-9, hot: A-K2 rde")
    unknown = edit(job("DUDA"), "85 ft, VB-1", "not known, VB-1")
    files = {
        "bien": job("BIEN"),
        "mal": wrong,
        "sincables": re.sub(r", hot: A-K. \w+", "", job("SIN")),
        "duda": unknown,
        "roto": edit(job("ROTO"), "palettes:", "palettes: ["),
        "ajeno": job("AJENO"),
        "dañado": job("DAN"),
    }
    for name, text in files.items():
        (tmp_path / f"{name}.yaml").write_text(text, encoding="utf-8")
    (tmp_path / "ajeno-cards").mkdir()
    (tmp_path / "ajeno-cards" / "valve-tags.pdf").write_text("de otro programa", encoding="utf-8")
    (tmp_path / "dañado-cards").mkdir()
    (tmp_path / "dañado-cards" / MANIFEST).write_text("{}", encoding="utf-8")
    return tmp_path


class Walk:
    """A person who reads Spanish goes through the pages, and looks at each as it is then."""

    def __init__(self, page: Page, address: str, folder: Path) -> None:
        self.page, self.folder = page, folder
        parts = urlsplit(address)
        self.here = f"{parts.scheme}://{parts.netloc}"
        self.seen = 0

    def goes(self, path: str) -> None:
        self.page.goto(f"{self.here}{path}")

    def looks(self, what: str, *, waits: bool = True) -> None:
        """Args:
        waits: until nothing is on its way to the file.
        """
        if waits:
            self.page.wait_for_function(SETTLED, polling=50)
        assert english_on(self.page) == [], what
        self.seen += 1

    def presses(self, name: str) -> None:
        self.page.get_by_role("button", name=name).first.click()

    def sends(self, name: str) -> None:
        """A form, by its button; what is looked at then is the page that answers."""
        with self.page.expect_navigation():
            self.presses(name)


@pytest.fixture
def walk(browser: Browser, folder: Path) -> Iterator[Walk]:
    with open_desk(folder) as address, desk_page(browser, language="es-MX") as (page, _):
        page.goto(address)
        yield Walk(page, address, folder)


def test_the_list_of_jobs_and_what_is_refused(walk: Walk) -> None:
    page = walk.page
    expect(page.locator("#jobs tr", has_text="mal.yaml")).to_contain_text("errores:")
    expect(page.locator("#jobs tr", has_text="dañado.yaml")).to_contain_text("dañado")
    expect(page.locator("#jobs tr", has_text="roto.yaml")).to_contain_text("puntuación")
    walk.looks("jobs")
    page.locator("#f-find").fill("VB-3")
    expect(page.locator("#found")).not_to_be_empty()
    walk.looks("search")
    (walk.folder / ".cardgen-desk.sqlite").write_bytes(b"de otro programa\n" * 100)
    for path in ("/", "/jobs/nada.yaml", "/nada", "/proof.pdf?stock=nada", "/from-list"):
        walk.goes(path)
        walk.looks(path)
    for path in ("/jobs/bien.yaml/cards/nada.pdf", "/jobs/dañado.yaml/print", "/open/nada"):
        walk.goes(path)
        walk.looks(path)


def test_a_job_with_what_is_wrong_with_it_and_its_print_page(walk: Walk) -> None:
    for name in ("bien", "mal", "sincables", "duda", "roto"):
        for path in ("", "/print", "/crews", "/spreadsheet"):
            walk.goes(f"/jobs/{name}.yaml{path}")
            walk.looks(f"{name}{path}")


def test_all_parts_of_a_job(walk: Walk) -> None:
    walk.goes("/jobs/bien.yaml")
    walk.page.locator("#more-parts").click()
    for tab in walk.page.locator("[role=tab]").all():
        tab.click()
        walk.page.wait_for_function(_BUILT)
        if walk.page.locator("#more-columns").is_visible():
            walk.page.locator("#more-columns").click()
        for more in walk.page.locator("details:visible").all():
            more.locator("summary").click()
        walk.looks(tab.get_attribute("id") or "")


def test_typing(walk: Walk) -> None:
    page = walk.page
    walk.goes("/jobs/bien.yaml")
    notice = page.locator("#notice")
    typed(page, 0, "area", "un nombre muy largo para un área con muchas flores " * 3)
    expect(page.locator("#findings")).to_contain_text("mm de")
    walk.looks("what does not fit")
    typed(page, 1, "hot", "A-K1 rde")
    walk.looks("a color that is not known")
    typed(page, 2, "hot", "")
    walk.presses("Elegir cables")
    expect(page.locator("#proposals")).to_be_visible()
    walk.looks("wires")
    pasted(page, 0, "name", "A1\tpasto", "A3\trosas")
    expect(notice).to_be_visible()
    walk.looks("a name that is there", waits=False)
    walk.presses("Tomar el archivo")
    page.locator("#undo").click()
    walk.looks("undone")
    opened(page, "boxes")
    typed(page, 0, "name", "CAJA-1")
    expect(notice).to_contain_text("CAJA-1")
    walk.looks("renamed")


def test_others_change_the_file_and_the_desk_is_lost(walk: Walk) -> None:
    page, file = walk.page, walk.folder / "bien.yaml"
    walk.goes("/jobs/bien.yaml")
    cell(page, 4, "area").click()
    page.keyboard.type("huerta")
    file.write_text(edit(job("BIEN"), "pasto de atrás, norte", "rosas"), encoding="utf-8")
    page.keyboard.press("Enter")
    expect(page.locator("#notice")).to_contain_text("cambió mientras tanto")
    walk.looks("changed meanwhile", waits=False)
    walk.presses("Guardar lo mío")
    expect(page.get_by_role("link", name="bien-mine.yaml")).to_be_visible()
    walk.looks("kept")
    twice = f"{job('BIEN')}\nstations:\n  A1: {{area: pasto}}\n"
    file.write_text(twice, encoding="utf-8")
    expect(page.locator("#notice")).to_contain_text("fuera de esta página")
    walk.looks("changed outside")
    page.route("**/data", lambda route: route.abort())
    page.reload()
    expect(page.locator("#notice")).to_contain_text("no responde")
    walk.looks("lost", waits=False)


def test_printing_and_what_hangs(walk: Walk) -> None:
    page = walk.page
    walk.goes("/jobs/bien.yaml/print")
    walk.sends("Crear los PDF")
    expect(page.locator("h1")).to_have_text(re.compile("Listo"), timeout=MAKING_MS)
    walk.looks("printed")
    text = (walk.folder / "bien.yaml").read_text(encoding="utf-8")
    (walk.folder / "bien.yaml").write_text(text.replace("oriente", "sol"), encoding="utf-8")
    walk.goes("/jobs/bien.yaml/print")
    walk.sends("Crear los PDF")
    expect(page.get_by_role("alert")).to_be_visible(timeout=MAKING_MS)
    walk.looks("printed before and said something else")
    walk.goes("/jobs/bien.yaml/print")
    walk.sends("Ya están colgadas")
    expect(page.locator(".stale")).to_be_visible()
    walk.looks("changed since")
    walk.sends("Subir a la revisión 2")
    expect(page.locator("h1")).to_have_text(re.compile("Listo"), timeout=MAKING_MS)
    walk.looks("what changed is printed")
    walk.goes("/jobs/bien.yaml/crews")
    page.get_by_label("Nombre de la cuadrilla").fill("Cuadrilla 7")
    walk.sends("Crear el PDF")
    walk.looks("no box is chosen")
    walk.goes("/jobs/bien.yaml/crews")
    page.get_by_label("Nombre de la cuadrilla").fill("Cuadrilla 7")
    page.get_by_label("VB-3").check()
    page.get_by_label("Lista de lo que falta saber").check()
    walk.sends("Crear el PDF")
    expect(page.locator("h1")).to_have_text(re.compile("Listo"), timeout=MAKING_MS)
    walk.looks("for a crew")
    walk.goes("/")
    expect(page.locator("#jobs tr", has_text="bien.yaml")).to_contain_text("colgada")
    walk.looks("the list of jobs")


def sent(walk: Walk, text: str, button: str) -> None:
    walk.page.locator("textarea").fill(text)
    walk.sends(button)


def test_lists(walk: Walk) -> None:
    for wrong in (
        *("", "pasto\nrosas\n", "Estación,Área\n", LIST + "2,pasto,VB-2,green\n"),
        *(
            LIST + "tres,pasto,VB-2,rde\n",
            'Estación,Área\n"1,pasto\n',
            "Estación,Área,Área\n1,a,b\n",
        ),
    ):
        walk.goes("/from-list")
        sent(walk, wrong, "Crear el trabajo")
        walk.looks(f"a list that is wrong: {wrong!r}")
    walk.goes("/from-list")
    sent(walk, SEVERAL, "Crear el trabajo")
    walk.looks("several sites, and a job that cannot be read")
    (walk.folder / "roto.yaml").unlink()
    walk.goes("/from-list")
    sent(walk, SEVERAL, "Crear el trabajo")
    walk.looks("several sites")
    walk.sends("Crear estos trabajos")
    walk.goes("/from-list")
    sent(walk, SEVERAL.replace("rosas", "árboles"), "Crear el trabajo")
    walk.looks("several sites again")
    walk.goes("/jobs/bien.yaml/spreadsheet")
    sent(walk, LIST, "Mostrar los cambios")
    walk.looks("changes")
    for wrong in (LIST.replace("red", "rde"), LIST.replace("1,", "Z9,"), "x\n"):
        walk.goes("/jobs/bien.yaml/spreadsheet")
        sent(walk, wrong, "Mostrar los cambios")
        walk.looks(f"a list that does not fit the job: {wrong!r}")


def test_the_queue(walk: Walk, may_print: Event) -> None:
    page = walk.page
    may_print.clear()
    page.locator("#choose-all").check()
    walk.sends("Imprimir los trabajos elegidos")
    walk.looks("what the queue prints")
    walk.sends("Crear los PDF")
    with page.expect_response("**/queue/stop"):
        walk.presses("Detener")
    walk.looks("printing")
    may_print.set()
    expect(page.locator("#queue-said")).to_contain_text("Detenida", timeout=MAKING_MS)
    walk.looks("stopped")
    walk.presses("Continuar")
    done = page.locator("#queue-said")
    expect(done).to_contain_text("Terminada", timeout=MAKING_MS)
    states = {each.get_attribute("data-state") for each in page.locator("#queue-jobs tr").all()}
    assert states == {"printed", "faulty", "refused"}
    expect(page.locator("#queue-jobs tr", has_text="sincables")).to_contain_text(
        "Lo mismo para: A2 a A6"
    )
    walk.looks("why not")
    text = (walk.folder / "bien.yaml").read_text(encoding="utf-8")
    (walk.folder / "bien.yaml").write_text(text.replace("oriente", "sol"), encoding="utf-8")
    walk.goes("/")
    for name in ("bien", "duda"):
        page.get_by_label(f"Elegir {name}.yaml").check()
    walk.sends("Imprimir los trabajos elegidos")
    walk.sends("Crear los PDF")
    expect(done).to_contain_text("Terminada", timeout=MAKING_MS)
    states = {each.get_attribute("data-state") for each in page.locator("#queue-jobs tr").all()}
    assert states == {"otherwise", "current"}
    walk.looks("printed before and said something else")


# ---- that English would be found -----------------------------------------------------------


def test_english_is_found_on_a_page_in_english(browser: Browser, folder: Path) -> None:
    with open_desk(folder) as address, desk_page(browser, language="en") as (page, _):
        page.goto(address)
        walk = Walk(page, address, folder)
        for path in ("/", "/jobs/mal.yaml", "/jobs/mal.yaml/print", "/from-list"):
            walk.goes(path)
            page.wait_for_function(SETTLED, polling=50)
            assert len(english_on(page)) >= 8, path


SAID: tuple[tuple[str, bool], ...] = (
    ("There is no box 'VB-9'.", True),
    ("No existe caja 'VB-9'.", False),
    ("not printed", True),
    ("no impreso", False),
    ("12 x 17 in", False),
    ("A1 todavía no tiene cable de estación (en inglés)", True),
)


@for_each(("text", "is_english"), SAID)
def test_what_is_english(text: str, is_english: bool) -> None:
    assert english_in(text) is is_english
