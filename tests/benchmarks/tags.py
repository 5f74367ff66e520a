"""Print the tags of a campus beside two peers: `python tests/benchmarks/tags.py [STATIONS]`.

cardgen  the whole command: the job read, traced, checked, set, drawn, and what was printed kept
widget   reportlab's own QR widget, `peer.py`
raw      reportlab's operators and the codes of segno, `raw_peer.py`

The peers draw as many tags with the same texts and addresses, taken from cardgen's own print, and
do nothing else.  Seconds are those of the processor, so what else runs counts little.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.benchmarks.run import BESIDE, CARDGEN, ROOT, measured

STATIONS = 2000
TIMES = 3
FONT = ROOT / "cardgen" / "fonts" / "AtkinsonHyperlegibleNext-Bold.ttf"


def main() -> None:
    stations = int(sys.argv[1]) if len(sys.argv) > 1 else STATIONS
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        job = folder / "campus.yaml"
        texts = [sys.executable, str(BESIDE / "tag_texts.py"), str(job), str(stations)]
        given = subprocess.run(texts, capture_output=True, check=True, text=True).stdout
        tags = len(json.loads(given))
        argv = ("print", str(job), "--only", "valve-tags", "--out", str(folder / "ours"))
        ours = measured(*CARDGEN, *argv, times=TIMES)
        runs = {"cardgen": (ours, folder / "ours" / "valve-tags.pdf")}
        for peer, script in (("widget", "peer.py"), ("raw", "raw_peer.py")):
            made = folder / f"{peer}.pdf"
            command = (sys.executable, str(BESIDE / script), str(made), str(FONT))
            runs[peer] = measured(*command, given=given, times=TIMES), made
        titles = f"{'CPU s':>9}{'tags/s':>9}{'peak MB':>9}{'bytes/tag':>11}{'cardgen is':>12}"
        print(f"{f'{tags} tags':10}  {titles}")
        for peer, (run, made) in runs.items():
            size = made.stat().st_size / tags
            quicker = f"{run.used / ours.used:.2f} x"
            print(
                f"{peer:10}  {run.used:11.2f}{tags / run.used:9.0f}{run.peak:9.0f}{size:11.0f}"
                f"{quicker:>12}"
            )


if __name__ == "__main__":
    main()
