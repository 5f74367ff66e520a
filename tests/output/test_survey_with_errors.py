"""The list of what to find out is printed in spite of errors: it is needed to mend them."""

from __future__ import annotations

from pathlib import Path

import pytest

from cardgen.cards.survey import surveys
from cardgen.cli.main import main
from cardgen.examine import examine_text
from cardgen.faults import ALL
from cardgen.output.as_printable import as_printable
from tests.checks.bases import BASES, completed
from tests.checks.test_not_known import JOB
from tests.jobs import edit
from tests.outside.pages import text_by_pdfium
from tests.test_typing_mistakes import JOB as LARKSPUR
from tests.test_typing_mistakes import MISTAKES

# A6 has no hot yet, and A1 and A2 are both on one wire.
NO_HOT = edit(JOB, "  A5:", "  A6: {area: oak, box: VB-4}\n  A5:")
TWO_ERRORS = edit(NO_HOT, "hot: A-K1 blue", "hot: A-K1 red")


def printed(tmp_path: Path, text: str, *options: str) -> tuple[int, str]:
    """The exit code, and what the list says; empty if there is none."""
    job, out = tmp_path / "job.yaml", tmp_path / "out"
    job.write_text(text, encoding="utf-8")
    code = main(["print", str(job), "--out", str(out), *options])
    pdf = out / "survey.pdf"
    said = " ".join(text_by_pdfium(pdf.read_bytes())) if pdf.exists() else ""
    return code, " ".join(said.replace("\xa0", " ").split())


@pytest.mark.parametrize(
    ("text", "told"), [(NO_HOT, "has 1 error. Fix it"), (TWO_ERRORS, "has 2 errors. Fix them")]
)
def test_it_asks_what_it_asks_without_the_errors_and_mentions_them(
    text: str, told: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code, said = printed(tmp_path, text, "--only", "survey")
    assert code == 0 and f"The job file {told}" in said
    assert "gauge of A-K2" in said and "length of A-K1 from VB-1 to VB-2" in said
    assert "A6 has no hot wire yet" in capsys.readouterr().err
    _, sound = printed(tmp_path, JOB, "--only", "survey")
    assert "error" not in sound and "gauge of A-K2" in sound


def test_nothing_else_is_printed_of_it(tmp_path: Path) -> None:
    assert printed(tmp_path, NO_HOT) == (1, "")
    assert printed(tmp_path, NO_HOT, "--only", "survey", "--only", "valve-tags") == (1, "")


def test_it_is_no_print_of_the_revision(tmp_path: Path) -> None:
    """The same revision is printed without errors later, and nothing has to be replaced."""
    assert printed(tmp_path, NO_HOT, "--only", "survey")[0] == 0
    assert printed(tmp_path, JOB)[0] == 0
    assert printed(tmp_path, NO_HOT, "--only", "survey")[0] == 0
    assert printed(tmp_path, JOB)[0] == 0


@pytest.mark.parametrize(
    ("spot", "wrong"),
    [
        ("area: front bed", "area: 'gate code 4471#'"),
        ("stations:\n", "stations\n"),
        ("site: North park, ", ""),
    ],
)
def test_what_cannot_be_trusted_or_must_not_hang_is_refused(
    spot: str, wrong: str, tmp_path: Path
) -> None:
    assert printed(tmp_path, edit(JOB, spot, wrong), "--only", "survey") == (1, "")


def test_no_error_keeps_a_list_from_being_made() -> None:
    """Of every wrong example and typing mistake that leaves a job, some list comes without fail."""
    wrong = [
        completed(fault.wrong, fault.base) for fault in ALL.values() if fault.base in BASES
    ] + [LARKSPUR.replace(mistake.spot, mistake.wrong) for mistake in MISTAKES]
    made = 0
    for text in wrong:
        examined = examine_text(text)
        printable = as_printable(examined, for_survey=True)
        if printable is not None and examined.has_errors:
            made += 1
            list(surveys(printable))
    assert made > 100
