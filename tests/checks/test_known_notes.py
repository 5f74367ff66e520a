"""Notes that a job says are known: no longer told, kept for the owner, never an error."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from cardgen.asbuilt.findings import findings
from cardgen.cli.main import main
from cardgen.problems import Problem
from tests.jobs import edit, examined, sample

NOTES = sample("larkspur")  # several-commons of A, sensor-on-terminals of RAIN


def told(known: str, text: str = NOTES) -> tuple[Problem, ...]:
    return examined(f"{text}\nknown: {known}\n").problems


def test_what_is_known_is_marked_and_nothing_else() -> None:
    assert [(p.code, p.known) for p in told("[several-commons A]")] == [
        ("several-commons", True),
        ("sensor-on-terminals", False),
    ]
    assert all(p.known for p in told("[several-commons, sensor-on-terminals RAIN]"))
    assert all(p.known for p in told("several-commons A") if p.code == "several-commons")


def test_the_owner_is_told_all_the_same() -> None:
    text = sample("quarry")
    (name,) = {p.names for p in examined(text).problems if p.code == "told-apart-by-flags"}
    before = examined(text).problems
    after = told(f"[told-apart-by-flags {min(n for n in name if n.startswith('A-'))}]", text)
    assert any(p.known for p in after)
    assert tuple(findings(after)) == tuple(findings(before))


def test_what_is_acknowledged_in_vain() -> None:
    heron = sample("heron")
    broken = edit(NOTES, "box: VB-2, hot: A-K1 yellow", "box: VB-2")
    cases = (
        (NOTES, "[pump-relay A]", "nothing in the job gives the note 'pump-relay A'", "take it"),
        (NOTES, "[several-common A]", "gives the note 'several-common A'", "'several-commons'"),
        (NOTES, "[several-commons B]", "gives the note 'several-commons B'", "whose it is: A"),
        (broken, "[hot-missing A6]", "'hot-missing' is an error, not a note", "put it right"),
        (heron, "[several-commons]", "there are 3 notes 'several-commons'", "whose it is: A"),
        (heron, "[no-spare C-1]", "'no-spare' is a warning, not a note", "put it right"),
    )
    for text, known, sentence, way_out in cases:
        (problem,) = [p for p in told(known, text) if p.code == "known"]
        assert sentence in problem.sentence
        assert way_out in problem.help
        assert not any(p.known for p in told(known, text))


def test_an_error_may_hide_the_note_that_is_meant() -> None:
    broken = edit(NOTES, "supply: 24 V AC\n    stations", "supply: 240 V AC\n    stations")
    assert "known" not in {p.code for p in told("[several-commons A]", broken)}


def test_what_the_terminal_says(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = tmp_path / "job.yaml"
    job.write_text(f"{NOTES}known: [several-commons A, sensor-on-terminals]\n", encoding="utf-8")
    assert main(["check", str(job)]) == 0
    said = capsys.readouterr()
    assert said.err == ""
    assert said.out.endswith("job.yaml: nothing to report (2 known)\n")
    main(["check", str(job), "--format", "json"])
    problems = json.loads(capsys.readouterr().out)["problems"]
    assert [p["known"] for p in problems] == [True, True]
