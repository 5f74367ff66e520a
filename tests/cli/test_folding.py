"""Alike findings are told once, and each of them in JSON; counted by hand in the text below."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from cardgen.cli.folding import folded
from cardgen.cli.main import main
from tests.jobs import SAMPLE_JOBS, examined, sample


def without_hots(text: str) -> str:
    return re.sub(r", hot: A-K. \w+", "", text)


def test_six_stations_without_a_hot(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = tmp_path / "job.yaml"
    job.write_text(without_hots(sample("larkspur")), encoding="utf-8")
    assert main(["check", str(job)]) == 1
    said = capsys.readouterr()
    assert said.err.count("[hot-missing]") == 1
    assert "the same for A2 to A6 (lines 40 to 44)\n" in said.err
    assert said.out.endswith("6 errors and 2 notes\n")
    main(["check", str(job), "--format", "json"])
    codes = [p["code"] for p in json.loads(capsys.readouterr().out)["problems"]]
    assert codes.count("hot-missing") == 6
    main(["check", str(job), "--format", "short"])
    assert capsys.readouterr().err.count("[hot-missing]") == 6


def test_two_are_told_one_by_one_and_so_is_what_differs_in_more_than_a_name() -> None:
    text = sample("larkspur").replace("hot: A-K1 red", "hot: A-K1 pink")
    text = text.replace("hot: A-K2 red", "hot: A-K2 pink").replace("60 ft", "60 yd")
    problems = [p for p in examined(text).problems if p.verdict == "error"]
    assert len(problems) == 2
    assert all(not each.others for each in folded(problems))


def test_samples_are_told_in_full() -> None:
    """Nothing is lost: what is folded is named or there itself."""
    for path in sorted(SAMPLE_JOBS.glob("*.yaml")):
        problems = examined(path.read_text(encoding="utf-8")).problems
        kept = folded(problems)
        lost = set(problems) - {each.problem for each in kept}
        listed = " ".join(each.others for each in kept)
        assert bool(lost) == bool(listed.strip())
