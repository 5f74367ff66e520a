"""Put the server together: every page at its address, and the files of the record behind them."""

from __future__ import annotations

from collections.abc import AsyncIterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import asynccontextmanager
from pathlib import Path

from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.types import ASGIApp

from cardgen.server.addresses import ENDING, EXPORT, PHOTOS, READINGS, REPORTS, RESULTS, TABLE
from cardgen.server.ending_post import end_entry
from cardgen.server.entry_page import entry_page
from cardgen.server.entry_post import take_entry
from cardgen.server.error_pages import HANDLERS
from cardgen.server.export_page import export_all
from cardgen.server.jobs import ServedJobs
from cardgen.server.live_record import LiveRecord
from cardgen.server.live_results_page import live_results_page
from cardgen.server.login import Login
from cardgen.server.pin_attempts import AttemptLimiter
from cardgen.server.reports_page import photo, reports_page
from cardgen.server.request_body import PARTS, PHOTO_BYTES, TABLE_BYTES
from cardgen.server.request_context import DATA, LOGIN, LOGOUT, TABLES
from cardgen.server.routing import PageRoute
from cardgen.server.security import SecurityHeaders
from cardgen.server.served_files import ServedFiles
from cardgen.server.store import Store
from cardgen.server.table_pages import table_in, table_out

# While the data file keeps these waiting, files are still sent by others.
_DATA_THREADS = 8
_JOB = "/{job:path}"

PAGES = (
    # Open, so that the phone can keep it; what is sent needs a crew.
    PageRoute(f"{_JOB}/{READINGS}", entry_page, open=True),
    PageRoute(
        f"{_JOB}/{READINGS}", take_entry, method="POST", media=(PARTS,), max_bytes=PHOTO_BYTES
    ),
    PageRoute(f"{_JOB}/{RESULTS}", live_results_page, open=True),
    PageRoute(f"{_JOB}/{REPORTS}", reports_page),
    PageRoute(f"{_JOB}/{ENDING}", end_entry, method="POST"),
    PageRoute(f"{_JOB}/{EXPORT}", export_all),
    PageRoute(f"{_JOB}/{PHOTOS}/{{id}}", photo),
    PageRoute(f"{_JOB}/{TABLE}", table_out, threads=TABLES),
    PageRoute(
        f"{_JOB}/{TABLE}",
        table_in,
        method="POST",
        media=(PARTS,),
        max_bytes=TABLE_BYTES,
        threads=TABLES,
    ),
)


def application(
    record: Path, store: Store, *, secure: bool, layouts: Path | None = None
) -> Starlette:
    """The whole server for one folder of records.

    Args:
        layouts: the folder of one's own words with which the record was made.
        secure: whether browsers come by https, so that cookies go no other way.
    """
    jobs = ServedJobs(record)
    files = ServedFiles(record, LiveRecord(jobs, store, layouts))
    routes = (*login_routes(Login(AttemptLimiter())), *PAGES)
    return assembled(routes, files, jobs, store, secure=secure)


def login_routes(login: Login) -> tuple[PageRoute, ...]:
    return (
        PageRoute(LOGIN, login.show, open=True),
        PageRoute(LOGIN, login.log_in, open=True, method="POST"),
        PageRoute(LOGOUT, login.log_out, method="POST"),
    )


def assembled(
    routes: Sequence[PageRoute], files: ASGIApp, jobs: ServedJobs, store: Store, *, secure: bool
) -> Starlette:
    """The application of these pages; what is at none of their addresses is a file."""
    app = Starlette(
        routes=routes,
        middleware=[Middleware(SecurityHeaders)],
        exception_handlers=HANDLERS,
        lifespan=_lifespan,
    )
    app.router.redirect_slashes = False  # else it leads to what the sender calls this host
    app.router.default = files
    app.state.store, app.state.jobs, app.state.secure = store, jobs, secure
    return app


@asynccontextmanager
async def _lifespan(_app: Starlette) -> AsyncIterator[dict[str, ThreadPoolExecutor]]:
    with (
        ThreadPoolExecutor(_DATA_THREADS, "data") as data,
        ThreadPoolExecutor(1, "tables") as tables,
    ):
        yield {DATA: data, TABLES: tables}
