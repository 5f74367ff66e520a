"""Put the desk together: every page at its address, behind the guard."""

from __future__ import annotations

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.responses import Response

from cardgen.desk import job_calls
from cardgen.desk.desk_assets import MEDIA, address_of, asset
from cardgen.desk.desk_guard import DeskGuard
from cardgen.desk.desk_jobs import DeskJobs
from cardgen.desk.desk_routing import DeskRequest, DeskRoute, handlers
from cardgen.desk.folder_page import folder_page, new_job
from cardgen.desk.job_folder import JobFolder
from cardgen.desk.job_page import job_page
from cardgen.desk.print_pages import print_job, print_page, printed_file, proof_file

_JOB = "/jobs/{name}"


def desk_application(folder: JobFolder, *, token: str, port: int) -> Starlette:
    """The whole desk for one folder, at `http://127.0.0.1:PORT/open/TOKEN`."""
    app = Starlette(
        routes=[
            DeskRoute("/", folder_page),
            DeskRoute("/new", new_job, method="POST"),
            DeskRoute("/proof.pdf", proof_file),
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
            DeskRoute(f"{_JOB}/print", print_page),
            DeskRoute(f"{_JOB}/print", print_job, method="POST"),
            DeskRoute(f"{_JOB}/cards/{{file:path}}", printed_file),
            DeskRoute(_JOB, job_page),
        ],
        middleware=[Middleware(DeskGuard, token=token, port=port)],
        exception_handlers=handlers(HTTPException, Exception),
    )
    app.router.redirect_slashes = False
    app.state.jobs = DeskJobs(folder)
    return app


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
