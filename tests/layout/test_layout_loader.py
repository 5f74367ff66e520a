"""Layout files get the same treatment as jobs: every fault at its line and column."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest

from cardgen.cards import MAKERS, CardKind
from cardgen.examine import examine_text
from cardgen.layout import load_layouts
from cardgen.layout.geometry import Mm
from cardgen.output.print_request import PrintRequest
from cardgen.output.room import misfits
from cardgen.problems import Problem, UserError
from cardgen.reading import read_text
from cardgen.reading.shipped import shipped_folder
from tests.for_each import for_each
from tests.jobs import sample

GOOD_STOCK = """\
about: a card of ours
format: ours
paper: {width: 100 mm, height: 60 mm}
card: {width: 100 mm, height: 60 mm}
safe: 3 mm
dots_per_inch: 300
hole: {x: 90 mm, y: 10 mm, diameter: 5 mm}
"""
GOOD_FACE = """\
kind: valve tag
format: ours
columns:
  - frame: {x: 4 mm, y: 4 mm, width: 60 mm, height: 20 mm}
    blocks:
      - {field: headline, capitals: 12 / 6 mm, rule: ours}
  - frame: {x: 4 mm, y: 26 mm, width: 60 mm, height: 20 mm}
    blocks:
      - {field: box, capitals: 6 / 4 mm, rule: ours}
"""


def problems_of(folder: Path, stock: str, face: str) -> tuple[Problem, ...]:
    """What is wrong with a folder of one stock and one face."""
    for name, text in (("stock", stock), ("faces", face)):
        (folder / name).mkdir(parents=True)
        (folder / name / "ours.yaml").write_text(text, encoding="utf-8")
    return load_layouts(folder)[1]


def faults(folder: Path, stock: str = GOOD_STOCK, face: str = GOOD_FACE) -> list[str]:
    """`code @ what stands there`, in the order of the files."""
    found = []
    for problem in problems_of(folder, stock, face):
        lines = Path(problem.span.file).read_text(encoding="utf-8").splitlines()
        here = lines[problem.span.line - 1][problem.span.column - 1 :]
        found.append(f"{problem.code} @ {here.split()[0]}")
    return found


# What each file must have, and where it is in the files above; by hand.
NEEDED = {
    "stock": {
        "about": "about: a card of ours\n",
        "format": "format: ours\n",
        "paper": "paper: {width: 100 mm, height: 60 mm}\n",
        "card": "card: {width: 100 mm, height: 60 mm}\n",
        "safe": "safe: 3 mm\n",
        "dots_per_inch": "dots_per_inch: 300\n",
        "width": "width: 100 mm, ",
        "height": ", height: 60 mm",
        "x": "x: 90 mm, ",
        "y": "y: 10 mm, ",
        "diameter": ", diameter: 5 mm",
    },
    "face": {
        "kind": "kind: valve tag\n",
        "format": "format: ours\n",
        "columns": GOOD_FACE[GOOD_FACE.index("columns:") :],
        "frame": "frame: {x: 4 mm, y: 4 mm, width: 60 mm, height: 20 mm}\n    ",
        "blocks": "\n    blocks:\n      - {field: headline, capitals: 12 / 6 mm, rule: ours}",
        "field": "field: headline, ",
        "capitals": "capitals: 12 / 6 mm, ",
        "rule": ", rule: ours",
        "x": "x: 4 mm, ",
        "y": "y: 4 mm, ",
        "width": "width: 60 mm, ",
        "height": ", height: 20 mm",
    },
}


def told(folder: Path, file: str, old: str, new: str) -> list[tuple[str, str]]:
    """Code and sentence of each fault where one of the files says something else."""
    stock, face = GOOD_STOCK, GOOD_FACE
    if file == "stock":
        stock = stock.replace(old, new, 1)
    else:
        face = face.replace(old, new, 1)
    return [(problem.code, problem.sentence) for problem in problems_of(folder, stock, face)]


@for_each(("file", "name"), ((file, name) for file, names in NEEDED.items() for name in names))
def test_what_a_file_must_have(tmp_path: Path, file: str, name: str) -> None:
    found = told(tmp_path / f"{file} {name}", file, NEEDED[file][name], "")
    missing = [sentence for code, sentence in found if code == "missing"]
    assert len(missing) == 1 and missing[0].endswith(f"no '{name}'")


@for_each(
    ("file", "old", "new", "least", "most"),
    [
        ("stock", "safe:", "grid: {columns: %d}\nsafe:", 1, 50),
        ("stock", "safe:", "grid: {rows: %d}\nsafe:", 1, 100),
        ("face", "    blocks:", "    across: %d\n    blocks:", 1, 9),
        ("face", "    blocks:", "    wide: %d\n    blocks:", 1, 9),
        ("face", "rule: ours", "rule: ours, lines: %d", 1, 99),
        ("face", "rule: ours", "rule: ours, cells: %d", 1, 20),
        ("face", "rule: ours", "rule: ours, across: %d", 1, 20),
    ],
)
def test_numbers_have_limits(
    tmp_path: Path, file: str, old: str, new: str, least: int, most: int
) -> None:
    name = new.partition(":")[0].strip() + new.rpartition("{")[2].strip()
    for number in (least - 1, least, most, most + 1):
        place = tmp_path / re.sub(r"\W", "-", f"{name} {number}")
        codes = {code for code, _ in told(place, file, old, new % number)}
        assert ("out-of-range" in codes) is not (least <= number <= most), number


def test_a_file_that_says_something_else_is_read_again(tmp_path: Path) -> None:
    """As a rule it is not, for one process prints many jobs; a fault is told each time."""
    assert faults(tmp_path) == []
    path = tmp_path / "stock" / "ours.yaml"
    assert load_layouts(tmp_path)[0].stocks["ours"].safe == Mm(3)
    path.write_text(GOOD_STOCK.replace("safe: 3 mm", "safe: 2 mm"), encoding="utf-8")
    assert load_layouts(tmp_path)[0].stocks["ours"].safe == Mm(2)
    path.write_text(GOOD_STOCK.replace("safe: 3 mm", "safe: 3"), encoding="utf-8")
    first, second = (load_layouts(tmp_path)[1] for _ in range(2))
    assert first and first == second


def test_what_is_shipped_is_without_fault(tmp_path: Path) -> None:
    """A folder of one's own has all of it read, and held against each other."""
    _, problems = load_layouts(tmp_path)
    assert problems == ()


