"""Turn an examined job and the revisions published before it into the files of its record."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from cardgen.asbuilt import AsBuilt
from cardgen.cards import Printable
from cardgen.drawing import SCREEN, home_runs, picture
from cardgen.examine import Examined
from cardgen.light_dataclass import dataclass, replace
from cardgen.memory.changes import same
from cardgen.memory.codec import BadStoredValue, OtherVersion
from cardgen.memory.prints import MANIFEST
from cardgen.memory.revisions import RevisionLog, from_json
from cardgen.output.as_printable import as_printable
from cardgen.output.readings_file import readings_in
from cardgen.output.writing import Say, held, write_set
from cardgen.problems import CannotWrite, Problem, UserError, has_errors
from cardgen.record import HISTORY, PageFrame, PageWords, SharedFolder, drawing_page, frame_of, site
from cardgen.record.names import DRAWING, page
from cardgen.results import KnownNames
from cardgen.stages import Stage
from cardgen.words import languages as known_languages
from cardgen.words import load_words
from cardgen.words.words_loader import MEASURE

_ANEW = "publish all revisions again into an empty folder"
_AGAIN = f"put it back from a copy, or {_ANEW}"


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordRequest:
    """How a record is to be made.

    Attributes:
        languages: of the pages, the one at the printed addresses first; empty for those that the
            record has already, else English.
        layouts: folder of one's own words; None for the shipped ones alone.
        results: CSV file of what crews measured, to be published with what was before.
        forget_results: whether those published before are taken off first.
        replace: whether what was published or changed by hand may be overwritten.
    """

    languages: tuple[str, ...] = ()
    layouts: Path | None = None
    results: Path | None = None
    forget_results: bool = False
    replace: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordFiles:
    """The files of one job's record.

    Attributes:
        folder: where they belong, so that the printed addresses find them.
        history: all that is published with it.
    """

    folder: Path
    files: Mapping[str, bytes]
    manifest: Mapping[str, Any]
    history: RevisionLog


def folder_of(printable: Printable, out: Path) -> Path:
    """The folder of a job: below `out` as its address is below the host.

    Raises:
        UserError: if the job names no address.
    """
    if not printable.asbuilt.address:
        raise UserError(
            "the job has no record: it names no address for one",
            "write 'record: {address: https://..., key: ...}'; 'cardgen new' makes a key",
        )
    path = urlsplit(printable.asbuilt.address).path
    return out.joinpath(*(part for part in path.split("/") if part))


def publish(
    examined: Examined, out: Path, request: RecordRequest, *, say: Say | None = None
) -> tuple[RecordFiles | None, tuple[Problem, ...]]:
    """Make the record and write it; the job's folder is held from the first reading to the end.

    Else of two that publish at once, one would write a history without the other's revision.

    Raises:
        CannotWrite: if the folder holds what must not be lost, or cannot be written.
    """
    printable = as_printable(examined, with_network=True)
    if printable is None:
        return None, ()
    with held(folder_of(printable, out), replace=request.replace, say=say):
        record, problems = _record(printable, out, request)
        if record is not None:
            Stage.OUTPUT.begins()
            write_set(record.folder, record.files, record.manifest, replace=request.replace)
    return record, problems


def make_record(
    examined: Examined, out: Path, request: RecordRequest
) -> tuple[RecordFiles | None, tuple[Problem, ...]]:
    """The record with this revision in it, or None with what keeps it from being made.

    Raises:
        CannotWrite: if the folder holds what must not be lost.
    """
    printable = as_printable(examined, with_network=True)
    return _record(printable, out, request) if printable is not None else (None, ())


def _record(
    printable: Printable, out: Path, request: RecordRequest
) -> tuple[RecordFiles | None, tuple[Problem, ...]]:
    folder, new = folder_of(printable, out), printable.asbuilt
    kept = _kept(folder / HISTORY)
    _refuse_another(kept, new, folder, request)
    history = kept.with_revision(new)
    history = replace(history, languages=request.languages or kept.languages or (MEASURE,))
    history, problems = _with_results(history, request)
    languages, faults = page_words(history.languages, request.layouts)
    problems = (*problems, *faults)
    if has_errors(problems):
        return None, problems
    Stage.LAYOUT.begins()
    drawings, faults = _drawings(printable, history, folder, languages)
    problems = (*problems, *faults)
    if has_errors(problems):
        return None, problems
    Stage.RECORD.begins()
    try:
        files = site(history, drawings, languages)
    except SharedFolder as fault:
        raise CannotWrite(
            f"'{fault.name}' would share the page '{fault.folder}' with something else",
            "give one of them another name",
        ) from fault
    manifest = {
        "job_code": new.job_code,
        "key": new.key,
        "revision": history.revisions[-1].revision,
    }
    return RecordFiles(folder=folder, files=files, manifest=manifest, history=history), problems


def _with_results(
    history: RevisionLog, request: RecordRequest
) -> tuple[RevisionLog, tuple[Problem, ...]]:
    """With the values of the CSV file; all of them are of valves of this job, now or before."""
    if request.forget_results:
        history = replace(history, results=())
    if request.results is None:
        return history, ()
    names = KnownNames.of(history.revisions)
    measured, problems = readings_in(request.results, names, history.revisions[-1].key)
    return history.with_results(measured), problems


def page_words(
    languages: Sequence[str], layouts: Path | None
) -> tuple[tuple[PageWords, ...], tuple[Problem, ...]]:
    """The words of each language by itself; none of them where one has a fault.

    Raises:
        CannotWrite: if a language that the record has is not there any more.
    """
    for language in languages:
        if language not in known_languages(layouts):
            raise CannotWrite(
                f"the record has pages in '{language}', and nothing says its words",
                "name the folder that has them: --layouts DIR",
            )
    found = [load_words((language,), layouts) for language in languages]
    problems = tuple(problem for _, faults in found for problem in faults)
    made = tuple(PageWords(words) for words, _ in found if words is not None)
    return (made if len(made) == len(found) else ()), problems


def _kept(path: Path) -> RevisionLog:
    """What was published before; a damaged file stops everything, for it cannot be made again."""
    try:
        return from_json(path.read_bytes())
    except FileNotFoundError as fault:
        if (path.parent / MANIFEST).exists():  # without it, pages of what is gone would go too
            raise CannotWrite(f"'{path}' is missing", _AGAIN) from fault
        return RevisionLog()
    except NotADirectoryError:
        return RevisionLog()
    except OSError as fault:
        sentence = f"'{path}' cannot be read: {(fault.strerror or str(fault)).lower()}"
        raise CannotWrite(sentence, "it has the revisions published before") from fault
    except OtherVersion as fault:
        raise CannotWrite(
            f"'{path}' was written by another version of cardgen", f"use that version, or {_ANEW}"
        ) from fault
    except BadStoredValue as fault:
        raise CannotWrite(f"'{path}' is damaged", _AGAIN) from fault


def _refuse_another(kept: RevisionLog, new: AsBuilt, folder: Path, request: RecordRequest) -> None:
    revisions = kept.revisions
    if revisions and revisions[0].job_code != new.job_code and not request.replace:
        raise CannotWrite(
            f"'{folder}' has the record of another job ({revisions[0].job_code})",
            "each job has a key of its own: 'cardgen new' makes one",
        )
    for revision in revisions:
        if revision.revision == new.revision and not (request.replace or same(revision, new)):
            raise CannotWrite(
                f"revision {new.revision} was published before and said something else",
                "raise 'revision' in the job; if no tag of it hangs yet, add --replace",
            )
    is_older = bool(revisions) and revisions[-1].revision > new.revision
    if is_older and request.languages not in ((), kept.languages):
        raise CannotWrite(
            f"revision {revisions[-1].revision} is the newest: only it can have other languages",
            "publish that one with --language; leave it out here",
        )


def _drawings(
    printable: Printable, history: RevisionLog, folder: Path, languages: Sequence[PageWords]
) -> tuple[dict[str, bytes], tuple[Problem, ...]]:
    """By language the page of the newest revision; where that was published before, as it was."""
    now = history.revisions[-1]
    frames = [frame_of(history, words, languages) for words in languages]
    if now.revision != printable.asbuilt.revision:
        return {f.words.language: _old_drawing(folder, f) for f in frames}, ()
    made: dict[str, bytes] = {}
    problems: list[Problem] = []
    for frame in frames:
        drawing, faults = _drawing(replace(printable, words=frame.words.words), frame)
        problems += faults
        if drawing:
            made[frame.words.language] = drawing
    return made, tuple(dict.fromkeys(problems))


def _drawing(printable: Printable, frame: PageFrame) -> tuple[bytes, tuple[Problem, ...]]:
    """The page with the sheets, in the language of the job's words."""
    homes = home_runs(printable)
    sheets, problems = picture(homes, SCREEN)
    return (drawing_page(frame, homes, sheets) if sheets else b""), problems


def _old_drawing(folder: Path, frame: PageFrame) -> bytes:
    try:
        return (folder / page(frame.within(DRAWING))).read_bytes()
    except OSError:
        return b""
