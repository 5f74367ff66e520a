"""`cardgen pin DIR`: which crews may enter readings; a PIN is asked for, no option takes it."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from datetime import UTC, datetime
from getpass import getpass

from cardgen.cli.options import ServerOptions
from cardgen.cli.telling import CLEAN
from cardgen.problems import UserError
from cardgen.server import pins
from cardgen.server.audit_trail import AuditStep, trail
from cardgen.server.data_path import data_of
from cardgen.server.store import Store


@dataclass(frozen=True, kw_only=True)
class Options(ServerOptions):
    """One of them is said.

    Attributes:
        add, change, remove: the name of a crew.
        office: whoever is added has the office's role.
        list, trail: what is shown.
    """

    add: str | None
    change: str | None
    remove: str | None
    office: bool
    list: bool
    trail: bool


def run(options: Options) -> int:
    try:
        store = Store(data_of(options.dir, options.data))
        store.prepare()
        try:
            print(_done(options, store))
        finally:
            store.close()
    except KeyboardInterrupt:
        raise UserError("nothing is changed") from None
    return CLEAN


def _done(options: Options, store: Store) -> str:
    """Do it; what to say.

    Raises:
        UserError: with nothing changed.
    """
    if options.office and options.add is None:
        raise UserError("--office says what --add gives", "say --add NAME --office")
    if options.list:
        office = set(pins.offices(store))
        names = (f"{name} (office)" if name in office else name for name in pins.crews(store))
        return "\n".join(names) or "no crew has a PIN yet: --add NAME"
    if options.trail:
        return "\n".join(map(_line, trail(store)))
    if options.remove is not None:
        pins.remove(store, options.remove)
        return f"{options.remove}: let in no more; its phones are logged out, its entries stay"
    if options.change is not None:
        pins.known(store, options.change)
        pins.change(store, options.change, _asked())
        return f"{options.change}: has another PIN; its phones are logged out"
    assert options.add is not None, "the parser asks for one of them"
    pins.refuse_taken(store, options.add)
    pins.add(store, options.add, _asked(), office=options.office)
    return f"{options.add}: may log in"


def _line(step: AuditStep) -> str:
    at = datetime.fromtimestamp(step.at, UTC).strftime("%Y-%m-%d %H:%M:%S UTC")
    return "  ".join(filter(None, (at, step.who or "nobody", step.what, step.about, step.network)))


def _asked() -> str:
    """The PIN, typed twice; from a pipe, its first line.

    Raises:
        BadPin: if the two differ.
    """
    if not sys.stdin.isatty():
        return sys.stdin.readline().rstrip("\r\n")
    pin = getpass(f"PIN ({pins.LEAST} characters or more; it is not shown): ")
    if getpass("again: ") != pin:
        raise pins.BadPin("the two are not the same", "run the command again")
    return pin
