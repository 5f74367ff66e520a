"""A server with one page that keeps an entry: in this process, or as a program of its own.

`python -m tests.server.keeping FOLDER` serves `FOLDER/web` and says its port in its first line.
"""

from __future__ import annotations

import sys
from pathlib import Path

from starlette.responses import JSONResponse, Response

from cardgen.server.entries import Conflict, add
from cardgen.server.faults import DataFault
from cardgen.server.files import Files
from cardgen.server.gate import Gate
from cardgen.server.jobs import Jobs
from cardgen.server.login import Login
from cardgen.server.store import Store
from cardgen.server.turnstile import Turnstile
from cardgen.server.visit import Page, Visit
from cardgen.server.wire import Server, listening
from tests.server.phones import entry

KEEP = "/KEEP_"


def keep(visit: Visit) -> Response:
    """Store what was sent; the answer is its place in the order."""
    said = {name: visit.form.get(name, "") for name in ("id", "value", "notes", "said_at")}
    one = entry(said.pop("id"), **said, crew=visit.crew)
    try:
        stored = add(visit.store, [one], network=visit.network)
    except Conflict:
        return JSONResponse({"conflict": one.id}, 409)
    return JSONResponse({"id": stored[0].id, "seq": stored[0].seq})


def gate_for(web: Path, store: Store) -> Gate:
    pages = (*Login(Turnstile()).pages(), Page(path=KEEP, answer=keep, method="POST"))
    return Gate(Files(web), Jobs(web), store, pages, secure=False)


def main(folder: Path) -> None:
    """Serve until told to stop, also when the data file cannot be used."""
    store = Store(folder / "web.sqlite", wait=5)
    try:
        store.prepare()
    except DataFault as fault:
        sys.stderr.write(f"fault: {fault.kind}\n")
    with listening("127.0.0.1", 0) as at:
        said = f"{at.getsockname()[1]}\n"
        Server(gate_for(folder / "web", store), lambda: _say(said)).run(sockets=[at])
    store.close()


def _say(line: str) -> None:
    sys.stdout.write(line)
    sys.stdout.flush()


if __name__ == "__main__":
    main(Path(sys.argv[1]))
