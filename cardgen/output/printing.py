"""Turn an examined job into the files of one print, and say what was printed.

```
job -> what each card says -> those that are wanted -> pages in walking order -> files, manifest
```
"""

from __future__ import annotations

from collections.abc import Mapping
from collections.abc import Set as AbstractSet
from pathlib import Path
from typing import Any

from cardgen.cards import CardKind, Printable
from cardgen.cards.materials_sheet import materials_rows
from cardgen.examine import Examined
from cardgen.gc_pause import gc_paused
from cardgen.layout import load_layouts
from cardgen.layout.layout_checks import stock_faults
from cardgen.light_dataclass import dataclass, replace
from cardgen.memory.prints import PrintedRevision, manifest_of, read_log
from cardgen.output.as_printable import as_printable
from cardgen.output.bundle import bundled
from cardgen.output.choosing import Chosen, base_of, choose
from cardgen.output.documents import CSV, PrintedFiles, files_of
from cardgen.output.empty_readings import empty_readings, files_of_readings
from cardgen.output.hanging import changes_in, texts_hanging_at
from cardgen.output.job_cards import JobCards
from cardgen.output.print_request import PrintRequest
from cardgen.output.print_settings import PrintSettings
from cardgen.output.progress import Progress
from cardgen.output.readings_file import newest_of, readings_in
from cardgen.output.spreadsheet import csv_bytes
from cardgen.output.stale_cards import Changes, compared
from cardgen.output.stale_list import NAME as STALE
from cardgen.output.stale_list import stale_list
from cardgen.output.walking_order import Walk
from cardgen.output.writing import Say, held, write_set
from cardgen.problems import Problem, has_errors, in_order
from cardgen.results import KnownNames
from cardgen.stages import Stage
from cardgen.words import Words, load_words

EVERY_CARD = PrintRequest()


@dataclass(frozen=True, slots=True, kw_only=True)
class Print:
    """The files of a print by name, with what the manifest says of them.

    Attributes:
        counts: cards (of the drawing: home runs; of the packet: documents) and pages by file.
        changes: since the earlier print that was asked for.
        stale: the same as a list for people, as a terminal shows it.
        left_out: keys of the cards that have no room.
        outdated: after a whole print, the revision before it of which something holds no longer.
    """

    files: Mapping[str, bytes]
    manifest: Mapping[str, Any]
    counts: Mapping[str, tuple[int, int]]
    changes: Changes | None = None
    stale: str = ""
    left_out: tuple[str, ...] = ()
    outdated: int | None = None


def print_into(
    usual: Printable,
    out: Path,
    request: PrintRequest = EVERY_CARD,
    *,
    say: Say | None = None,
    progress: Progress | None = None,
) -> tuple[Print | None, tuple[Problem, ...]]:
    """Make the print of a job and write it; the folder is held from the first reading to the end.

    It is told the job as built, so that what was examined need not be kept any longer.

    `earlier` of the request is what the folder keeps; `say` is told where another
    program holds it, `progress` how far it is.

    Raises:
        UserError: if what is wanted is not there, the revision was printed otherwise before, or the
            folder cannot take the files.
    """
    with held(out, replace=request.replace, say=say):
        request = replace(request, earlier=read_log(out))
        made, problems = _make_print(usual, request, progress)
        if made is not None:
            Stage.OUTPUT.begins()
            kept = [name for name in request.earlier.files if request.keeps(name)]
            write_set(out, made.files, made.manifest, replace=request.replace, kept=kept)
    return made, problems


def make_print(
    examined: Examined, request: PrintRequest = EVERY_CARD
) -> tuple[Print | None, tuple[Problem, ...]]:
    """The wanted cards of a job as files, or None with what keeps it from being printed.

    Raises:
        UserError: if what is wanted is not there, or the revision was printed otherwise before.
    """
    usual = as_printable(examined, for_survey=request.is_survey)
    return _make_print(usual, request, None) if usual else (None, ())


