"""Say of a job in a line how far it is, and what one can search it by."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from cardgen.desk.node_lookup import entries_of, value_at
from cardgen.desk.open_job import OpenJob
from cardgen.desk.row_findings import counts_of
from cardgen.desk.told_findings import as_sentence, told_refusal
from cardgen.memory.prints import MANIFEST, read_log
from cardgen.problems import UserError
from cardgen.reading.nodes import Mapping, Node, Scalar

# A YAML file with none of these is something else.
_SECTIONS = ("job", "controllers", "cables", "stations")
_SEARCHED = ("controllers", "boxes", "stations")


def is_job(open_job: OpenJob) -> bool:
    """Whether it looks like one; a file that cannot be read is shown, so that it can be fixed."""
    root, faults = open_job.root()
    if root is None:
        return bool(faults)
    return any(value_at(root, name) is not None for name in _SECTIONS)


def head_of(open_job: OpenJob) -> dict[str, Any]:
    """What the list of jobs shows at once."""
    root, _ = open_job.root()
    return {
        "name": open_job.name,
        "site": text_at(root, "job", "site"),
        "code": text_at(root, "job", "code"),
        "revision": text_at(root, "job", "revision"),
        "words": list(_search_words(root)),
        "readable": root is not None,
    }


def codes_of(jobs: Iterable[OpenJob]) -> list[str]:
    """Those that no other job of the folder should have."""
    return [text_at(job.root()[0], "job", "code") for job in jobs]


def state_of(open_job: OpenJob, cards: Path, language: str) -> dict[str, Any]:
    """What takes longer: what is wrong with it, and what was printed."""
    return {
        "version": open_job.now.version,
        **counts_of(open_job.examined().problems),
        "printed": printed_of(cards, language),
    }


def printed_of(cards: Path, language: str) -> dict[str, Any]:
    """The newest revision that was printed, the day, and the last that hangs, if any was."""
    manifest = cards / MANIFEST
    try:
        log = read_log(cards)
        if not log.revisions:
            return {}
        day = datetime.datetime.fromtimestamp(manifest.stat().st_mtime).astimezone().date()
    except UserError as fault:
        said = told_refusal(fault, language)
        return {"unknown": as_sentence(said.sentence), "lang": said.language}
    except OSError:
        return {}
    hangs = {"hangs": max(log.hung)} if log.hung else {}
    return {"revision": max(log.revisions), "day": day.isoformat(), **hangs}


def _search_words(root: Node | None) -> Iterator[list[str]]:
    """Of each controller, box and station its section, its name and where it is or what for."""
    for section in _SEARCHED:
        for entry in entries_of(root, section):
            values = entry.value.entries if isinstance(entry.value, Mapping) else ()
            texts = (
                each.value.text
                for each in values
                if each.key.text in ("area", "place", "box") and isinstance(each.value, Scalar)
            )
            yield [section, entry.key.text, ", ".join(texts)]


def text_at(root: Node | None, *path: str) -> str:
    """A value as it is written; empty where there is none."""
    found = value_at(root, *path)
    return found.text if isinstance(found, Scalar) else ""
