"""Put the desk together: every page at its address, behind the guard."""

from __future__ import annotations

from collections.abc import AsyncIterator, Iterator
from contextlib import asynccontextmanager

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.responses import Response

from cardgen.desk import job_calls, job_sheets, queue_pages
from cardgen.desk.crew_bundles import crews_page, print_bundle
from cardgen.desk.desk_assets import MEDIA, address_of, asset
from cardgen.desk.desk_guard import DeskGuard
from cardgen.desk.desk_jobs import DeskJobs
from cardgen.desk.desk_routing import DeskRequest, DeskRoute, handlers
from cardgen.desk.folder_page import folder_page, new_job
from cardgen.desk.hanging_part import hang
from cardgen.desk.job_folder import JobFolder
from cardgen.desk.job_from_list import job_from_list, list_page
from cardgen.desk.job_page import job_page
from cardgen.desk.print_pages import print_job, print_page, printed_file, proof_file
from cardgen.desk.site_lists import take_sites
from cardgen.english_lists import english_list

_JOB = "/jobs/{name}"


def desk_application(folder: JobFolder, *, token: str, port: int) -> Starlette:
    """The whole desk for one folder, at `http://127.0.0.1:PORT/open/TOKEN`."""
    app = Starlette(
        routes=[
            DeskRoute("/", folder_page),
            DeskRoute("/new", new_job, method="POST"),
            DeskRoute("/from-list", list_page),
            DeskRoute("/from-list", job_from_list, method="POST"),
            DeskRoute("/from-list/sites", take_sites, method="POST"),
            DeskRoute("/proof.pdf", proof_file),
            DeskRoute("/queue", queue_pages.queue_page),
            DeskRoute("/queue", queue_pages.start_queue, method="POST"),
            DeskRoute("/queue/choose", queue_pages.choose_print, method="POST"),
            DeskRoute("/queue/state", queue_pages.queue_state),
            DeskRoute("/queue/stop", queue_pages.stop_queue, method="POST"),
            DeskRoute("/queue/go-on", queue_pages.go_on_queue, method="POST"),
            DeskRoute("/assets/{digest}/{name}", _asset),
            DeskRoute(f"{_JOB}/data", job_calls.data),
            DeskRoute(f"{_JOB}/version", job_calls.version),
            DeskRoute(f"{_JOB}/state", job_calls.state),
            DeskRoute(f"{_JOB}/findings", job_calls.findings),
            DeskRoute(f"{_JOB}/misfits", job_calls.misfits),
            DeskRoute(f"{_JOB}/edit", job_calls.edit, method="POST"),
            DeskRoute(f"{_JOB}/undo", job_calls.undo, method="POST"),
            DeskRoute(f"{_JOB}/redo", job_calls.redo, method="POST"),
            DeskRoute(f"{_JOB}/copy", job_calls.keep_copy, method="POST"),
            DeskRoute(f"{_JOB}/wires", job_calls.wires, method="POST"),
            DeskRoute(f"{_JOB}/preview", job_calls.preview, method="POST"),
            DeskRoute(f"{_JOB}/spreadsheet", job_sheets.sheet_page),
            DeskRoute(f"{_JOB}/spreadsheet", job_sheets.bring_in, method="POST"),
            DeskRoute(f"{_JOB}/spreadsheet/take", job_sheets.take_in, method="POST"),
            DeskRoute(f"{_JOB}/workbook.xlsx", job_sheets.workbook_file),
            DeskRoute(f"{_JOB}/print", print_page),
            DeskRoute(f"{_JOB}/print", print_job, method="POST"),
            DeskRoute(f"{_JOB}/crews", crews_page),
            DeskRoute(f"{_JOB}/crews", print_bundle, method="POST"),
            DeskRoute(f"{_JOB}/hang", hang, method="POST"),
            DeskRoute(f"{_JOB}/cards/{{file:path}}", printed_file),
            DeskRoute(_JOB, job_page),
        ],
        middleware=[Middleware(DeskGuard, token=token, port=port)],
        exception_handlers=handlers(HTTPException, Exception),
        lifespan=_until_printed,
    )
    app.router.redirect_slashes = False
    app.state.jobs = DeskJobs(folder)
    return app


def closing_lines(app: Starlette) -> Iterator[str]:
    """What a desk that is told to close does before, and what it leaves."""
    jobs: DeskJobs = app.state.jobs
    if printing := jobs.printing:
        yield f"The desk finishes what it is printing, then it closes: {english_list(printing)}."
    if waiting := jobs.queue.waiting:
        is_kept = jobs.memory.is_kept
        later = "the next desk offers to print them" if is_kept else "they are forgotten"
        yield f"Still in the print queue: {english_list(waiting)}; {later}."


@asynccontextmanager
async def _until_printed(app: Starlette) -> AsyncIterator[None]:
    """A desk that is closed finishes what it writes, and begins nothing more."""
    yield
    jobs: DeskJobs = app.state.jobs
    await run_in_threadpool(jobs.queue.close)


def _asset(request: DeskRequest) -> Response:
    """A script or style; its address changes with it, so a browser may keep it."""
    name = request.values["name"]
    try:
        data = asset(name)
    except KeyError as fault:
        raise HTTPException(404) from fault
    if request.request.url.path != address_of(name):
        raise HTTPException(404)
    media = MEDIA[name[name.rfind(".") :]]
    keep = "private, max-age=31536000, immutable"
    return Response(data, headers={"Cache-Control": keep}, media_type=media)
