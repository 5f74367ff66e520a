"""What hangs, at the desk: corrections before, the next revision after, and the mark kept."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from pypdf import PdfReader

from cardgen.cli.main import main
from cardgen.memory.prints import read_log
from tests.desk.clients import JOB, DeskAnswer, DeskClient, answering
from tests.jobs import sample

TAGS: dict[str, str | list[str]] = {"only": ["valve-tags", "box-tags"], "start": "1"}
_HIDDEN = re.compile(r'type="hidden" name="([\w-]+)" value="([^"]*)"')


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "larkspur.yaml").write_text(sample("larkspur"), encoding="utf-8")
    return tmp_path


@pytest.fixture
def desk(folder: Path) -> Iterator[DeskClient]:
    with answering(folder) as port:
        yield DeskClient(port)


def pressed(desk: DeskClient, page: DeskAnswer, button: str) -> DeskAnswer:
    """The form of a page that has this button, with what it sends."""
    forms = re.findall(r"<form.*?</form>", page.text, re.DOTALL)
    (form,) = (each for each in forms if f">{button}</button>" in each)
    fields: dict[str, str | list[str]] = {}
    for name, value in _HIDDEN.findall(form):
        before = fields.get(name, [])
        fields[name] = [*before, value] if isinstance(before, list) else [before, value]
    action = re.search(r'action="([^"]*)"', form)
    assert action
    return desk.form(action[1], fields)


def words_of(path: Path) -> str:
    return "\n".join(page.extract_text() for page in PdfReader(path).pages)


def test_from_a_correction_to_the_next_revision(desk: DeskClient, folder: Path) -> None:
    cards = folder / "larkspur-cards"
    assert desk.form(f"{JOB}/hang", {"revision": "1", "hangs": "yes"}).status == 409  # no print
    made = desk.form(f"{JOB}/print", TAGS)
    # Before it hangs, a correction needs no new revision.
    desk.edit(["A1", "area", "orchard"])
    asked = desk.form(f"{JOB}/print", TAGS)
    made = pressed(desk, asked, "Make the PDF files again")
    assert "Ready to print" in made.text and "orchard" in words_of(cards / "valve-tags.pdf")
    before = {path.name: path.read_bytes() for path in cards.glob("*.pdf")}
    hung = pressed(desk, made, "These hang now")
    assert (hung.status, hung.headers["Location"]) == (303, f"{JOB}/print")
    assert read_log(cards).hung == {1}
    assert {path.name: path.read_bytes() for path in cards.glob("*.pdf")} == before
    page = desk.get(f"{JOB}/print")
    assert "Revision 1 hangs." in page.text and "Nothing has changed since then." in page.text
    assert desk.get(f"{JOB}/state").json()["printed"]["hangs"] == 1
    # Pressed by mistake, it is taken back.
    pressed(desk, page, "They do not hang")
    assert read_log(cards).hung == set()
    pressed(desk, desk.get(f"{JOB}/print"), "These hang now")

    # Another area: of all that hangs only the tag of A2 says it; a box tag has no areas.
    desk.edit(["A2", "area", "front walk"])
    page = desk.form(f"{JOB}/print", TAGS)  # as somebody would who did not know
    assert (
        "Raise to revision 2" in page.text and "Take down: 0. Replace: 1. Put up: 0." in page.text
    )
    assert "VB-1: valve tag A2" in page.text
    # On a Spanish page in Spanish, the area as the file has it.
    spanish = desk.get(f"{JOB}/print", **{"Accept-Language": "es-MX"}).text
    listed = spanish.partition('<pre class="stale">')[2].partition("</pre>")[0]
    assert listed.splitlines() == [
        "REEMPLAZAR (1)",
        "[ ] VB-1: etiqueta de válvula A2",
        "      área: front lawn east, spray -&gt; front walk",
    ]
    raised = pressed(desk, page, "Raise to revision 2, and print only what changed")
    assert "since-1/valve-tags.pdf" in raised.text, raised.text
    tags = words_of(cards / "since-1" / "valve-tags.pdf")
    assert "front walk" in tags and "orchard" not in tags
    assert sorted(path.name for path in (cards / "since-1").iterdir()) == [
        "stale-tags.txt",
        "valve-tags.pdf",
    ]
    text = (folder / "larkspur.yaml").read_text(encoding="utf-8")
    today = datetime.datetime.now().astimezone().date().isoformat()
    assert f"revision: 2, date: {today}" in text
    # Until that hangs, one more correction goes into the same revision.
    desk.edit(["A2", "area", "front path"])
    page = desk.get(f"{JOB}/print")
    asked = pressed(desk, page, "Print only what changed since revision 1")
    pressed(desk, asked, "Make the PDF files again")
    assert "front path" in words_of(cards / "since-1" / "valve-tags.pdf")
    pressed(desk, desk.get(f"{JOB}/print"), "These hang now")
    assert read_log(cards).hung == {1, 2}
    assert "Nothing has changed since then." in desk.get(f"{JOB}/print").text


def test_the_command_line_knows_what_hangs(
    desk: DeskClient, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    pressed(desk, desk.form(f"{JOB}/print", TAGS), "These hang now")
    desk.edit(["A2", "area", "front walk"])
    cards = folder / "larkspur-cards"
    before = (cards / "valve-tags.pdf").read_bytes()
    argv = ["print", str(folder / "larkspur.yaml"), "--out", str(cards), "--only", "valve-tags"]
    assert main([*argv, "--replace"]) == 2
    said = capsys.readouterr().err
    assert "revision 1 hangs, and the job says something else now (valve tag A2)" in said
    assert "way out: raise 'revision' in the job, and print what changed with --since 1" in said
    assert (cards / "valve-tags.pdf").read_bytes() == before
    # The very same is printed again at any time: a tag may be lost.
    desk.edit(["A2", "area", "front lawn east, spray"])
    assert main([*argv, "--box", "VB-1"]) == 0
    assert read_log(cards).hung == {1}
    # A folder that begins with the prints of another knows of them that they hang, too.
    other = folder / "other"
    argv[3:4] = [str(other), "--since", "1", "--manifest", str(cards / "cardgen-manifest.json")]
    assert main(argv) == 0
    desk.edit(["A2", "area", "front walk"])
    assert main(argv) == 2
    assert "revision 1 hangs" in capsys.readouterr().err


def test_a_page_that_is_too_old_raises_nothing(desk: DeskClient, folder: Path) -> None:
    pressed(desk, desk.form(f"{JOB}/print", TAGS), "These hang now")
    desk.edit(["A2", "area", "front walk"])
    page = desk.get(f"{JOB}/print")
    desk.edit(["A3", "area", "roses"])
    before = (folder / "larkspur.yaml").read_text(encoding="utf-8")
    refused = pressed(desk, page, "Raise to revision 2, and print only what changed")
    assert refused.status == 409 and "changed meanwhile" in refused.text
    assert (folder / "larkspur.yaml").read_text(encoding="utf-8") == before
    assert not (folder / "larkspur-cards" / "since-1").exists()
    for wrong in ({"revision": "x"}, {"revision": "7", "hangs": "yes"}):
        assert desk.form(f"{JOB}/hang", wrong).status == 409
