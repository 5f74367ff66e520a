"""What one desk leaves to the next: undo and the print queue, also after kill -9.

That it is not guessed which text a step back brings: all texts are kept here as they were written.
"""

from __future__ import annotations

import os
import re
import signal
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest
from pypdf import PdfReader

from cardgen.desk import desk_memory
from cardgen.desk.desk_memory import MEMORY_FILE, DeskMemory, KeptText, MemoryTrouble
from cardgen.desk.open_job import OpenJob
from cardgen.editing import Put
from tests.desk.clients import DeskClient, answering
from tests.desk.desks import after_the_address
from tests.desk.queues import PATIENCE_S, is_over, states, until
from tests.files.killing import killed_at
from tests.jobs import edit, sample

ROOT = Path(__file__).parents[2]
AREAS = ("orchard", "roses", "rose bed", "herb bed")
PARKS = ("ash", "elm", "fir", "oak")
TAGS: dict[str, str | list[str]] = {"only": ["valve-tags"], "stock": "id-1-letter"}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "larkspur.yaml").write_text(sample("larkspur"), encoding="utf-8")
    return tmp_path


@pytest.fixture
def parks(tmp_path: Path) -> Path:
    for name in PARKS:
        text = edit(sample("larkspur"), "code: LARK-06", f"code: {name.upper()}")
        (tmp_path / f"{name}.yaml").write_text(text, encoding="utf-8")
    return tmp_path


