"""The jobs of a folder are found by their address, as they are now."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardgen.server.jobs import ServedJobs
from tests.jobs import edit, sample
from tests.record.records import LARKSPUR, QUARRY, publish, revision


@pytest.fixture(scope="module")
def web(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("jobs")
    publish(edit(sample("larkspur"), "jobs.example.com", "jobs.example.com/YARD/2026"), out)
    publish(sample("quarry"), out)
    return out


def test_a_job_is_where_its_printed_address_says(web: Path) -> None:
    jobs = ServedJobs(web)
    at = jobs.at(f"YARD/2026/{LARKSPUR}")
    assert at is not None
    assert at.now.key == LARKSPUR
    assert (at.path, at.now.job_code) == (f"YARD/2026/{LARKSPUR}", "LARK-06")
    assert {job.path for job in jobs} == {QUARRY, f"YARD/2026/{LARKSPUR}"}


@pytest.mark.parametrize(
    "path",
    ["", "/", "YARD", "YARD/2026", f"{QUARRY}/VB-1", f"../{QUARRY}", f"YARD/../{QUARRY}", "..",
     f"./{QUARRY}", f"YARD//{QUARRY}", f"YARD\\{QUARRY}", "no", "\x00", "x" * 5000],
)  # fmt: skip
def test_no_other_path_is_a_job(web: Path, path: str) -> None:
    assert ServedJobs(web).at(path) is None


def test_a_newer_revision_is_seen_at_once(tmp_path: Path) -> None:
    publish(revision(1), tmp_path)
    jobs = ServedJobs(tmp_path)
    first = jobs.at(LARKSPUR)
    publish(revision(2), tmp_path)
    second = jobs.at(LARKSPUR)
    assert first is not None and second is not None
    assert [r.revision for r in first.revisions] == [1]
    assert [r.revision for r in second.revisions] == [1, 2]
    assert second.now.revision == 2


def test_a_damaged_record_is_no_job_and_stops_nothing(tmp_path: Path) -> None:
    folder = publish(revision(1), tmp_path)
    (folder / "revisions_.json").write_bytes(b"{}")
    assert ServedJobs(tmp_path).at(LARKSPUR) is None
    assert list(ServedJobs(tmp_path)) == []