@gc_paused()
def _make_print(
    usual: Printable, request: PrintRequest, progress: Progress | None
) -> tuple[Print | None, tuple[Problem, ...]]:
    words, problems = load_words(request.languages, request.layouts)
    layouts, found = load_layouts(request.layouts, words, request.kinds)
    problems = in_order((*problems, *found))
    if request.offset is not None:
        layouts = layouts.moved(request.stocks, *request.offset)
        problems += tuple(p for name in request.stocks for p in stock_faults(layouts.stocks[name]))
    measured, found = _measured(usual, request.results)
    problems = in_order((*problems, *found))
    if words is None or has_errors(problems):
        return None, problems
    printable = replace(usual, words=words, measured=measured)
    Stage.CARDS.begins()
    cards = JobCards(usual)
    walk = Walk(usual.asbuilt)
    chosen = choose(cards, request)  # in English: facts do not change with the language
    if request.read_from is not None:
        layouts = layouts.seen_from(request.read_from)
    press = replace(PrintSettings.of(printable, layouts, request), progress=progress or Progress())
    plain = printable.words == usual.words and not printable.measured
    printed = cards if plain else JobCards(printable)
    if request.bundle is not None:
        drawn = bundled(press, printed, walk, chosen, request.bundle, start=request.start)
    else:
        drawn = files_of(press, printed, walk, chosen, start=request.start)
    problems = in_order((*problems, *drawn.problems))
    if has_errors(problems):
        return None, problems
    if CardKind.MATERIALS in chosen.kinds:
        drawn.files[CSV] = csv_bytes(materials_rows(printable))
    drawn.files |= _empty_readings(usual, chosen, walk)
    return _print_of(cards, request, chosen, walk, drawn, words), problems


def _empty_readings(printable: Printable, chosen: Chosen, walk: Walk) -> dict[str, bytes]:
    """Beside the test sheets, of the same controllers; the same in every language."""
    now = printable.asbuilt
    controllers = [
        name for name in now.controller if f"{CardKind.TEST_SHEET} {name}" in chosen.keys
    ]
    if not controllers or CardKind.TEST_SHEET not in chosen.kinds:
        return {}
    return dict(files_of_readings(empty_readings(now, walk, controllers)))


def _print_of(
    cards: JobCards,
    request: PrintRequest,
    chosen: Chosen,
    walk: Walk,
    drawn: PrintedFiles,
    words: Words,
) -> Print:
    """What was drawn, with what changed, and what is kept for later prints."""
    usual = cards.printable
    stale = _stale(usual, request, chosen, walk, usual.words)
    carried = _stale(usual, request, chosen, walk, words)
    files = {**drawn.files, STALE: carried.encode()} if carried else drawn.files
    inside = f"{request.folder}/" if request.folder else ""
    return Print(
        files={inside + name: data for name, data in files.items()},
        manifest=_manifest(cards, request, chosen, drawn.left_out),
        counts={inside + name: count for name, count in drawn.counts.items()},
        changes=chosen.changes,
        stale=stale,
        left_out=tuple(sorted(drawn.left_out)),
        outdated=_outdated(cards, request, chosen),
    )


def _measured(
    printable: Printable, results: Path | None
) -> tuple[Mapping[str, Mapping[str, str]], tuple[Problem, ...]]:
    if results is None:
        return {}, ()
    now = printable.asbuilt
    measured, problems = readings_in(results, KnownNames.of([now]), now.key)
    return newest_of(measured), problems


def _stale(
    printable: Printable, request: PrintRequest, chosen: Chosen, walk: Walk, words: Words
) -> str:
    """What changed, for people; empty where nothing did, or where nobody asked."""
    if not chosen.changes or chosen.since is None or request.since is None:
        return ""
    now, since = printable.asbuilt, chosen.since
    against = words(
        "stale.against",
        revision=now.revision, date=now.date, since=request.since, before=since.date,
    )  # fmt: skip
    heading = [f"{now.job_code} · {now.site}", against.printed]
    changes = changes_in(words, chosen.changes, base_of(request), request.since, printable)
    return stale_list(changes, walk, heading, words)


def _outdated(cards: JobCards, request: PrintRequest, chosen: Chosen) -> int | None:
    now = cards.printable.asbuilt.revision
    before = [number for number in chosen.earlier.revisions if number < now]
    if not before or not request.is_whole:
        return None
    newest = max(before)
    return newest if compared(texts_hanging_at(chosen.earlier, newest), cards.texts) else None


def _manifest(
    cards: JobCards, request: PrintRequest, chosen: Chosen, left_out: AbstractSet[str]
) -> dict[str, Any]:
    now, has_errors = cards.printable.asbuilt, bool(cards.printable.errors)
    printed = PrintedRevision(
        date=now.date,
        whole=request.is_whole and not left_out,
        cards=frozenset() if has_errors else chosen.keys - left_out,
        job=cards.stored,
        gone=frozenset(each.key for each in chosen.changes.gone) if chosen.changes else frozenset(),
    )
    log = chosen.earlier
    if not has_errors or now.revision not in log.revisions:  # else nothing was printed of it
        log = log.with_print(
            now.job_code, now.revision, printed, said_otherwise=chosen.said_otherwise
        )
    is_last = bool(chosen.keys) and request.bundle is None  # which leaves all other files
    made_from = request.made_from if is_last else chosen.earlier.made_from
    return manifest_of(log, now.revision, made_from)
