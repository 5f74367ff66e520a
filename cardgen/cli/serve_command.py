"""`cardgen serve DIR`: the record's pages, and those on which crews enter what they read."""

from __future__ import annotations

import logging
import socket
import sys
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path

from cardgen.cli.backup_command import tell_spoiled
from cardgen.cli.extras import needed_by
from cardgen.cli.options import ServerOptions
from cardgen.cli.telling import CLEAN, layouts_folder
from cardgen.problems import UserError
from cardgen.server.data_faults import DataFault
from cardgen.server.data_path import data_of
from cardgen.server.entries import spoiled
from cardgen.server.lock import held
from cardgen.server.store import Store

_LOOPBACK = ("127.0.0.1", "::1", "localhost")


@dataclass(frozen=True, kw_only=True)
class Options(ServerOptions):
    """Attributes:
    layouts: folder of words of your own.
    behind_tls: a proxy before this server speaks https with the phones.
    proxy: its address; None for one on this machine.
    """

    layouts: Path | None
    host: str
    port: int
    behind_tls: bool
    proxy: str | None


def run(options: Options) -> int:
    with needed_by("a server"):
        from cardgen.server import app, http_server  # noqa: PLC0415
    if options.proxy and not options.behind_tls:
        raise UserError("--proxy says where the proxy of --behind-tls is", "say both, or none")
    layouts = layouts_folder(options.layouts)
    logging.basicConfig(stream=sys.stderr, format="cardgen: %(message)s")
    logging.getLogger("uvicorn").setLevel(logging.ERROR)  # each odd request would be a line
    with ExitStack() as stack:
        path = data_of(options.dir, options.data)
        store = _opened(path, stack)
        at = stack.enter_context(http_server.listening(options.host, options.port))
        served = app.application(options.dir, store, secure=options.behind_tls, layouts=layouts)
        proxies = options.proxy or ",".join(http_server.LOOPBACK)
        server = http_server.server(served, proxies if options.behind_tls else "")
        http_server.stops_when_told(server)
        _tell(options, at, path)
        server.run(sockets=[at])
    print("stopped; all that was acknowledged is kept")
    return CLEAN


def _opened(path: Path, stack: ExitStack) -> Store:
    """The data file; if it cannot be used now, the record is served all the same.

    Raises:
        DataFault: if another server has it, or it is not a data file.
    """
    store = Store(path)
    stack.callback(store.close)
    try:
        stack.enter_context(held(path))
        store.prepare()
        with store.reading() as connection:
            tell_spoiled(spoiled(connection))
    except DataFault as fault:
        if fault.kind in ("busy", "other"):
            raise
        print(f"cardgen: nothing can be entered: {fault.sentence}", file=sys.stderr)
        print(f"way out: {fault.help}; the record itself is served", file=sys.stderr)
    return store


def _tell(options: Options, at: socket.socket, path: Path) -> None:
    host = f"[{options.host}]" if ":" in options.host else options.host
    print(f"{options.dir}: served at http://{host}:{at.getsockname()[1]}/, data in {path}")
    if options.host not in _LOOPBACK and not options.behind_tls:
        print("PINs travel unprotected: put a proxy with TLS before it and say --behind-tls")
    print("Ctrl+C stops it", flush=True)
