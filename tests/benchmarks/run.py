"""Measure cardgen beside its peers: `python tests/benchmarks/run.py`; ratios travel, seconds don't.

Seconds are those of the processor, for the whole command, as it runs where it is installed: with
its bytecode, which the first of several runs makes.

start  `cardgen --help`                 against a bare interpreter
check  `cardgen check` of large jobs    against merely composing their YAML
print  `cardgen print` of the same job  against the same texts and codes by reportlab's QR widget
"""

from __future__ import annotations

import json
import os
import statistics
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
BESIDE = Path(__file__).parent
JOB = ROOT / "sample_jobs" / "heron.yaml"
CARDGEN = (sys.executable, "-m", "cardgen")
STATIONS = (2000, 20_000)
COMPOSE = "import sys, yaml; yaml.compose(open(sys.argv[1]), Loader=yaml.CSafeLoader)"


@dataclass(frozen=True, slots=True)
class Run:
    """The middle of several runs of one command.

    Attributes:
        used: seconds of the processor, its own and the system's.
        peak: the most memory it held, in MB; never less than this script itself holds, because a
            new process begins as a copy of it. So this script imports nothing large.
    """

    used: float
    peak: float


def measured(*command: str, given: str = "", times: int = 5) -> Run:
    once = [_once(command, given) for _ in range(times)]
    return Run(
        statistics.median(r.used for r in once),
        max(r.peak for r in once),
    )


def _once(command: tuple[str, ...], given: str) -> Run:
    with tempfile.TemporaryFile("w+") as text:
        text.write(given)
        text.seek(0)
        process = subprocess.Popen(
            command,
            cwd=ROOT,
            env=_as_installed(),
            stdin=text,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        # Waited for here and not by subprocess, because only this tells the memory of one child.
        _, status, used = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    assert process.returncode == 0, f"{command} ended with {process.returncode}"
    return Run(used.ru_utime + used.ru_stime, used.ru_maxrss / 1024)


def _as_installed() -> dict[str, str]:
    """What a command finds around it: its bytecode may be kept, in a folder of its own."""
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    return kept | {"PYTHONPYCACHEPREFIX": str(Path(tempfile.gettempdir(), "cardgen-bytecode"))}


def read_back(folder: Path) -> str:
    """What each printed page says, read from paper: its lines and its codes' addresses, as JSON."""
    command = [sys.executable, str(BESIDE / "read_back.py"), str(folder)]
    return subprocess.run(command, capture_output=True, check=True, text=True).stdout


def line(what: str, ours: float, peers: float, unit: str) -> None:
    print(f"{what:34}{ours:12,.3f}{peers:12,.3f}  {unit:8}{ours / peers:8.2f}")


def main() -> None:
    print(f"{'':34}{'cardgen':>12}{'peer':>12}  {'':8}{'ratio':>8}")
    bare = measured(sys.executable, "-c", "pass", times=15)
    line("start, --help", measured(*CARDGEN, "--help", times=15).used, bare.used, "s")
    compare_checking(JOB.name, JOB)
    with tempfile.TemporaryDirectory() as name:
        for stations in STATIONS:
            job = Path(name, f"campus-{stations}.yaml")
            # A process of its own, for what this script holds would count as the children's.
            make = f"import sys; sys.path[0] = {str(BESIDE)!r}; import campus; {_WRITE}"
            subprocess.run([sys.executable, "-c", make, str(job), str(stations)], check=True)
            compare_checking(f"{stations:,} stations", job, times=1 if stations > 5000 else 5)
        compare_printing(Path(name))


_WRITE = "open(sys.argv[1], 'w').write(campus.campus(int(sys.argv[2])))"


def compare_checking(what: str, job: Path, times: int = 5) -> None:
    checked = measured(*CARDGEN, "check", str(job), times=times)
    composed = measured(sys.executable, "-c", COMPOSE, str(job), times=times)
    line(f"check {what}", checked.used, composed.used, "s")
    line("  peak memory", checked.peak, composed.peak, "MB")


def compare_printing(folder: Path) -> None:
    printed = measured(*CARDGEN, "print", str(JOB), "--out", str(folder / "ours"), times=3)
    manifest = (folder / "ours" / "cardgen-manifest.json").read_text(encoding="utf-8")
    cards = sum(not key.startswith("wiring drawing") for key in json.loads(manifest)["cards"])
    peer = [sys.executable, str(BESIDE / "peer.py"), str(folder / "peer.pdf")]
    drawn = measured(*peer, given=read_back(folder / "ours"), times=3)
    ours = sum(path.stat().st_size for path in (folder / "ours").rglob("*.pdf"))
    peers = (folder / "peer.pdf").stat().st_size
    line(f"print {JOB.name}", cards / printed.used, cards / drawn.used, "cards/s")
    line("  peak memory", printed.peak, drawn.peak, "MB")
    line("  PDF for each card", ours / cards, peers / cards, "bytes")
    print(f"{cards} cards; the whole command, reading and checking included; the peer draws only")


if __name__ == "__main__":
    main()