@contextmanager
def desk_of_its_own(folder: Path) -> Iterator[tuple[subprocess.Popen[str], DeskClient]]:
    """The command as a person starts it."""
    command = [sys.executable, "-m", "cardgen", "desk", str(folder), "--no-browser"]
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    with subprocess.Popen(
        command, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as process:
        assert process.stdout is not None
        process.stdout.readline()
        address = re.search(r":(\d+)/open/(.*)", process.stdout.readline())
        assert address
        try:
            yield process, DeskClient(int(address[1]), address[2].strip())
        finally:
            process.kill()


def text(folder: Path) -> str:
    return (folder / "larkspur.yaml").read_text(encoding="utf-8")


def edits(desk: DeskClient, folder: Path) -> list[str]:
    """All texts that the file had, the first one first."""
    texts = [text(folder)]
    for area in AREAS:
        assert desk.edit(["A1", "area", area]).status == 200
        texts.append(text(folder))
    return texts


def undone(desk: DeskClient, folder: Path, what: str = "undo") -> list[str]:
    """The texts that undo brings, until there is none."""
    found = []
    while (told := desk.data())["back" if what == "undo" else "forward"]:
        assert desk.send(what, {"version": told["version"]}).status == 200
        found.append(text(folder))
    return found


# ---- steps back ------------------------------------------------------------------------------


def test_undo_outlasts_a_desk_that_is_closed_and_one_that_is_killed(folder: Path) -> None:
    with answering(folder) as port:
        texts = edits(DeskClient(port), folder)
    with desk_of_its_own(folder) as (process, desk):
        assert desk.data()["back"] == len(AREAS)
        desk.send("undo", {"version": desk.data()["version"]})
        assert text(folder) == texts[-2]
        process.send_signal(signal.SIGKILL)
        process.wait()
    with answering(folder) as port:
        desk = DeskClient(port)
        told = desk.data()
        assert (told["back"], told["forward"]) == (len(AREAS) - 1, 1)
        assert undone(desk, folder) == texts[-3::-1]
        assert undone(desk, folder, "redo") == texts[1:]
        # A change ends what lay forward, for the next desk, too.
        desk.send("undo", {"version": desk.data()["version"]})
        desk.edit(["A2", "area", "walk"])
    with answering(folder) as port:
        told = DeskClient(port).data()
        assert (told["back"], told["forward"]) == (len(AREAS), 0)


def test_killed_at_any_moment_of_saving_undo_brings_what_was_before(folder: Path) -> None:
    path = folder / "larkspur.yaml"
    texts = [sample("larkspur")]
    for area in AREAS[:2]:
        texts.append(texts[-1].replace('"front lawn west, spray"', area))
    states = set()
    for moment in range(30):
        (folder / MEMORY_FILE).unlink(missing_ok=True)
        path.write_text(sample("larkspur"), encoding="utf-8")
        change_area(path, "first")
        before = path.read_text(encoding="utf-8")
        was_killed = killed_at(moment, lambda: change_area(path, "second"))
        now = path.read_text(encoding="utf-8")
        job = OpenJob.at(path, DeskMemory(folder))
        job.show()
        back = [step.text for step in job.back]
        assert back == [sample("larkspur"), *([before] if now != before else [])]
        states.add((now != before, len(job.forward)))
        if not was_killed:
            break
    # The file is old or new; what was about to be written then may be one step forward.
    assert states >= {(False, 1), (True, 0)} and states <= {(False, 0), (False, 1), (True, 0)}


def change_area(path: Path, area: str) -> None:
    job = OpenJob.at(path, DeskMemory(path.parent))
    job.edit([Put(path=("stations", "A1", "area"), value=area)], job.show().version)


def test_what_others_have_written_is_never_undone(folder: Path) -> None:
    with answering(folder) as port:
        texts = edits(DeskClient(port), folder)
    theirs = texts[-1].replace("back lawn north", "orchard north")
    (folder / "larkspur.yaml").write_text(theirs, encoding="utf-8")
    with answering(folder) as port:
        desk = DeskClient(port)
        assert desk.data()["back"] == 0
        desk.send("undo", {"version": desk.data()["version"]})
        assert text(folder) == theirs
        desk.edit(["A2", "area", "walk"])
        assert undone(desk, folder) == [theirs]
    # An old text that comes back from elsewhere is no step of this desk.
    (folder / "larkspur.yaml").write_text(texts[1], encoding="utf-8")
    with answering(folder) as port:
        assert DeskClient(port).data()["back"] == 0


def test_two_desks_share_the_steps(folder: Path) -> None:
    with answering(folder) as one, answering(folder) as two:
        texts = edits(DeskClient(one), folder)
        other = DeskClient(two)
        assert other.data()["back"] == len(AREAS)
        assert undone(other, folder) == texts[-2::-1]
        assert undone(DeskClient(one), folder, "redo") == texts[1:]


def test_it_has_a_bound_and_lets_go_of_the_oldest(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(desk_memory, "MOST_BYTES", 100_000)
    monkeypatch.setattr(desk_memory, "MOST_STEPS", 20)
    memory = DeskMemory(folder)

    def kept(number: int) -> KeptText:  # 8 kB that do not get smaller
        noise = bytes((number * 7919 + n * n * 31 + (n * number) % 251) % 256 for n in range(8000))
        return KeptText(f"v{number}", noise)

    for file in ("a.yaml", "b.yaml"):
        for number in range(40):
            memory.keep_change(file, kept(number), kept(number + 1))
    # Of b the last steps without a gap; of a, which is older, none.
    back = memory.steps("b.yaml", "v40").back
    names = [step.version for step in back]
    assert names == [f"v{number}" for number in range(40 - len(names), 40)] and names
    assert all(step == kept(int(step.version[1:])) for step in back)
    assert len(memory.steps("a.yaml", "v40").back) < 20
    assert memory.path.stat().st_size < 3 * 100_000
    with closing(sqlite3.connect(memory.path)) as db:
        assert db.execute("SELECT sum(length(text)) FROM steps").fetchone()[0] <= 100_000
    memory.keep_change("b.yaml", kept(1000), kept(1001))  # a text that does not follow
    assert [step.version for step in memory.steps("b.yaml", "v1001").back] == ["v1000"]


# ---- a file that is no memory ----------------------------------------------------------------


def damaged(path: Path) -> None:
    data = bytearray(path.read_bytes())
    data[100:] = bytes(255 - byte for byte in data[100:])
    path.write_bytes(data)


def cut_short(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:5000])


def no_database(path: Path) -> None:
    path.write_bytes(b"call the office\n" * 100)


def of_another_program(path: Path) -> None:
    path.unlink()
    with closing(sqlite3.connect(path)) as db:
        db.execute("CREATE TABLE plants (name TEXT)")


def of_another_version(path: Path) -> None:
    with closing(sqlite3.connect(path)) as db:
        db.execute("PRAGMA user_version = 77")


def a_link(path: Path) -> None:
    path.rename(path.with_name("elsewhere.sqlite"))
    path.symlink_to("elsewhere.sqlite")


@pytest.mark.usefixtures("may_print")
@pytest.mark.parametrize(
    ("spoil", "trouble"),
    [
        (damaged, MemoryTrouble.DAMAGED),
        (cut_short, MemoryTrouble.DAMAGED),
        (no_database, MemoryTrouble.DAMAGED),
        (of_another_program, MemoryTrouble.FOREIGN),
        (of_another_version, MemoryTrouble.OTHER_VERSION),
        (a_link, MemoryTrouble.FOREIGN),
    ],
)
def test_a_file_that_cannot_be_relied_on_is_told_and_left_as_it_is(
    spoil: Callable[[Path], None], trouble: MemoryTrouble, folder: Path
) -> None:
    with answering(folder) as port:
        edits(DeskClient(port), folder)
    spoil(folder / MEMORY_FILE)
    before = (folder / MEMORY_FILE).read_bytes()
    with answering(folder) as port:
        desk = DeskClient(port)
        page = desk.get("/").text
        assert MEMORY_FILE in page and "The desk works without it." in page
        spanish = desk.get("/", **{"Accept-Language": "es-MX"}).text
        assert "Se trabaja sin él." in spanish and "works without" not in spanish
        assert DeskMemory(folder).look() is trouble
        # All goes on: what is typed, undo of this desk, a print in the queue.
        assert desk.data()["back"] == 0
        texts = edits(desk, folder)
        assert undone(desk, folder) == texts[-2::-1]
        desk.form("/queue", {**TAGS, "job": "larkspur.yaml"})
        assert states(until(desk, is_over)) == ["printed"]
        assert (folder / MEMORY_FILE).read_bytes() == before
        # Moved away, it begins anew.
        (folder / MEMORY_FILE).unlink()
        assert "works without" not in desk.get("/").text
        desk.edit(["A1", "area", "roses"])
    with answering(folder) as port:
        assert DeskClient(port).data()["back"] == 1


def test_a_text_that_is_not_what_it_was_is_no_step(folder: Path) -> None:
    with answering(folder) as port:
        edits(DeskClient(port), folder)
    with closing(sqlite3.connect(folder / MEMORY_FILE)) as db, db:
        db.execute("UPDATE steps SET text = (SELECT text FROM steps WHERE step = 2) WHERE step = 1")
    with answering(folder) as port:
        assert DeskClient(port).data()["back"] == 0


def test_a_folder_that_takes_nothing_is_shown_all_the_same() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "larkspur.yaml").write_text(sample("larkspur"), encoding="utf-8")
        folder.chmod(0o555)
        child = os.fork()
        if not child:
            code = 1
            try:
                if not os.getuid():  # root may write anywhere
                    os.setuid(65534)
                with answering(folder) as port:
                    desk = DeskClient(port)
                    assert desk.data()["rows"]["stations"] and desk.get("/").status == 200
                    assert "works without" not in desk.get("/").text
                    assert desk.edit(["A1", "area", "x"]).status == 409
                code = 0
            finally:
                os._exit(code)
        assert os.waitpid(child, 0)[1] == 0
        folder.chmod(0o755)
        assert [path.name for path in folder.iterdir()] == ["larkspur.yaml"]


def test_a_desk_that_only_looks_leaves_nothing(folder: Path) -> None:
    with answering(folder) as port:
        desk = DeskClient(port)
        desk.data()
        desk.get("/")
    assert [path.name for path in folder.iterdir()] == ["larkspur.yaml"]


# ---- the print queue -------------------------------------------------------------------------


def children_of(pid: int) -> list[int]:
    found = subprocess.run(
        ["ps", "-o", "pid=", "--ppid", str(pid)], capture_output=True, text=True, check=False
    )
    return [int(word) for word in found.stdout.split()]


def tags_of(parks: Path, name: str) -> Path:
    return parks / f"{name}-cards" / "valve-tags.pdf"


def is_running(pid: int) -> bool:
    try:
        return "Z" not in Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()[0]
    except OSError:
        return False


@pytest.mark.usefixtures("may_print")  # of the second desk, which is here
def test_a_queue_goes_on_after_the_desk_was_killed(parks: Path) -> None:
    files = [f"{name}.yaml" for name in PARKS]
    with desk_of_its_own(parks) as (process, desk):
        desk.form("/queue", {**TAGS, "language": "es", "job": files})
        told = until(desk, lambda told: "printed" in states(told) and "waiting" in states(told))
        printed = [
            name for name, state in zip(PARKS, states(told), strict=True) if state == "printed"
        ]
        when = [tags_of(parks, name).stat().st_mtime_ns for name in printed]
        workers = children_of(process.pid)
        assert workers
        process.send_signal(signal.SIGKILL)
        process.wait()
    end = time.monotonic() + PATIENCE_S
    while any(map(is_running, workers)):  # nobody is left who prints for a desk that is gone
        assert time.monotonic() < end
        time.sleep(0.05)
    with answering(parks) as port:
        desk = DeskClient(port)
        told = desk.get("/queue/state").json()
        assert told["stopped"] and not told["running"]
        assert [job["name"] for job in told["jobs"]] == files
        left = states(told).count("waiting")
        assert set(states(told)) == {"printed", "waiting"}
        assert f"The print queue is not finished. Jobs that wait: {left}." in desk.get("/").text
        assert "La cola de impresión no está" in desk.get("/", **{"Accept-Language": "es"}).text
        desk.send("go-on", {}, "/queue")
        assert set(states(until(desk, is_over))) <= {"printed", "current"}
        assert "not finished" not in desk.get("/").text
    # What was printed is not printed again.
    assert [tags_of(parks, name).stat().st_mtime_ns for name in printed] == when
    for name in PARKS:  # as asked of the first desk: in Spanish, valve tags alone
        tags = tags_of(parks, name)
        page = PdfReader(tags).pages[0].extract_text()
        assert name.upper() in page and "caja" in page
        assert list(tags.parent.glob("*.pdf")) == [tags]


def test_ctrl_c_says_what_is_finished_and_what_is_left(parks: Path) -> None:
    files = [f"{name}.yaml" for name in PARKS]
    with desk_of_its_own(parks) as (process, desk):
        desk.form("/queue", {**TAGS, "job": files})
        until(desk, lambda told: "printing" in states(told))
        process.send_signal(signal.SIGINT)
        said, faults = process.communicate(timeout=PATIENCE_S)
    assert process.returncode == 0 and not faults
    lines = after_the_address(said)
    finished = re.fullmatch(
        r"The desk finishes what it is printing, then it closes: (.*)\.", lines[0]
    )
    left = re.fullmatch(
        r"Still in the print queue: (.*); the next desk offers to print them\.", lines[1]
    )
    assert finished and left
    assert lines[2:] == ["The desk is closed. Every change is in its job file."]
    printed = [f"{path.name.removesuffix('-cards')}.yaml" for path in parks.glob("*-cards")]
    # What is named as finished is whole; what is named as left has nothing.
    named = re.findall(r"\w+\.yaml", finished[1])
    assert named and set(named) <= set(printed)
    waiting = re.findall(r"\w+\.yaml", left[1])
    assert not {*waiting} & {*printed} and {*waiting} | {*printed} == {*files}
    for name in named:
        PdfReader(parks / name.replace(".yaml", "-cards") / "valve-tags.pdf")
    with answering(parks) as port:
        told = DeskClient(port).get("/queue/state").json()
        assert [job["name"] for job in told["jobs"] if job["state"] == "waiting"] == waiting


def test_a_queue_of_a_stock_that_is_no_more_is_forgotten(parks: Path) -> None:
    memory = DeskMemory(parks)
    memory.keep_queue((("only", "valve-tags"), ("stock", "gone-7")), ["ash.yaml"], "waiting")
    with answering(parks) as port:
        assert DeskClient(port).get("/queue/state").json()["jobs"] == []
