"""The options of `print` and `check` that say what cards are printed on, and in which words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from cardgen.cli.options import JobOptions
from cardgen.cli.telling import chosen_languages, layouts_folder, no_stock
from cardgen.job.quantities import LENGTH
from cardgen.layout.legibility import FARTHEST, NEAREST
from cardgen.output.print_request import PrintRequest
from cardgen.output.stock_choice import is_stock, stock_choices
from cardgen.problems import UserError
from cardgen.reading.shapes import BadValue
from cardgen.units import Meters


@dataclass(frozen=True, kw_only=True)
class SheetOptions(JobOptions):
    """As typed; `parser.py` says what each means."""

    paper: str
    stock: Sequence[str]
    layouts: Path | None
    language: str


@dataclass(frozen=True, kw_only=True)
class PaperOptions(SheetOptions):
    """For tags, too, which are read from a distance."""

    read_from: str | None


def paper_request(options: PaperOptions) -> PrintRequest:
    """A request for everything on that paper.

    Raises:
        UserError: if there is no such stock or language, or nobody reads from there.
    """
    request = sheet_request(options)
    if options.read_from is None:
        return request
    return replace(request, read_from=_distance(options.read_from))


def sheet_request(options: SheetOptions) -> PrintRequest:
    """The same where nothing is read from a distance.

    Raises:
        UserError: if there is no such stock or language.
    """
    folder = layouts_folder(options.layouts)
    languages = chosen_languages(options.language, folder)
    for name in options.stock:
        if not is_stock(name, folder):
            raise no_stock(name, stock_choices(folder))
    return PrintRequest(
        paper=options.paper,
        stocks=tuple(options.stock),
        layouts=folder,
        languages=languages,
    )


def _distance(typed: str) -> Meters:
    """From how far a tag is read.

    Raises:
        UserError: if that is not a length, or from too near or too far.
    """
    try:
        meters = LENGTH.parse(typed).meters
    except BadValue as bad:
        raise UserError(f"--read-from: {bad.sentence}", bad.help) from bad
    if not NEAREST <= meters <= FARTHEST:
        sentence = f"a tag is read from {NEAREST:g} to {FARTHEST:g} m, not from {typed}"
        raise UserError(f"--read-from: {sentence}")
    return meters
