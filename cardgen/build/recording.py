"""Turn an examined job and the revisions published before it into the files of its record."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from cardgen.build.locking import locked
from cardgen.build.ready import ready
from cardgen.build.refused import CannotWrite
from cardgen.build.writing import MANIFEST, write_set
from cardgen.cards import Printable
from cardgen.drawing import home_runs, picture
from cardgen.examine import Examined
from cardgen.layout import Stamp
from cardgen.problems import Problem, has_errors
from cardgen.record import (
    DRAWING,
    HISTORY,
    Revision,
    SharedFolder,
    Unfit,
    drawing_page,
    from_json,
    gather,
    merged,
    same,
    site,
)

_AGAIN = "put it back from a copy, or publish all revisions anew into an empty folder"


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """The files of one job's record.

    Attributes:
        folder: where they belong, so that the printed addresses find them.
        published: the numbers of all revisions in it.
    """

    folder: Path
    files: Mapping[str, bytes]
    manifest: Mapping[str, Any]
    published: tuple[int, ...]


def folder_of(job: Printable, out: Path) -> Path:
    """The folder of a job: below `out` as its address is below the host."""
    path = urlsplit(job.record.address.value).path
    return out.joinpath(*(part for part in path.split("/") if part), job.record.key.value)


def publish(
    examined: Examined, out: Path, *, replace: bool, waiting: Callable[[Path], None] | None = None
) -> tuple[Record | None, tuple[Problem, ...]]:
    """Make the record and write it; the job's folder is held from the first reading to the end.

    Else of two that publish at once, one would write a history without the other's revision.

    Raises:
        CannotWrite: if the folder holds what must not be lost, or cannot be written.
    """
    job = ready(examined)
    if job is None:
        return None, ()
    with locked(folder_of(job, out), waiting=waiting):
        record, problems = make_record(examined, out, replace=replace)
        if record is not None:
            write_set(record.folder, record.files, record.manifest, replace=replace)
    return record, problems


def make_record(
    examined: Examined, out: Path, *, replace: bool
) -> tuple[Record | None, tuple[Problem, ...]]:
    """The record with this revision in it, or None with what keeps it from being made.

    Raises:
        CannotWrite: if the folder holds what must not be lost.
    """
    job = ready(examined)
    if job is None:
        return None, ()
    folder, new = folder_of(job, out), gather(job)
    kept = _kept(folder / HISTORY)
    _refuse_another(kept, new, folder, replace)
    revisions = merged(kept, new)
    drawing, problems = _drawing(job, new, folder, is_newest=revisions[-1] is new)
    if has_errors(problems):
        return None, problems
    try:
        files = site(revisions, drawing)
    except SharedFolder as fault:
        raise CannotWrite(
            f"'{fault.name}' would share the page '{fault.folder}' with something else",
            "give one of them another name",
        ) from fault
    manifest = {"job": new.job, "key": new.key, "revision": revisions[-1].revision}
    published = tuple(revision.revision for revision in revisions)
    return Record(folder=folder, files=files, manifest=manifest, published=published), problems


def _kept(path: Path) -> tuple[Revision, ...]:
    """What was published before; a damaged file stops everything, for it cannot be made again."""
    try:
        return from_json(path.read_bytes())
    except FileNotFoundError as fault:
        if (path.parent / MANIFEST).exists():  # without it, pages of what is gone would go too
            raise CannotWrite(f"'{path}' is missing", _AGAIN) from fault
        return ()
    except NotADirectoryError:
        return ()
    except OSError as fault:
        sentence = f"'{path}' cannot be read: {(fault.strerror or str(fault)).lower()}"
        raise CannotWrite(sentence, "it holds the revisions published before") from fault
    except Unfit as fault:
        raise CannotWrite(
            f"'{path}' is damaged or of a newer cardgen",
            _AGAIN,
        ) from fault


def _refuse_another(kept: tuple[Revision, ...], new: Revision, folder: Path, replace: bool) -> None:
    if kept and kept[0].job != new.job and not replace:
        raise CannotWrite(
            f"'{folder}' holds the record of another job ({kept[0].job})",
            "each job has a key of its own: 'cardgen new' makes one",
        )
    for revision in kept:
        if revision.revision == new.revision and not (replace or same(revision, new)):
            raise CannotWrite(
                f"revision {new.revision} was published before and said something else",
                "raise 'revision' in the job; if no tag of it hangs yet, add --replace",
            )


def _drawing(
    job: Printable, new: Revision, folder: Path, *, is_newest: bool
) -> tuple[bytes, tuple[Problem, ...]]:
    """The page of the newest revision; where that was published before, it stays as it is."""
    if not is_newest:
        try:
            return (folder / DRAWING).read_bytes(), ()
        except OSError:
            return b"", ()
    homes = home_runs(job)
    stamp = Stamp(job=new.job, revision=f"rev {new.revision} of {new.date}", site=new.site)
    sheets, problems = picture(homes, paper="letter", stamp=stamp)
    return (drawing_page(new, homes, sheets) if sheets else b""), problems
