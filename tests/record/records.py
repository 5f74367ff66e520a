"""Records to test with: made and written as the command does it, and read back as a tree."""

from __future__ import annotations

import json
import re
from functools import lru_cache
from pathlib import Path
from xml.etree.ElementTree import Element

import html5lib

from cardgen.cards import Printable
from cardgen.examine import examine_text
from cardgen.output.as_printable import as_printable
from cardgen.output.recording import RecordFiles, RecordRequest, make_record
from cardgen.output.writing import write_set
from tests.jobs import edit, sample

PLAIN = RecordRequest()
BOTH = RecordRequest(languages=("en", "es"))
QUARRY = "K5T0VD83XB6Z"
LARKSPUR = "7Q2F9KX4M3T8"
_HEAD = "{code: LARK-06, site: Larkspur Cottage, revision: 1, date: 2026-03-14}"


def made(text: str, out: Path, wanted: RecordRequest = PLAIN) -> RecordFiles:
    """The record of a job that has no errors."""
    record, problems = make_record(examine_text(text), out, wanted)
    assert record is not None, problems
    return record


def publish(text: str, out: Path, wanted: RecordRequest = PLAIN) -> Path:
    """Write the record of a job; its folder."""
    record = made(text, out, wanted)
    write_set(record.folder, record.files, record.manifest, replace=wanted.replace)
    return record.folder


@lru_cache
def sample_files(name: str) -> dict[str, bytes]:
    """In both languages."""
    return dict(made(sample(name), Path("nowhere"), BOTH).files)


@lru_cache
def printable(name: str) -> Printable:
    printable = as_printable(examine_text(sample(name)))
    assert printable is not None
    return printable


def revision(number: int, *edits: tuple[str, str]) -> str:
    """Larkspur at that revision, with edits."""
    head = (
        f"{{code: LARK-06, site: Larkspur Cottage, revision: {number}, date: 2026-04-{number:02}}}"
    )
    text = edit(sample("larkspur"), _HEAD, head)
    for old, new in edits:
        text = edit(text, old, new)
    return text


def pages(files: dict[str, bytes]) -> dict[str, bytes]:
    return {name: data for name, data in files.items() if name.endswith(".html")}


def kept_pages(worker: bytes) -> list[str]:
    """What a service worker keeps on a phone, by the names of the files."""
    (said,) = re.findall(rb"^self\.RECORD = (.*);$", worker, re.MULTILINE)
    pages = json.loads(said)["pages"]
    assert isinstance(pages, list)
    return pages


@lru_cache(maxsize=1_000)
def tree(page: bytes) -> Element:
    """The page as a parser reads it that forgives nothing."""
    root = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(page)
    assert isinstance(root, Element)
    return root


def words(page: bytes | Element) -> str:
    """What stands on a page to be read, in one line; no style, script or picture."""
    root = tree(page) if isinstance(page, bytes) else page
    return re.sub(r"\s+", " ", " ".join(_texts(root))).strip()


def _texts(node: Element) -> list[str]:
    if node.tag in ("style", "script", "title", "noscript"):
        return []
    found = [node.text or ""]
    for child in node:
        found += [*_texts(child), child.tail or ""]
    return found


def in_folder(folder: Path) -> dict[str, bytes]:
    """Every file of a folder and its subfolders by its name in it."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }
