"""A server with one page that keeps an entry: in this process, or as a program of its own.

`python -m tests.server.keeping FOLDER` serves `FOLDER/web` and says its port in its first line.
"""

from __future__ import annotations

import ctypes
import os
import resource
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from starlette.responses import JSONResponse, Response

from cardgen.server.data_faults import DataFault
from cardgen.server.entries import Conflict, add
from cardgen.server.http_server import listening, server, stops_when_told
from cardgen.server.request_context import RequestContext
from cardgen.server.routing import PageRoute
from cardgen.server.store import Store
from tests.server.phones import application_of, entry

KEEP = "/KEEP_"
# linux/prctl.h and linux/capability.h.
PR_CAPBSET_DROP, CAP_DAC_OVERRIDE, CAP_DAC_READ_SEARCH = 24, 1, 2


def keep(request: RequestContext) -> Response:
    """Store what was sent; the answer is its place in the order."""
    said = {name: request.form.get(name, "") for name in ("id", "value", "notes", "said_at")}
    one = entry(said.pop("id"), **said, crew=request.crew)
    try:
        stored = add(request.store, [one], network=request.network)
    except Conflict:
        return JSONResponse({"conflict": one.id}, 409)
    return JSONResponse({"id": stored[0].id, "seq": stored[0].seq})


KEEPS = PageRoute(KEEP, keep, method="POST")


def main(folder: Path, confined: str = "") -> None:
    """Serve until told to stop, also when the data file cannot be used."""
    if confined == "as owner":
        _without_roots_rights()
        os.execv(sys.executable, [sys.executable, "-m", "tests.server.keeping", str(folder)])  # noqa: S606
    if confined:
        resource.setrlimit(resource.RLIMIT_FSIZE, (int(confined), int(confined)))
    store = Store(folder / "web.sqlite")
    try:
        store.prepare()
    except DataFault as fault:
        sys.stderr.write(f"fault: {fault.kind}\n")
    with listening("127.0.0.1", 0) as at:
        served = application_of(folder / "web", store, KEEPS)
        answering = server(served)
        stops_when_told(answering)
        _say(f"{at.getsockname()[1]}\n")
        answering.run(sockets=[at])
    store.close()


def _without_roots_rights() -> None:
    """In the program that takes this one's place, root may not write what its owner may not."""
    if os.getuid() == 0:
        libc = ctypes.CDLL(None, use_errno=True)
        for capability in (CAP_DAC_OVERRIDE, CAP_DAC_READ_SEARCH):
            assert libc.prctl(PR_CAPBSET_DROP, capability, 0, 0, 0) == 0, "no right to give up"


def _say(line: str) -> None:
    sys.stdout.write(line)
    sys.stdout.flush()


@contextmanager
def program(folder: Path, confined: str = "") -> Iterator[tuple[int, subprocess.Popen[bytes]]]:
    """The server as a program of its own: its port, and itself.

    Args:
        confined: `as owner` takes root's rights from it; a number is the most bytes of a file.
    """
    command = [sys.executable, "-m", "tests.server.keeping", str(folder)]
    process = subprocess.Popen(
        [*command, *filter(None, [confined])],
        cwd=Path(__file__).parents[2],
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
    )
    assert process.stdout is not None
    try:
        yield int(process.stdout.readline()), process
    finally:
        process.terminate()
        process.wait(30)
        process.stdout.close()


if __name__ == "__main__":
    main(Path(sys.argv[1]), *sys.argv[2:])
