"""What the manual of stock and faces shows works as it is typed."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cardgen.cli.main import main
from cardgen.layout import load_layouts
from cardgen.reading.shipped import shipped_folder
from tests.jobs import SAMPLE_JOBS
from tests.outside.pages import sizes_mm

MANUAL = (shipped_folder() / "README.md").read_text(encoding="utf-8")
STOCK, FACE = re.findall(r"```yaml\n(.*?)```", MANUAL, re.DOTALL)


def test_the_sheet_of_the_manual_prints(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "stock").mkdir()
    (tmp_path / "stock" / "my-sheet.yaml").write_text(STOCK, encoding="utf-8")
    mine = ["--layouts", str(tmp_path)]
    assert main(["stock", "my-sheet", *mine]) == 0
    proof, out = tmp_path / "proof.pdf", tmp_path / "tags"
    assert main(["stock", "--proof", "my-sheet", "--out", str(proof), *mine]) == 0
    job = str(SAMPLE_JOBS / "larkspur.yaml")
    assert main(["print", job, "--out", str(out), "--stock", "my-sheet", *mine]) == 0
    assert len(sizes_mm((out / "valve-tags.pdf").read_bytes())) == 1
    capsys.readouterr()


def test_the_face_of_the_manual_is_sound(tmp_path: Path) -> None:
    for folder, text in (("stock", STOCK.replace("roll-50x75", "my-size")), ("faces", FACE)):
        (tmp_path / folder).mkdir()
        (tmp_path / folder / "mine.yaml").write_text(text, encoding="utf-8")
    assert load_layouts(tmp_path)[1] == ()


def test_every_key_and_format_is_in_the_manual() -> None:
    layouts, _ = load_layouts()
    for stock in layouts.stocks.values():
        known = stock.format
        assert f"`{known}`" in MANUAL or known.startswith("shipping-"), known
    for path in (shipped_folder() / "stock").glob("*.yaml"):
        for key in re.findall(r"^(\w+):", path.read_text(encoding="utf-8"), re.MULTILINE):
            assert f"`{key}`" in MANUAL, key
