"""Put the server together: the gate, the files behind it, and every page beside them."""

from __future__ import annotations

from pathlib import Path

from cardgen.server.crew_pages import PAGES
from cardgen.server.files import Files
from cardgen.server.gate import Gate
from cardgen.server.jobs import Jobs
from cardgen.server.live_record import LiveRecord
from cardgen.server.login import Login
from cardgen.server.store import Store
from cardgen.server.turnstile import Turnstile


def application(record: Path, store: Store, *, secure: bool) -> Gate:
    """The whole server for one folder of records.

    Args:
        secure: whether browsers come by https, so that cookies go no other way.
    """
    login, jobs = Login(Turnstile()), Jobs(record)
    pages = (*login.pages(), *PAGES)
    return Gate(Files(record, LiveRecord(jobs, store)), jobs, store, pages, secure=secure)
