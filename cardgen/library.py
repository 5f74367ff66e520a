"""What other programs call: `load`, `check` and `print_job`, which `import cardgen` offers."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from os import PathLike
from pathlib import Path

from cardgen.asbuilt import Band, BuiltValve
from cardgen.english_lists import english_list
from cardgen.examine import Examined, examine
from cardgen.light_dataclass import dataclass
from cardgen.output.as_printable import as_printable
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import print_into
from cardgen.output.selection import KINDS, Selection
from cardgen.output.stock_choice import stock_choices
from cardgen.printer import PAPERS, Ink
from cardgen.problems import JobErrors, Problem, UserError, has_errors, in_order
from cardgen.reading.shapes import nearest
from cardgen.words import languages as known_languages

__all__ = ["Checked", "Expected", "JobErrors", "UserError", "check", "load", "print_job"]

JobFile = str | PathLike[str]


@dataclass(frozen=True, slots=True, kw_only=True)
class Expected:
    """What a good meter reads at one valve; None or empty where it is not known or means nothing.

    Attributes:
        valve: `A7`; of a twin `A10a` and `A10b`.
        station, controller, terminal, box: what the valve belongs to, and where it is.
        ohms: direct-current ohms at the controller at 20 C, power off, the hot and all commons
            lifted; of all coils of the station together.
        coil: ohms at 20 C of the coil alone, its leads off.
        volts: lowest and highest at the coil while it is on, with what always runs with it.
        milliamperes: out of the controller at that time.
    """

    valve: str
    station: str
    controller: str
    terminal: str
    box: str
    ohms: Band | None
    coil: Band | None
    volts: tuple[float, ...]
    milliamperes: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Checked:
    """Attributes:
    problems: errors, warnings and notes in the order of the file, each with its place, its
        sentence, the way out and its code.
    expected: by valve in the order of the file; empty while the job has an error, for what
        cannot be proved right is not told.
    """

    problems: tuple[Problem, ...]
    expected: Mapping[str, Expected]

    @property
    def has_errors(self) -> bool:
        return has_errors(self.problems)


def load(path: JobFile) -> Examined:
    """A job file, read and examined; `check` and `print_job` take it.

    Raises:
        JobErrors: if the job has an error or the file cannot be read; its `problems` are all that
            was found.
    """
    examined = examine(Path(path))
    if examined.has_errors:
        raise JobErrors(examined.problems)
    return examined


def check(job: JobFile | Examined) -> Checked:
    """Everything that is wrong with a job, and what a meter should read at each of its valves.

    Args:
        job: a file, or what `load` gave.  Of a file with errors the errors are told, not raised.
    """
    examined = job if isinstance(job, Examined) else examine(Path(job))
    usual = as_printable(examined)
    valves = usual.asbuilt.in_order if usual is not None else ()
    return Checked(
        problems=examined.problems, expected={valve.id: _expected(valve) for valve in valves}
    )


def _expected(valve: BuiltValve) -> Expected:
    return Expected(
        valve=valve.id,
        station=valve.station,
        controller=valve.controller,
        terminal=valve.terminal,
        box=valve.box,
        ohms=valve.ohms,
        coil=valve.coil,
        volts=valve.volts,
        milliamperes=valve.milliamperes,
    )


def print_job(  # noqa: PLR0913  # each is an option of its own
    job: JobFile | Examined,
    out: JobFile,
    *,
    only: Sequence[str] = (),
    paper: str = PAPERS[0],
    stocks: Sequence[str] = (),
    ink: str = Ink.COLOR,
    languages: Sequence[str] = ("en",),
    layouts: JobFile | None = None,
    replace: bool = False,
) -> list[Path]:
    """Write the tags, flags and sheets of a job into the folder `out`, as `cardgen print` does.

    Args:
        job: a file, or what `load` gave.
        out: the folder; it is made if it is not there, and keeps a manifest of what was printed.
        only: `valve-tags`, `wire-flags`, ... as after `--only`; empty for everything.
        paper: `letter` or `a4`.
        stocks: names of what else lies in the printers, as `cardgen stock` lists them.
        ink: `color`, `gray` or `one`.
        languages: one or two, `("en", "es")`.
        layouts: folder of your own stock, faces and words.
        replace: also over a revision that said something else, and over files of another program.

    Returns:
        The files written, in the order of their names, without the manifest.

    Raises:
        JobErrors: if the job has an error, or something does not fit on its card.
        UserError: if there is no such paper, stock, ink, language or kind of card, or the folder
            holds what must not be lost.  Nothing is changed then.
    """
    folder = None if layouts is None else Path(layouts)
    _refuse_unknown("kind of card", only, KINDS)
    _refuse_unknown("paper", [paper], PAPERS)
    _refuse_unknown("ink", [ink], list(Ink))
    _refuse_unknown("stock", stocks, stock_choices(folder) if stocks else ())
    _refuse_unknown("language", languages, known_languages(folder))
    request = PrintRequest(
        selection=Selection(only=tuple(only)),
        paper=paper,
        stocks=tuple(stocks),
        ink=Ink(ink),
        languages=tuple(languages),
        layouts=folder,
        replace=replace,
    )
    examined = job if isinstance(job, Examined) else load(job)
    printable = as_printable(examined)
    if printable is None:
        raise JobErrors(examined.problems)
    made, more = print_into(printable, Path(out), request)
    if made is None:
        raise JobErrors(in_order((*examined.problems, *more)))
    return sorted(Path(out) / name for name in made.files)


def _refuse_unknown(what: str, said: Sequence[str], known: Collection[str]) -> None:
    for name in said:
        if name not in known:
            way_out = nearest(name, known) or f"there are {english_list(known)}"
            raise UserError(f"there is no {what} '{name}'", way_out)
