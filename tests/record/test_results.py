"""What crews measured, beside the expected: never lost, never by name, judged by its own day."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from cardgen.cli.main import main
from cardgen.output.recording import RecordRequest
from tests.jobs import SAMPLE_JOBS, sample
from tests.memory.test_revisions import ALL
from tests.record.records import (
    LARKSPUR,
    in_folder,
    printable,
    publish,
    revision,
    tree,
    words,
)
from tests.record.test_pages import BOX_LIMIT

HEAD = "id,when,job,box,valve,kind,value,by,notes\n"
A1 = "{id},2026-03-14,7Q2F9KX4M3T8,VB-1,A1,ohms at the controller,{value},Crew four,it was wet\n"
ONE, TWO = "5a0f7f0a-6f0c-4d55-9e0b-0a4be2f6c111", "5a0f7f0a-6f0c-4d55-9e0b-0a4be2f6c222"


def csv(folder: Path, *rows: str, head: str = HEAD, name: str = "readings.csv") -> RecordRequest:
    """Both languages, with these readings."""
    file = folder / name
    file.write_text(head + "".join(rows), encoding="utf-8")
    return RecordRequest(languages=("en", "es"), results=file)


def page(folder: Path, name: str) -> str:
    return words((folder / name / "index.html").read_bytes())


def test_a_value_stands_with_its_day_and_verdict_on_every_page_of_its_valve(
    tmp_path: Path,
) -> None:
    folder = publish(revision(1), tmp_path, csv(tmp_path, A1.format(id=ONE, value="31.2")))
    said = "last measured 31.2 Ω, 2026-03-14. The reading is within 25 to 37 Ω."
    assert said in page(folder, "VB-1")
    assert said in page(folder, "STATION_A1")
    results = page(folder, "TEST_RESULTS")
    assert "Expected 31.1 Ω (25 to 37 Ω) Measured 31.2 Ω, 2026-03-14" in results
    assert "1 of 6 valves measured. Need attention: 0." in results
    assert "Not measured: A2 to A6." in results
    assert "última medición 31.2 Ω, 2026-03-14" in page(folder, "ES_/VB-1")


def test_each_kind_of_value_has_what_it_is_expected_to_be(tmp_path: Path) -> None:
    """85 ft of copper of 18 AWG and back: 1.09 Ω (6.39 Ω/1000 ft at 20 °C, NEC ch. 9 table 8,
    from memory); with the 0.23 A of the coil they take 0.25 V of the 24 V, which may be 10 % less
    or 17 % more (assumed): 21.6 - 0.23 to, added at right angles, 28.08 * 104.3 / 104.7.
    """
    kinds = {"ohms at the coil": "30", "volts": "23.8", "milliamperes": "230", "insulation": "200"}
    rows = [
        f"{ONE[:-1]}{number},2026-03-14,7Q2F9KX4M3T8,VB-1,A2,{kind},{value},,\n"
        for number, (kind, value) in enumerate(kinds.items())
    ]
    folder = publish(revision(1), tmp_path, csv(tmp_path, *rows))
    results = page(folder, "TEST_RESULTS")
    assert "Ohms at the coil Expected 30.0 Ω (24 to 36 Ω) Measured 30 Ω" in results
    assert "Volts at the valve Expected 21.3–28.0 V Measured 23.8 V" in results
    assert "Current at C Expected 230 mA Measured 230 mA" in results
    # No circuit tells it; one megohm is common practice, no source.
    assert "Insulation to ground Expected 1 MΩ or more Measured 200 MΩ" in results


def test_without_results_the_page_says_so(tmp_path: Path) -> None:
    folder = publish(revision(1), tmp_path)
    assert "No test results are published for this job." in page(folder, "TEST_RESULTS")


def test_who_measured_and_what_they_noted_stays_in_the_office(tmp_path: Path) -> None:
    folder = publish(revision(1), tmp_path, csv(tmp_path, A1.format(id=ONE, value="31.2")))
    for data in in_folder(folder).values():
        assert b"Crew four" not in data
        assert b"it was wet" not in data


def test_no_order_of_publishing_loses_a_value(tmp_path: Path) -> None:
    readings = csv(tmp_path, A1.format(id=ONE, value="31.2"))
    found = []
    for number, order in enumerate((ALL, ALL[::-1])):
        out = tmp_path / str(number)
        publish(order[0], out, readings)
        for text in order[1:]:
            publish(text, out)  # says nothing of results
        found.append(in_folder(out / LARKSPUR))
    assert found[0] == found[1]
    assert "last measured 31.2 Ω" in page(tmp_path / "0" / LARKSPUR, "VB-1")


def test_files_add_up_and_the_same_mark_corrects(tmp_path: Path) -> None:
    publish(revision(1), tmp_path, csv(tmp_path, A1.format(id=ONE, value="13.2")))
    later = A1.format(id=TWO, value="31.0").replace("2026-03-14", "2026-05-02")
    publish(revision(1), tmp_path, csv(tmp_path, later))
    folder = publish(revision(1), tmp_path, csv(tmp_path, A1.format(id=ONE, value="31.2")))
    kept = json.loads((folder / "revisions_.json").read_bytes())["results"]
    assert [(each["value"], each["when"]) for each in kept] == [
        ("31.2", "2026-03-14"),
        ("31", "2026-05-02"),
    ]
    assert "Earlier: Steady since 2026-03-14: 31.2 to 31 Ω. 31.2 Ω, 2026-03-14" in page(
        folder, "TEST_RESULTS"
    )


def test_results_can_be_taken_off(tmp_path: Path) -> None:
    publish(revision(1), tmp_path, csv(tmp_path, A1.format(id=ONE, value="31.2")))
    folder = publish(revision(1), tmp_path, RecordRequest(forget_results=True))
    assert "No test results are published" in page(folder, "TEST_RESULTS")


def test_an_open_circuit_is_kept_as_one(tmp_path: Path) -> None:
    folder = publish(revision(1), tmp_path, csv(tmp_path, A1.format(id=ONE, value="OL")))
    publish(revision(2), tmp_path)
    assert "last measured OL, 2026-03-14. The meter shows OL: the hot" in page(folder, "VB-1")
    assert "Measure at the coil's leads in VB-1 first." in page(folder, "TEST_RESULTS")


def test_a_value_read_before_the_wiring_changed_is_no_verdict_on_it(tmp_path: Path) -> None:
    """Revisions 1 and 2 are of 2026-04-01 and 02; in the second the coils are others."""
    row = A1.format(id=ONE, value="31.2").replace("2026-03-14", "2026-04-01")
    publish(revision(1), tmp_path, csv(tmp_path, row))
    changed = revision(2, ("resistance: 30 ohm", "resistance: 45 ohm"))
    folder = publish(changed, tmp_path)
    assert "within 25 to 37 Ω. This was measured before revision 2 changed" in page(folder, "VB-1")
    assert "Need attention: 1" in page(folder, "TEST_RESULTS")
    sign = tree((folder / "VB-1" / "index.html").read_bytes()).find(".//b[@class='sign']")
    assert sign is not None and sign.text == "?"
    # Read on the day of the second revision, the same value is judged by that one.
    row = A1.format(id=TWO, value="31.2").replace("2026-03-14", "2026-04-02")
    publish(changed, tmp_path, csv(tmp_path, row))
    assert "Within " not in page(folder, "VB-1")


def test_a_valve_that_is_gone_keeps_its_values(tmp_path: Path) -> None:
    row = A1.format(id=ONE, value="32").replace("A1", "A6").replace("VB-1", "VB-2")
    publish(revision(1), tmp_path, csv(tmp_path, row))
    a6 = '  A6: {area: "side beds, drip", box: VB-2, hot: A-K1 yellow}\n'
    folder = publish(revision(2, (a6, "")), tmp_path)
    assert "No longer in the job; readings from when it was A6" in page(folder, "TEST_RESULTS")
    publish(revision(2, (a6, "")), tmp_path, csv(tmp_path, row))  # and is no stranger


def test_what_the_values_point_to(tmp_path: Path) -> None:
    """A4 and A5 are all that hangs on A-K2, whose white is their common: counted in the job."""
    rows = [
        A1.format(id=f"5a0f7f0a-6f0c-4d55-9e0b-0a4be2f6c00{n}", value=value).replace("A1", f"A{n}")
        for n, value in ((1, "31.2"), (2, "31.0"), (4, "OL"), (5, "OL"))
    ]
    folder = publish(revision(1), tmp_path, csv(tmp_path, *rows))
    text = page(folder, "TEST_RESULTS")
    assert "What the readings point to Controller A 2 faults fit these readings." in text
    assert "common A (A-K2 white), between controller A and box VB-3, or its splice" in text
    assert "What several readings show together" not in text  # the same once


@pytest.mark.parametrize(
    ("row", "place", "code"),
    [
        ("2026-03-14,A1,ohms at the controller,31.2 or 3\n", "2:38", "reading-value"),
        ("4.3.2026,A1,ohms at the controller,31.2\n", "2:1", "reading-date"),
        ("2026-03-14,A9,ohms at the controller,31.2\n", "2:12", "reading-of-no-valve"),
    ],
)
def test_a_fault_of_the_file_is_told_at_its_cell_and_nothing_is_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], row: str, place: str, code: str
) -> None:
    csv(tmp_path, row, head="when,valve,kind,value\n")
    job = str(SAMPLE_JOBS / "larkspur.yaml")
    command = ["record", job, "--out", str(tmp_path / "web"), "--format", "short"]
    assert main([*command, "--results", str(tmp_path / "readings.csv")]) == 1
    told = capsys.readouterr().err
    assert f"readings.csv:{place}: error: " in told
    assert f"[{code}]" in told
    assert not (tmp_path / "web" / LARKSPUR).exists()


def test_a_file_that_is_not_there_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    command = ["record", str(SAMPLE_JOBS / "larkspur.yaml"), "--out", str(tmp_path / "web")]
    assert main([*command, "--results", str(tmp_path / "none.csv")]) == 2
    assert "none.csv' cannot be read: no such file or directory" in capsys.readouterr().err


def test_what_was_read_of_a_common_stands_apart_from_the_valves(tmp_path: Path) -> None:
    head = "from,when,valve,kind,value\n"
    folder = publish(
        revision(1), tmp_path, csv(tmp_path, "COM-A,2026-05-11,,insulation,9\n", head=head)
    )
    text = page(folder, "TEST_RESULTS")
    assert "Of commons, spares and other conductors" in text
    assert text.rindex("COM-A") > text.index("Of commons, spares and other conductors")
    valves = publish(revision(1), tmp_path / "valves", csv(tmp_path, A1.format(id=ONE, value="31")))
    assert "Of commons, spares and other conductors" not in page(valves, "TEST_RESULTS")


def test_of_a_twin_the_newer_value_is_compared(tmp_path: Path) -> None:
    """Both valves of A10 are on one terminal; the older value of the second does not count."""
    head = "when,valve,kind,value\n"
    rows = [
        "2026-05-11,A10a,ohms at the controller,17.2\n",
        "2026-05-20,A10a,ohms at the controller,17.3\n",
        "2026-05-12,A10b,ohms at the controller,OL\n",
        "2026-05-20,A9,ohms at the controller,OL\n",
    ]
    folder = publish(sample("quarry"), tmp_path, csv(tmp_path, *rows, head=head))
    text = page(folder, "TEST_RESULTS")
    assert "! A9 OL; expected" in text
    assert "! A10" not in text


def test_a_box_page_stays_small_with_a_value_of_every_kind(tmp_path: Path) -> None:
    valves = list(printable("quarry").asbuilt.order)
    values = {"ohms at the controller": "OL", "ohms at the coil": "13", "volts": "12.5"}
    values |= {"milliamperes": "90", "insulation": "0.05"}
    rows = [f"2026-05-20,{v},{kind},{value}\n" for v in valves for kind, value in values.items()]
    wanted = csv(tmp_path, *rows, head="when,valve,kind,value\n")
    folder = publish(sample("quarry"), tmp_path, wanted)
    for box in printable("quarry").asbuilt.box:
        for language in ("", "ES_/"):
            file = folder / language / box / "index.html"
            assert len(file.read_bytes()) < BOX_LIMIT
    assert page(folder, "VB-5").count("2026-05-20") == 5 * len(values)