def test_what_is_shipped_is_the_same_read_at_once_or_as_needed(tmp_path: Path) -> None:
    at_once, as_needed = load_layouts(tmp_path)[0], load_layouts()[0]
    assert at_once.stocks == as_needed.stocks
    assert list(at_once.stocks) == list(as_needed.stocks)
    assert at_once.faces == as_needed.faces
    assert [(f.kind, f.format) for f in as_needed.face_files] == [
        (face.kind, face.format) for face in as_needed.faces
    ]


def read_as_yaml(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What is read from now on, as `stock/NAME`."""
    read: list[str] = []

    def noted(path: Path) -> tuple[str | None, tuple[Problem, ...]]:
        read.append(f"{path.parent.name}/{path.stem}")
        return read_text(path)

    monkeypatch.setattr("cardgen.layout.layout_loader.read_text", noted)
    return read


def test_a_shipped_file_is_read_when_it_is_needed_and_once(monkeypatch: pytest.MonkeyPatch) -> None:
    read = read_as_yaml(monkeypatch)
    layouts, _ = load_layouts()
    assert read == []
    for _ in range(2):
        assert layouts.face(CardKind.VALVE_TAG, layouts.stocks["id-1-a4"].format)
    assert read[:2] == ["stock/id-1-a4", "faces/valve-tag-id-1"]
    assert {name.removesuffix(name[-2:]) for name in read[2:]} >= {"stock/id-1-"}
    assert len(read) == len(set(read))


@pytest.mark.parametrize(
    ("name", "old", "new"),
    [
        ("stock/id-1-a4", "safe: 2 mm", "safe: 2"),
        ("stock/id-1-a4", "hole: {x: ", "hole: {x: 5"),
        ("faces/valve-tag-id-1", "kind: valve tag", "kind: valve tag\nkinds: 1"),
        ("faces/valve-tag-id-1", "{x: 2 mm, y: 2 mm,", "{x: 1 mm, y: 2 mm,"),
    ],
)
def test_a_shipped_file_that_was_spoiled_is_told_when_it_is_needed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, old: str, new: str
) -> None:
    folder = shutil.copytree(shipped_folder(), tmp_path / "layouts")
    spoiled = folder / f"{name}.yaml"
    text = spoiled.read_text(encoding="utf-8")
    assert old in text
    spoiled.write_text(text.replace(old, new, 1), encoding="utf-8")
    monkeypatch.setattr("cardgen.layout.layout_loader.shipped_folder", lambda: folder)
    layouts, _ = load_layouts()
    assert layouts.stocks["a7-a4"].name == "a7-a4", "what is not needed harms nobody"
    with pytest.raises(UserError) as fault:
        layouts.face(CardKind.VALVE_TAG, layouts.stocks["id-1-a4"].format)
    lines = spoiled.read_text(encoding="utf-8").splitlines()
    line = next(
        number for number, each in enumerate(lines, 1) if new.rsplit("\n", maxsplit=1)[-1] in each
    )
    assert fault.value.sentence.startswith(f"{spoiled}:{line}:")
    assert fault.value.help


def test_a_check_reads_what_lies_in_the_printer(monkeypatch: pytest.MonkeyPatch) -> None:
    """By the manual: tags on ID-1, flags, legend, half sheets and sheets, each of them once."""
    read = read_as_yaml(monkeypatch)
    assert misfits(examine_text(sample("larkspur")), PrintRequest()) == ()
    stocks = {name.removeprefix("stock/") for name in read if name.startswith("stock/")}
    assert {"flag-letter", "half-letter", "id-1-letter", "legend-letter", "sheet-letter"} <= stocks
    names = ("flag-", "half-", "id-1-", "legend-", "sheet-")  # a face is held against all its stock
    assert all(name.startswith(names) for name in stocks)
    faces = [name for name in read if name.startswith("faces/")]
    assert len(faces) == len(set(faces)) == len(MAKERS)


def test_of_the_shipped_faces_only_those_for_the_wanted_kinds_are_read() -> None:
    every, _ = load_layouts()
    some, problems = load_layouts(None, None, [CardKind.VALVE_TAG, CardKind.FLAG])
    assert problems == ()
    assert some.stocks == every.stocks
    kinds = (CardKind.VALVE_TAG, CardKind.FLAG)
    assert some.faces == tuple(face for face in every.faces if face.kind in kinds)
    # Counted in the folder: the files whose names begin so.
    names = [path.name for path in (shipped_folder() / "faces").iterdir()]
    assert len(some.faces) == sum(name.startswith(("valve-tag", "flag")) for name in names)


def test_ones_own_faces_are_read_whatever_is_wanted(tmp_path: Path) -> None:
    (tmp_path / "faces").mkdir()
    (tmp_path / "faces" / "mine.yaml").write_text("kind: valve tag\n", encoding="utf-8")
    _, problems = load_layouts(tmp_path, None, [CardKind.FLAG])
    assert problems


def test_ones_own_stock_and_face_are_added(tmp_path: Path) -> None:
    assert faults(tmp_path) == []
    layouts, _ = load_layouts(tmp_path)
    assert "ours" in layouts.stocks
    assert "id-1-letter" in layouts.stocks
    assert layouts.faces[-1].name == "ours"


def test_ones_own_takes_the_place_of_a_shipped_one(tmp_path: Path) -> None:
    (tmp_path / "stock").mkdir()
    shipped = (shipped_folder() / "stock" / "id-1-a4.yaml").read_text(encoding="utf-8")
    (tmp_path / "stock" / "id-1-a4.yaml").write_text(
        shipped.replace("about: 54", "about: mine, 54"), encoding="utf-8"
    )
    layouts, problems = load_layouts(tmp_path)
    assert problems == ()
    assert layouts.stocks["id-1-a4"].about.startswith("mine")


# Each: what stands in the stock file, what instead, and what is said.
STOCK_FAULTS = {
    "a number without a unit": ("safe: 3 mm", "safe: 3", "unit @ 3"),
    "an unknown key": ("safe: 3 mm", "save: 3 mm", "unknown-key @ save:"),
    "cards off the paper": ("paper: {width: 100", "paper: {width: 90", "cards-off-paper @ about:"),
    "a card larger than its paper": (
        "card: {width: 100 mm",
        "card: {width: 101 mm",
        "cards-off-paper @ about:",
    ),
    "a margin that moves the cards off the paper": (
        "safe: 3 mm",
        "safe: 3 mm\ngrid: {columns: 1, rows: 1, left: 0.5 mm}",
        "cards-off-paper @ about:",
    ),
    "cards that would lie on each other": (
        "safe: 3 mm",
        "safe: 3 mm\ngrid: {columns: 2, gap_x: -20 mm}",
        "unit @ -20",
    ),
    "a grid of no cards": ("safe: 3 mm", "safe: 3 mm\ngrid: {columns: 0}", "out-of-range @ 0}"),
    "a card of no width": ("card: {width: 100 mm", "card: {width: 0 mm", "no-safe-area @ about:"),
    "a hole beside the card": (
        "hole: {x: 90 mm, y: 10 mm, diameter: 5 mm}",
        "hole: {x: 99 mm, y: 10 mm, diameter: 5 mm, marked: no}",
        "hole-near-edge @ hole:",
    ),
    "a hole in the text": ("hole: {x: 90 mm", "hole: {x: 40 mm", "frame-on-hole @ frame:"),
    "a hole of no height": ("y: 10 mm, diameter", "diameter", "missing @ hole:"),
    "a fold beside the card": (
        "safe: 3 mm",
        "safe: 3 mm\nfolds: [120 mm]",
        "fold-off-card @ about:",
    ),
    "a fold in the text": ("safe: 3 mm", "safe: 3 mm\nfolds: [30 mm]", "frame-on-fold @ frame:"),
    "a turn that no printer makes": ("safe: 3 mm", "safe: 3 mm\nturn: 45", "unknown-word @ 45"),
    "an ink that is none": ("safe: 3 mm", "safe: 3 mm\nink: green", "unknown-word @ green"),
    "the same key twice": ("safe: 3 mm", "safe: 3 mm\nsafe: 2 mm", "duplicate-key @ safe:"),
    "no paper": ("paper: {width: 100 mm, height: 60 mm}\n", "", "missing @ about:"),
    "a footer off the paper": (
        "safe: 3 mm",
        "footer: {x: 5 mm, y: 58 mm, width: 50 mm, height: 7 mm}\nsafe: 3 mm",
        "footer-misplaced @ about:",
    ),
    "a hole that tears out": ("hole: {x: 90 mm", "hole: {x: 95 mm", "hole-near-edge @ hole:"),
    "a margin that leaves nothing": ("safe: 3 mm", "safe: 30 mm", "no-safe-area @ about:"),
    "an offset without a unit": ("safe: 3 mm", "safe: 3 mm\noffset: {x: 1}", "unit @ 1}"),
    "an offset by a wrong tray": (
        "safe: 3 mm",
        "safe: 3 mm\noffset: {x: 8 mm, y: -1 mm}",
        "offset-too-large @ offset:",
    ),
    "an offset off the paper": (
        "safe: 3 mm",
        "safe: 3 mm\noffset: {x: 0 mm, y: -3.5 mm}",
        "offset-too-large @ offset:",
    ),
    "a turned sheet that is not there": (
        "safe: 3 mm",
        "safe: 3 mm\nturned: legend-a4-uprigth",
        "turned-unknown @ about:",
    ),
    "a turned sheet of another size": (
        "safe: 3 mm",
        "safe: 3 mm\nturned: legend-a4",
        "turned-unknown @ about:",
    ),
    "dots that are none": ("dots_per_inch: 300", "dots_per_inch: many", "value @ many"),
    "a footer on a card": (
        "safe: 3 mm",
        "footer: {x: 5 mm, y: 5 mm, width: 50 mm, height: 7 mm}\nsafe: 3 mm",
        "footer-misplaced @ about:",
    ),
}


@pytest.mark.parametrize("case", STOCK_FAULTS)
def test_a_fault_in_a_stock_is_found_at_its_place(tmp_path: Path, case: str) -> None:
    old, new, expected = STOCK_FAULTS[case]
    assert old in GOOD_STOCK
    assert expected in faults(tmp_path, stock=GOOD_STOCK.replace(old, new))


FACE_FAULTS = {
    "a column outside": ("x: 4 mm, y: 4 mm", "x: 1 mm, y: 4 mm",
                         "frame-outside-safe-area @ frame:"),
    "a column on the hole": ("width: 60 mm, height: 20 mm}\n    blocks:\n      - {field: headline",
                             "width: 90 mm, height: 20 mm}\n    blocks:\n      - {field: headline",
                             "frame-on-hole @ frame:"),
    "columns on each other": ("y: 26 mm", "y: 20 mm", "frames-overlap @ frame:"),
    "the smallest first": ("6 / 4 mm", "4 / 6 mm", "heights-not-falling @ {field:"),
    "heights that are none": ("6 / 4 mm", "6 to 4 mm", "unit @ 6"),
    "least below its rule": ("4 mm, rule: ours",
                             "4 mm, rule: NUREG-0700 minimum of 15 minutes of arc at 1.2 m",
                             "letters-below-rule @ {field:"),
    "a format of no stock": ("format: ours", "format: other", "format-unknown @ kind:"),
    "no rule": (", rule: ours}\n  - frame", "}\n  - frame", "missing @ {field:"),
    "a word that is none": ("kind: valve tag", "kind: valves", "unknown-word @ valves"),
    "a code wider than its column": ("field: box,", "field: code, show: symbol, side: 70 mm,",
                                     "code-too-large @ {field:"),
}  # fmt: skip


@pytest.mark.parametrize("case", FACE_FAULTS)
def test_a_fault_in_a_face_is_found_at_its_place(tmp_path: Path, case: str) -> None:
    old, new, expected = FACE_FAULTS[case]
    assert old in GOOD_FACE
    assert faults(tmp_path, face=GOOD_FACE.replace(old, new)) == [expected]


def test_columns_that_meet_on_further_cards_alone_are_told(tmp_path: Path) -> None:
    """There the lower one begins higher: on a headline, or where only the first card has one."""
    below = "width: 60 mm, height: 20 mm}\n    blocks:\n      - {field: box"
    higher = "again: {x: 4 mm, y: 20 mm, width: 60 mm, height: 26 mm}\n    flows: yes"
    face = GOOD_FACE.replace(below, below.replace("blocks:", f"{higher}\n    blocks:"))
    assert faults(tmp_path / "on", face=face) == ["frames-overlap @ frame:"]
    first = face.replace("height: 20 mm}\n    blocks", "height: 20 mm}\n    first: yes\n    blocks")
    assert faults(tmp_path / "beside", face=first) == []


def test_a_column_has_all_four_measures(tmp_path: Path) -> None:
    whole = "x: 4 mm, y: 26 mm, width: 60 mm, height: 20 mm"
    for measure in whole.split(", "):
        left = ", ".join(part for part in whole.split(", ") if part != measure)
        (fault,) = faults(tmp_path / measure[0], face=GOOD_FACE.replace(whole, left))
        assert fault.startswith("missing @ "), measure


def test_a_face_may_show_the_first_cell_of_a_row_only(tmp_path: Path) -> None:
    face = GOOD_FACE.replace("field: box,", "field: box, cells: 1,")
    assert faults(tmp_path / "one", face=face) == []
    none = face.replace("cells: 1", "cells: 0")
    assert faults(tmp_path / "none", face=none) == ["out-of-range @ 0,"]


def test_up_to_twenty_stand_side_by_side(tmp_path: Path) -> None:
    face = GOOD_FACE.replace("field: box,", "field: box, show: ticks, across: 20,")
    assert faults(tmp_path / "twenty", face=face) == []
    more = face.replace("across: 20", "across: 21")
    assert faults(tmp_path / "more", face=more) == ["out-of-range @ 21,"]


def test_a_fault_is_told_once_though_many_stocks_have_the_format(tmp_path: Path) -> None:
    face = GOOD_FACE.replace("format: ours", "format: ID-1").replace("width: 60 mm", "width: 36 mm")
    wide = face.replace("y: 26 mm, width: 36 mm", "y: 26 mm, width: 56 mm")
    assert faults(tmp_path, face=wide) == ["frame-outside-safe-area @ frame:"]


def test_a_file_that_is_no_yaml_is_said(tmp_path: Path) -> None:
    (fault,) = faults(tmp_path, face=GOOD_FACE.replace("kind: valve tag", "kind: a: b"))
    assert fault.startswith("not-yaml")


@pytest.mark.parametrize(("left_mm", "by_mm"), [(9, 4.5), (0, -3.5)], ids=["last", "first"])
def test_an_offset_that_moves_one_of_two_cards_off_the_paper(
    tmp_path: Path, left_mm: float, by_mm: float
) -> None:
    """Two of 100 mm on 210: by 4.5 mm the last ends at 9 + 200 - 3 + 4.5 = 210.5 mm."""
    stock = GOOD_STOCK.replace("paper: {width: 100 mm", "paper: {width: 210 mm")
    grid = f"grid: {{columns: 2, left: {left_mm} mm}}\n"
    assert faults(tmp_path, stock=stock + grid) == []
    (fault,) = faults(tmp_path / "moved", stock=f"{stock}{grid}offset: {{x: {by_mm} mm}}\n")
    assert fault == "offset-too-large @ offset:"


def test_an_offset_to_one_side_moves_nothing_the_other_way(tmp_path: Path) -> None:
    for number, (said, moved) in enumerate({"x: 0.5": (0.5, 0), "y: 0.5": (0, 0.5)}.items()):
        folder = tmp_path / str(number)
        folder.mkdir()
        assert faults(folder, stock=f"{GOOD_STOCK}offset: {{{said} mm}}\n") == []
        offset = load_layouts(folder)[0].stocks["ours"].offset
        assert offset is not None and (offset.x, offset.y) == moved


@for_each(("fold", "is_told"), [(3.4, False), (3.6, True), (34, True), (64.4, True), (64.6, False)])
def test_print_keeps_half_a_millimeter_from_a_fold(
    tmp_path: Path, fold: float, is_told: bool
) -> None:
    """The columns stand from 4 to 64 mm."""
    found = faults(tmp_path / str(fold), stock=f"{GOOD_STOCK}folds: [{fold} mm]\n")
    assert ("frame-on-fold @ frame:" in found) is is_told


def test_a_card_goes_through_a_printer_in_four_ways(tmp_path: Path) -> None:
    for turn in (0, 90, 180, 270):
        folder = tmp_path / str(turn)
        folder.mkdir()
        assert faults(folder, stock=f"{GOOD_STOCK}turn: {turn}\n") == []
        layouts, _ = load_layouts(folder)
        assert layouts.stocks["ours"].turn == turn


def test_a_line_of_a_face_is_as_thin_as_the_side_that_it_leaves_out(tmp_path: Path) -> None:
    lines = "lines: [{x: 65 mm, y: 4 mm, height: 30 mm}, {x: 4 mm, y: 25 mm, width: 60 mm}]\n"
    assert faults(tmp_path, face=GOOD_FACE + lines) == []
    layouts, _ = load_layouts(tmp_path)
    (face,) = (face for face in layouts.faces if face.name == "ours")
    sizes = [size for line in face.lines for size in (line.frame.width, line.frame.height)]
    assert sizes == pytest.approx([0, 30, 60, 0])


def test_a_block_takes_no_room_that_its_face_does_not_ask_for(tmp_path: Path) -> None:
    """And all lines and parts that its field has: of a valve's row there are four."""
    assert faults(tmp_path) == []
    layouts, _ = load_layouts(tmp_path)
    (face,) = (face for face in layouts.faces if face.name == "ours")
    (block, _) = (block for column in face.columns for block in column.blocks)
    assert [block.apart, block.side, block.row, block.blank] == pytest.approx([0, 0, 0, 0])
    assert (block.across, face.columns[0].across) == (1, 1)
    assert block.cells >= 4
    assert block.lines > 50
