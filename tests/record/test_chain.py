"""The whole chain: what a decoder reads from a printed page is a file of the record."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeAlias
from urllib.parse import urlsplit

import pytest
from PIL import Image

from cardgen.cli.main import main
from cardgen.examine import examine
from cardgen.output.printing import make_print
from cardgen.output.writing import write_set
from tests.jobs import SAMPLE_JOBS, edit, sample
from tests.outside.pages import Found, by_zbar, by_zxing, gray_by_pdfium
from tests.record.records import in_folder, publish, words

Decoder: TypeAlias = Callable[[Image.Image], list[Found]]


def served(out: Path, address: str) -> Path:
    """The file that a plain web host sends for an address."""
    path = urlsplit(address).path
    assert path == path.upper()
    return out.joinpath(*path.strip("/").split("/"), "index.html")


@pytest.mark.parametrize("decoded", [by_zxing, by_zbar])
def test_each_printed_code_opens_the_page_of_its_box(tmp_path: Path, decoded: Decoder) -> None:
    job = SAMPLE_JOBS / "larkspur.yaml"
    printed, _ = make_print(examine(job))
    assert printed is not None
    write_set(tmp_path / "tags", printed.files, printed.manifest, replace=False)
    assert main(["record", str(job), "--out", str(tmp_path / "web"), "--format", "short"]) == 0
    pdf = (tmp_path / "tags" / "valve-tags.pdf").read_bytes()
    codes = [found.text for found in decoded(gray_by_pdfium(pdf, dpi=300))]
    assert len(codes) == 6
    for code in codes:
        page = served(tmp_path / "web", code).read_bytes()
        text = words(page)
        assert code in text  # the page says its own address
        assert code.rpartition("/")[2] in text


def test_a_path_in_the_address_is_a_folder(tmp_path: Path) -> None:
    text = edit(sample("larkspur"), "https://jobs.example.com", "https://example.com/RECORDS/2026")
    folder = publish(text, tmp_path)
    assert folder == tmp_path / "RECORDS" / "2026" / "7Q2F9KX4M3T8"
    address = "HTTPS://EXAMPLE.COM/RECORDS/2026/7Q2F9KX4M3T8/VB-1"
    assert address in words(served(tmp_path, address).read_bytes())


def test_many_jobs_share_a_folder(tmp_path: Path) -> None:
    for name in ("larkspur", "quarry"):
        publish(sample(name), tmp_path)
    assert len(list(tmp_path.iterdir())) == 2


def test_with_an_error_nothing_is_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    job = tmp_path / "job.yaml"
    job.write_text(edit(sample("larkspur"), "hot: A-K1 blue", "hot: A-K1 red"), encoding="utf-8")
    assert main(["record", str(job), "--out", str(tmp_path / "web"), "--format", "short"]) == 1
    assert not (tmp_path / "web").exists()
    assert "Nothing written. Fix the errors above first." in capsys.readouterr().err


def test_what_the_user_changed_stays(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    command = ["record", str(SAMPLE_JOBS / "larkspur.yaml"), "--out", str(tmp_path)]
    assert main([*command, "--format", "short"]) == 0
    page = tmp_path / "7Q2F9KX4M3T8" / "VB-1" / "index.html"
    page.write_text("mine", encoding="utf-8")
    before = in_folder(tmp_path)
    capsys.readouterr()
    assert main([*command, "--format", "short"]) == 2
    assert "was not made by cardgen or has been changed" in capsys.readouterr().err
    assert in_folder(tmp_path) == before


def test_a_link_in_the_place_of_a_folder_is_not_followed(tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    key = tmp_path / "web" / "7Q2F9KX4M3T8"
    key.mkdir(parents=True)
    (key / "VB-1").symlink_to(elsewhere)
    command = ["record", str(SAMPLE_JOBS / "larkspur.yaml"), "--out", str(tmp_path / "web")]
    assert main([*command, "--format", "short"]) == 2
    assert not list(elsewhere.iterdir())
