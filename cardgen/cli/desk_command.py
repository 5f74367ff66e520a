"""`cardgen desk [FOLDER]`: the job files of a folder as pages in the browser of this machine."""

from __future__ import annotations

import logging
import os
import secrets
import sys
import webbrowser
from dataclasses import dataclass
from pathlib import Path
from threading import Timer

from cardgen.cli.extras import needed_by
from cardgen.cli.shell_words import pasted
from cardgen.cli.telling import CLEAN
from cardgen.output.writing import make_folder
from cardgen.problems import UserError

_HOST = "127.0.0.1"
_TOKEN_BYTES = 24
_OPENS_AFTER_S = 0.3  # the socket listens before: the browser would only wait


@dataclass(frozen=True, kw_only=True)
class Options:
    """Attributes:
    folder: the one in which it is called, if none is named.
    no_browser: only show the address.
    starter: where a file goes that does the same with a double-click; then nothing is opened.
    """

    folder: Path
    port: int
    no_browser: bool
    starter: Path | None


def run(options: Options) -> int:
    with needed_by("the desk"):
        from cardgen.desk import desk_app, job_folder, starter_file  # noqa: PLC0415
        from cardgen.server import http_server  # noqa: PLC0415
    logging.basicConfig(stream=sys.stderr, format="cardgen: %(message)s")
    logging.getLogger("uvicorn").setLevel(logging.ERROR)
    _see_to(options.folder)
    folder = job_folder.JobFolder(options.folder)
    if options.starter is not None:
        path = starter_file.write_starter(folder.path, options.starter)
        print(f"'{path}' opens the desk of '{folder.path}': double-click it.")
        return CLEAN
    token = secrets.token_urlsafe(_TOKEN_BYTES)
    with http_server.listening(_HOST, options.port) as at:
        port = at.getsockname()[1]
        app = desk_app.desk_application(folder, token=token, port=port)

        def say_what_is_finished() -> None:
            for line in desk_app.closing_lines(app):
                print(line, flush=True)

        server = http_server.server(app, on_stop=say_what_is_finished)
        http_server.stops_when_told(server)
        address = f"http://{_HOST}:{port}/open/{token}"
        print(f"The desk of '{folder.path}' is open at")
        print(f"  {address}")
        print("Only this computer can open it. Ctrl+C closes the desk.", flush=True)
        if not options.no_browser:
            Timer(_OPENS_AFTER_S, webbrowser.open, [address]).start()
        server.run(sockets=[at])
    print("The desk is closed. Every change is in its job file.")
    return CLEAN


def _see_to(folder: Path) -> None:
    """Make a folder that is not there, if a person at the terminal says so.

    Raises:
        UserError: if it stays missing.
    """
    if os.path.lexists(folder) or not folder.absolute().parent.is_dir():
        return  # what is there, or lacks more than itself, is told with the way out
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise UserError(f"there is no folder '{folder}'", f"make it with: mkdir {pasted(folder)}")
    try:
        answer = input(f"There is no folder '{folder}'. Make it? [y/n] ")
    except EOFError:
        answer = ""
    if answer.strip().lower() not in ("y", "yes"):
        raise UserError(f"there is no folder '{folder}', and none was made", "name another folder")
    make_folder(folder)
