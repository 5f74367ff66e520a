"""The desk by its addresses: who gets in, what is written, and that nothing is overwritten."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from cardgen.cards import CardKind
from cardgen.desk.open_job import OpenJob
from cardgen.desk.print_choices import request_of
from cardgen.desk.tag_pictures import words_and_layouts
from cardgen.desk.tag_preview import TagPreviews
from cardgen.draw.svg import svg
from cardgen.editing import Put
from cardgen.examine import examine_text
from cardgen.layout import Page
from cardgen.layout.items import Group
from cardgen.output.job_cards import JobCards
from cardgen.output.print_settings import PrintSettings
from cardgen.problems import has_errors
from tests.benchmarks.campus import campus
from tests.desk.clients import JOB, DeskClient, answering
from tests.files.killing import killed_at
from tests.jobs import sample


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    inside = tmp_path / "jobs"
    inside.mkdir()
    (inside / "larkspur.yaml").write_text(sample("larkspur"), encoding="utf-8")
    (tmp_path / "outside.yaml").write_text(sample("quarry"), encoding="utf-8")
    return inside


@pytest.fixture
def desk(folder: Path) -> Iterator[DeskClient]:
    with answering(folder) as port:
        yield DeskClient(port)


def text(folder: Path, name: str = "larkspur.yaml") -> str:
    return (folder / name).read_text(encoding="utf-8")


# ---- who gets in -----------------------------------------------------------------------------


def test_only_the_browser_that_was_given_the_address_gets_in(desk: DeskClient) -> None:
    stranger = DeskClient(desk.port, "guessed")
    assert [stranger.get(path).status for path in ("/", JOB, f"{JOB}/data")] == [403] * 3
    assert stranger.send("undo", {"version": ""}).status == 403
    said = desk.opened.headers["Set-Cookie"]
    assert said.startswith(f"cardgen-desk-{desk.port}=")
    assert {"HttpOnly", "SameSite=strict", "Path=/"} <= set(said.split("; "))
    assert (desk.opened.status, desk.opened.headers["Location"]) == (303, "/")
    page = desk.get(JOB)
    policy = page.headers["Content-Security-Policy"]
    assert page.status == 200 and "default-src 'none'" in policy and "unsafe" not in policy


def test_a_page_elsewhere_cannot_reach_it(desk: DeskClient, folder: Path) -> None:
    version = desk.data()["version"]
    sent = {"version": version, "section": "stations", "cells": [["A1", "area", "x"]]}
    # By a name of its own that leads to this machine, from its own page, or from a plain form.
    body, as_json = json.dumps(sent).encode(), {"Content-Type": "application/json"}
    assert desk.get(f"{JOB}/data", Host="evil.example").status == 421
    for headers in (
        {},
        {"Origin": "http://evil.example"},
        {"Origin": "null"},
        {"Origin": desk.here, "Sec-Fetch-Site": "cross-site"},
        {"Origin": f"https://127.0.0.1:{desk.port}"},
    ):
        assert desk.post(f"{JOB}/edit", body, {**as_json, **headers}).status == 403
    plain = {"Origin": desk.here, "Content-Type": "text/plain"}
    assert desk.post(f"{JOB}/edit", body, plain).status == 415
    assert text(folder) == sample("larkspur")


def test_nothing_outside_the_folder_is_read_or_written(desk: DeskClient, folder: Path) -> None:
    (folder / "link.yaml").symlink_to(folder.parent / "outside.yaml")
    (folder / "sub").mkdir()
    (folder / "sub" / "inner.yaml").write_text(sample("quarry"), encoding="utf-8")
    (folder / ".hidden.yaml").write_text(sample("quarry"), encoding="utf-8")
    assert "Quarry" not in desk.get("/").text
    for name in (
        *("link.yaml", "..%2Foutside.yaml", "%2e%2e%2foutside.yaml", "sub%2Finner.yaml"),
        *(".hidden.yaml", "outside.yaml", "larkspur.yaml%00", "C%3Aoutside.yaml", "..%5Cx.yaml"),
        str(folder.parent / "outside.yaml").replace("/", "%2F"),
    ):
        assert desk.get(f"/jobs/{name}/data").status == 404, name
    # The print folder leads nowhere else, either.
    (folder / "larkspur-cards").symlink_to(folder.parent)
    assert desk.get(f"{JOB}/cards/outside.yaml").status == 404
    printed = desk.form(f"{JOB}/print", {"only": "valve-tags"})
    assert printed.status == 404
    (folder / "larkspur-cards").unlink()
    (folder / "larkspur-cards").mkdir()
    (folder / "larkspur-cards" / "up.pdf").symlink_to(folder.parent / "outside.yaml")
    for inside in ("up.pdf", "../larkspur.yaml", "%2e%2e/larkspur.yaml", "..%2flarkspur.yaml"):
        assert desk.get(f"{JOB}/cards/{inside}").status == 404, inside


# ---- what is written -------------------------------------------------------------------------


def test_a_cell_changes_its_value_and_no_other_byte(desk: DeskClient, folder: Path) -> None:
    told = desk.edit(["A2", "area", "front walk: east #2"], ["A2", "notes", "slope; oak"]).json()
    old = '  A2: {area: "front lawn east, spray", box: VB-1, hot: A-K1 blue}'
    new = '  A2: {area: "front walk: east #2", box: VB-1, hot: A-K1 blue, notes: [slope, oak]}'
    assert text(folder) == sample("larkspur").replace(old, new)
    assert told["rows"]["stations"][1]["notes"] == "slope; oak"
    desk.edit(["A2", "notes", ""])
    assert "notes" not in text(folder)
    # Back and forward, also after the page was loaded again.
    for what, count in (("undo", 1), ("undo", 0), ("redo", 1)):
        told = desk.send(what, {"version": desk.data()["version"]}).json()
        assert told["back"] == count
    assert text(folder) == sample("larkspur").replace(old, new)
    desk.send("undo", {"version": desk.data()["version"]})
    assert text(folder) == sample("larkspur")


def test_new_rows_get_the_next_name_and_a_missing_section_is_begun(
    desk: DeskClient, folder: Path
) -> None:
    sent = {
        "version": desk.data()["version"],
        "section": "stations",
        "rows": [{"area": "orchard", "box": "VB-3"}, {"name": "A9", "area": "yard"}],
    }
    rows = desk.send("edit", sent).json()["rows"]["stations"]
    assert [row["name"] for row in rows[-3:]] == ["A6", "A7", "A9"]
    (folder / "new.yaml").write_text("job: {code: N-1}\n", encoding="utf-8")
    job = "/jobs/new.yaml"
    sent = {"version": desk.data(job)["version"], "section": "palettes"}
    desk.send("edit", {**sent, "rows": [{"name": "five", "colors": "white, red"}]}, job)
    assert text(folder, "new.yaml").splitlines() == [
        "job: {code: N-1}",
        "palettes: {five: [white, red]}",
    ]


def test_a_new_name_goes_to_all_that_mentions_it_in_one_step(
    desk: DeskClient, folder: Path
) -> None:
    def named(new: str, *, alone: bool = False) -> dict[str, Any]:
        sent = {"version": desk.data()["version"], "section": "boxes", "alone": alone}
        told: dict[str, Any] = desk.send("edit", {**sent, "cells": [["VB-1", "name", new]]}).json()
        return told

    told = named("WALK")
    # By hand: the run of A-K1 and the boxes of A1 and A2; only these sections are sent again.
    assert (told["mentions"], told["names"]) == (3, {"boxes": {"VB-1": "WALK"}})
    assert list(told["rows"]) == ["stations", "boxes", "cables"]
    assert text(folder) == sample("larkspur").replace("VB-1", "WALK")
    assert desk.send("undo", {"version": told["version"]}).json()["back"] == 0
    assert text(folder) == sample("larkspur")
    taken = named("A2")
    assert taken["kind"] == "name" and "there already" in taken["sentence"]
    assert text(folder) == sample("larkspur")
    assert (named("WALK", alone=True)["mentions"], text(folder).count("VB-1")) == (0, 3)


_REFUSED: tuple[tuple[dict[str, Any], str], ...] = (
    ({"section": "nothing"}, "there is no table 'nothing'"),
    ({"section": "stations", "cells": [["A77", "area", "x"]]}, "there is no 'A77' any more"),
    ({"section": "stations", "cells": [["A1", "name", "A2"]]}, "there is a 'A2' already"),
    ({"section": "stations", "cells": [["A1", "name", " "]]}, "'A1' needs a name"),
    ({"section": "stations", "cells": [["A1", "secret", "x"]]}, "no column 'secret'"),
    ({"section": "stations", "cells": [["A1", "area"]]}, "no cell"),
    ({"section": "stations", "cells": [["A1", "area", 7]]}, "no text"),
    ({"section": "stations", "cells": [["A1", "area", "x" * 2001]]}, "more than 2,000 letters"),
    ({"section": "stations", "rows": ["A8"]}, "no row"),
    ({"section": "stations", "rows": [{"name": "A1"}]}, "there is a 'A1' already"),
    ({"section": "stations", "removed": ["A77"]}, "there is no 'A77' any more"),
    ({"section": "job", "cells": [["", "secret", "x"]]}, "no field 'secret'"),
)


def test_what_cannot_be_written_is_said_and_changes_nothing(desk: DeskClient, folder: Path) -> None:
    version = desk.data()["version"]
    for sent, told in _REFUSED:
        answer = desk.send("edit", {"version": version, **sent})
        assert answer.status == 409 and told in answer.json()["sentence"], told
    assert desk.send("edit", {"section": "stations"}).status == 409  # of which version?
    for body in (b"", b"[]", b"{", b"\xff"):
        headers = {"Origin": desk.here, "Content-Type": "application/json"}
        assert desk.post(f"{JOB}/edit", body, headers).status == 400, body
    assert text(folder) == sample("larkspur")


def test_a_change_on_disk_meanwhile_is_noticed_and_nothing_is_overwritten(
    desk: DeskClient, folder: Path
) -> None:
    version = desk.data()["version"]
    theirs = sample("larkspur").replace("back lawn north", "orchard north")
    (folder / "larkspur.yaml").write_text(theirs, encoding="utf-8")
    refused = desk.edit(["A1", "area", "mine"], version=version)
    assert refused.status == 409 and refused.json()["kind"] == "changed"
    assert text(folder) == theirs
    part = {"section": "stations", "cells": [["A1", "area", "mine"]]}
    sent = {"version": version, "parts": [part]}
    copied = desk.send("copy", sent).json()
    mine = sample("larkspur").replace('"front lawn west, spray"', "mine")
    assert copied == {"name": "larkspur-mine.yaml"}
    assert text(folder, copied["name"]) == mine and text(folder) == theirs
    assert desk.send("copy", sent).json() == {"name": "larkspur-mine-2.yaml"}
    # Undoing would bring back what was before their change: there is nothing to undo now.
    assert desk.data()["back"] == 0
    assert desk.edit(["A1", "area", "again"]).status == 200
    assert "orchard north" in text(folder) and "again" in text(folder)


def test_two_desks_on_one_folder_lose_nothing(desk: DeskClient, folder: Path) -> None:
    with answering(folder) as port:
        other = DeskClient(port)
        seen = other.data()["version"]
        assert desk.edit(["A1", "area", "first"]).status == 200
        assert other.edit(["A2", "area", "second"], version=seen).json()["kind"] == "changed"
        assert other.edit(["A2", "area", "second"]).status == 200
        assert "first" in text(folder) and "second" in text(folder)


def test_killed_while_saving_the_file_is_old_or_new(folder: Path) -> None:
    old = sample("larkspur")
    new = old.replace('"front lawn west, spray"', "orchard")
    seen = set()
    for moment in range(20):
        (folder / "larkspur.yaml").write_text(old, encoding="utf-8")

        def save() -> None:
            job = OpenJob.at(folder / "larkspur.yaml")
            change = Put(path=("stations", "A1", "area"), value="orchard")
            job.edit([change], job.now.version)

        was_killed = killed_at(moment, save)
        seen.add(text(folder))
        if not was_killed:
            break
    assert seen == {old, new} and moment > 1
    assert [path.name for path in folder.iterdir() if path.suffix == ".yaml"] == ["larkspur.yaml"]


def test_a_file_with_mistakes_is_shown_by_line_and_never_changed(
    desk: DeskClient, folder: Path
) -> None:
    bad = "job: {code: X}\nstations:\n\tA1: {area: lawn}\n"
    (folder / "bad.yaml").write_text(bad, encoding="utf-8")
    told = desk.data("/jobs/bad.yaml")
    assert [fault["line"] for fault in told["faults"]] == [3]
    assert told["lines"] == bad.splitlines()
    sent = {"version": told["version"], "section": "stations", "rows": [{"area": "x"}]}
    assert desk.send("edit", sent, "/jobs/bad.yaml").status == 409
    assert text(folder, "bad.yaml") == bad
    (folder / "latin.yaml").write_bytes("job: {site: Peña}\n".encode("latin-1"))
    assert desk.data("/jobs/latin.yaml")["faults"][0]["code"] == "not-utf-8"


def test_line_ends_and_the_mark_at_the_start_stay(desk: DeskClient, folder: Path) -> None:
    windows = b"\xef\xbb\xbf" + sample("larkspur").replace("\n", "\r\n").encode()
    (folder / "larkspur.yaml").write_bytes(windows)
    desk.edit(["A1", "area", "orchard"])
    changed = (folder / "larkspur.yaml").read_bytes()
    assert changed == windows.replace(b'"front lawn west, spray"', b"orchard")


# ---- what is wrong, the tags, the print ------------------------------------------------------


def test_findings_are_at_their_cells_with_a_way_out(desk: DeskClient) -> None:
    desk.edit(["A2", "box", "VB-9"], ["A6", "hot", ""])
    found = desk.get(f"{JOB}/findings").json()
    places = {(each["row"], each["cell"], each["verdict"]): each for each in found["findings"]}
    assert places["A2", "box", "error"]["ways"] == [
        {"do": "add", "section": "boxes", "name": "VB-9"}
    ]
    assert places["A6", "hot", "open"]["ways"] == [{"do": "wires"}]
    assert found["counts"]["open"] == 1
    desk.edit(["A2", "box", "VB-1"])
    proposed = desk.send("wires", {}).json()
    # Of the seven conductors of A-K1, white is the common and red, blue and green are in use;
    # A6 had yellow, and orange and brown are free too: the first of the palette is taken.
    assert proposed["proposals"] == {"A6": "A-K1 yellow"}
    assert desk.edit(["A6", "hot", proposed["proposals"]["A6"]]).status == 200
    found = desk.get(f"{JOB}/findings").json()
    assert found["counts"] == {"error": 0, "warning": 0, "note": 2, "open": 0}


def test_a_note_is_not_told_again_when_its_button_was_pressed(
    desk: DeskClient, folder: Path
) -> None:
    notes = desk.get(f"{JOB}/findings").json()["findings"]
    ways = [way for note in notes for way in note["ways"]]
    # By hand, as the manual has it: the code, and whose the note is.
    names = ["several-commons A", "sensor-on-terminals RAIN"]
    assert ways == [{"do": "known", "section": "known", "name": name} for name in names]
    for way in ways:
        version = desk.data()["version"]
        rows = [{"name": way["name"]}]
        desk.send("edit", {"version": version, "section": "known", "rows": rows})
    written = text(folder).removeprefix(sample("larkspur")).strip()
    assert written == "known: [several-commons A, sensor-on-terminals RAIN]"
    assert not has_errors(examine_text(text(folder)).problems)
    found = desk.get(f"{JOB}/findings").json()
    assert found["findings"] == [] and found["counts"]["note"] == 0
    desk.send("undo", {"version": desk.data()["version"]})
    (told,) = desk.get(f"{JOB}/findings").json()["findings"]
    assert told["code"] == "sensor-on-terminals"


def test_the_tag_of_a_row_is_drawn_while_others_are_not_finished(desk: DeskClient) -> None:
    desk.edit(["A2", "box", "VB-9"], ["A6", "hot", ""])
    shown = desk.send("preview", {"row": "A1"}).json()
    assert shown["state"] == "shown" and shown["tags"][0]["size"] == "53.98 x 85.6 mm"
    assert 'width="53.98mm"' in shown["tags"][0]["svg"]
    assert "front lawn west, spray" in shown["tags"][0]["says"].replace("\n", " ")
    assert desk.send("preview", {"row": "A2"}).json()["state"] == "left out"
    # What is only being typed is measured, and written nowhere.
    long = "a very long name of an area " * 6
    typed = {"row": "A1", "section": "stations", "cells": [["A1", "area", long]]}
    told = desk.send("preview", typed).json()
    assert "mm too" in told["misfits"][0]["sentence"]
    assert long.strip() not in desk.data()["rows"]["stations"][0]["area"]
    assert desk.send("preview", {"row": "A1", "stock": "paper"}).status == 409


def test_tags_of_a_very_large_job_are_measured_and_shown_as_a_print_has_them() -> None:
    job = campus(432)
    long = job.replace("area: lawn", f"area: {'very long words of an area ' * 6}", 1)
    request = request_of("", "")
    _, tags = TagPreviews().of(long, examine_text(long), request)
    assert tags is not None
    (misfit,) = tags.misfits()
    assert "mm too" in misfit.sentence and "have the same problem" not in misfit.sentence
    shown, tags = TagPreviews().of(job, examine_text(job), request)
    assert shown.printable is not None and tags is not None
    station = next(iter(shown.printable.asbuilt.in_order)).id
    (picture,) = tags.pictures(CardKind.VALVE_TAG, station)
    cards = JobCards(replace(shown.printable, words=words_and_layouts(("en",))[0]))
    press = PrintSettings.of(cards.printable, words_and_layouts(("en",))[1], request)
    sheet, *_ = press.set(CardKind.VALVE_TAG, cards.of(CardKind.VALVE_TAG))[0]
    stock = press.stock(CardKind.VALVE_TAG)
    card = Page(width=stock.card_width, height=stock.card_height, own=sheet.placed[0].items)
    whole = Group(says=f"valve tag {station}", level=1, items=card.items)
    assert picture.svg == svg(card, [whole], title=whole.says)


def test_a_print_goes_beside_the_job_and_is_told_in_the_list(
    desk: DeskClient, folder: Path
) -> None:
    form: dict[str, str | list[str]] = {"only": ["valve-tags", "box-tags"]}
    form |= {"stock": "id-1-letter", "language": "en,es"}
    page = desk.form(f"{JOB}/print", {**form, "start": "4"})
    assert page.status == 200
    file = desk.get(f"{JOB}/cards/valve-tags.pdf")
    assert file.content.startswith(b"%PDF") and file.headers["Content-Type"] == "application/pdf"
    assert file.content == (folder / "larkspur-cards" / "valve-tags.pdf").read_bytes()
    assert desk.get(f"{JOB}/state").json()["printed"]["revision"] == 1
    for wrong in ({"start": "99"}, {"stock": "none"}, {"language": "fr"}, {"only": "cards"}):
        refused = desk.form(f"{JOB}/print", {**form, **wrong})
        assert refused.status == 409, wrong
    assert desk.get("/proof.pdf?stock=id-1-letter").content.startswith(b"%PDF")
    desk.edit(["A1", "box", "VB-9"])
    refused = desk.form(f"{JOB}/print", form)
    assert "VB-9" in refused.text and "valve-tags.pdf" not in refused.text


def test_a_revision_printed_before_is_not_printed_otherwise_unasked(
    desk: DeskClient, folder: Path
) -> None:
    form: dict[str, str | list[str]] = {"only": ["valve-tags", "box-tags"], "start": "1"}
    assert desk.form(f"{JOB}/print", form).status == 200
    tags = folder / "larkspur-cards" / "valve-tags.pdf"
    before = tags.read_bytes()
    desk.edit(["A1", "area", "orchard"])
    refused = desk.form(f"{JOB}/print", form)
    assert refused.status == 200 and "Raise the revision" in refused.text
    assert tags.read_bytes() == before
    # What its button sends: the same, and that it may be printed over.
    hidden = re.findall(r'type="hidden" name="(\w+)" value="([^"]*)"', refused.text)
    assert ("replace", "yes") in hidden and ("only", "valve-tags") in hidden
    assert "Ready to print" in desk.form(f"{JOB}/print", {**form, "replace": "yes"}).text
    assert tags.read_bytes() != before
    assert "orchard" in "".join(page.extract_text() for page in PdfReader(tags).pages)


def test_a_new_job_says_only_what_a_person_said(desk: DeskClient, folder: Path) -> None:
    form = {"site": "Peña Blanca: court #2", "place": "", "stations": "8", "supply": "24 V AC"}
    made = desk.form("/new", form)
    assert made.headers["Location"] == "/jobs/pena-blanca-court-2.yaml"
    told = desk.data(made.headers["Location"])
    assert told["forms"]["job"]["site"] == "Peña Blanca: court #2"
    assert told["rows"]["controllers"] == [
        {**dict.fromkeys(told["rows"]["controllers"][0], ""), "name": "A"}
        | {"supply": "24 V AC", "stations": "8"}
    ]
    # The record's key is made with its address: nobody could type one that cannot be guessed.
    sent = {"version": told["version"], "section": "record"}
    sent["cells"] = [["", "address", "https://jobs.example.com"]]
    forms = desk.send("edit", sent, made.headers["Location"]).json()["forms"]
    assert re.fullmatch("[A-Z0-9]{12}", forms["record"]["key"])
    again = desk.form("/new", form)
    assert again.headers["Location"] == "/jobs/pena-blanca-court-2-2.yaml"
    empty = desk.form("/new", {"site": "  "})
    assert empty.status == 409 and len(list(folder.glob("*.yaml"))) == 3
