"""`cardgen stock`: what can be printed on, drawn; `--proof NAME --out FILE.pdf` for one printer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from cardgen.cli.telling import CLEAN, ERRORS, layouts_folder, no_stock, tell
from cardgen.draw.pdf import pdf
from cardgen.layout import Layouts, Stock, load_layouts
from cardgen.layout.proof import instructions, proof
from cardgen.problems import UserError, has_errors
from cardgen.words import english

# One letter of a picture; letters are twice as high as wide, so both are the same on the sheet.
WIDE, HIGH = 10.0, 20.0  # mm
WORDS_AT = 34  # column where the words beside a picture begin


@dataclass(frozen=True, kw_only=True)
class Options:
    """Attributes:
    names: only these; empty for all.
    proof: the stock whose alignment sheet is written to `out`.
    layouts: folder of stock, faces and words of your own.
    format: how problems of those are shown.
    """

    names: Sequence[str]
    proof: str | None
    out: Path | None
    layouts: Path | None
    format: str


def run(options: Options) -> int:
    folder = layouts_folder(options.layouts)
    layouts, problems = load_layouts(folder)
    tell(problems, options)
    if has_errors(problems):
        return ERRORS
    for name in (*options.names, *([options.proof] if options.proof else [])):
        if name not in layouts.stocks:
            raise no_stock(name, list(layouts.stocks))
    if options.proof or options.out:
        return _write_proof(options, layouts)
    for name in options.names or layouts.stocks:
        print("\n".join(stock_lines(layouts.stocks[name], layouts)))
        print()
    return CLEAN


def _write_proof(options: Options, layouts: Layouts) -> int:
    if not options.proof or not options.out:
        raise UserError("a proof needs both --proof NAME and --out FILE.pdf")
    stock = layouts.stocks[options.proof]
    made = pdf([proof(stock)], title=f"Proof of {stock.name}", subject=stock.about)
    try:
        options.out.write_bytes(made)
    except OSError as fault:
        reason = (fault.strerror or "failed").lower()
        raise UserError(f"cannot write '{options.out}': {reason}") from fault
    print(options.out)
    print("\n".join(instructions(stock, english())[1:]))
    return CLEAN


def stock_lines(stock: Stock, layouts: Layouts) -> Iterator[str]:
    """A picture at the left, what is to be known at the right."""
    picture, words = drawn(stock), _words(stock, layouts)
    for number in range(max(len(picture), len(words))):
        left = picture[number] if number < len(picture) else ""
        right = words[number] if number < len(words) else ""
        yield f"{left:{WORDS_AT}}{right}".rstrip()


def _words(stock: Stock, layouts: Layouts) -> list[str]:
    kinds = [f.kind for f in layouts.faces if f.format == stock.format]
    named = ", ".join(dict.fromkeys(str(kind) for kind in kinds)) or "nothing: it has no face"
    ink = "color" if stock.colored else "black only"
    grid = f"{stock.columns} x {stock.rows} cards" if stock.per_sheet > 1 else "one card"
    size = f"{stock.card_width:g} x {stock.card_height:g} mm"
    words = [
        stock.name,
        stock.about,
        f"paper {stock.paper_width:g} x {stock.paper_height:g} mm, {grid} of {size}",
        f"{stock.dots_per_inch:g} dots per inch, {ink}",
        f"for: {named}",
    ]
    if stock.turn:
        words.append(f"printed turned by {stock.turn} degrees")
    if stock.offset is not None:
        words.append(f"offset x {stock.offset.x:g} mm, y {stock.offset.y:g} mm")
    return words


def drawn(stock: Stock) -> list[str]:
    """The paper as a box, its cards in turn light and dark, holes as `o`; 10 mm a letter."""
    columns = max(2, round(stock.paper_width / WIDE))
    rows = max(1, round(stock.paper_height / HIGH))
    step_x, step_y = stock.paper_width / columns, stock.paper_height / rows
    inside = [
        "".join(_letter(stock, (c + 0.5) * step_x, (r + 0.5) * step_y) for c in range(columns))
        for r in range(rows)
    ]
    hole = stock.hole
    if hole is not None:
        for index in range(stock.per_sheet):
            at = stock.position(index)
            r, c = int((at.y + hole.y) / step_y), int((at.x + hole.x) / step_x)
            inside[r] = f"{inside[r][:c]}o{inside[r][c + 1 :]}"
    edge = "─" * columns
    return [f"┌{edge}┐", *(f"│{row}│" for row in inside), f"└{edge}┘"]


def _letter(stock: Stock, x: float, y: float) -> str:
    """What lies at that point of the paper."""
    for index in range(stock.per_sheet):
        at = stock.position(index)
        if at.x <= x <= at.right and at.y <= y <= at.bottom:
            row, column = divmod(index, stock.columns)
            return "▒░"[(row + column) % 2]
    return " "
