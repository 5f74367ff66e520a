"""Answer the scripts of a job's page: its rows, what is wrong in them, and every change."""

from __future__ import annotations

from typing import Any

from starlette.responses import JSONResponse, Response

from cardgen.allot import allot
from cardgen.desk.desk_routing import DeskRequest
from cardgen.desk.grid_edits import changes_of
from cardgen.desk.grid_lists import BadEdit
from cardgen.desk.grid_rows import forms_of, rows_of
from cardgen.desk.job_summary import state_of
from cardgen.desk.open_job import FileText, OpenJob
from cardgen.desk.print_choices import request_of
from cardgen.desk.row_findings import counts_of, findings_of
from cardgen.desk.tag_preview import preview_of
from cardgen.desk.told_findings import told
from cardgen.editing import edited
from cardgen.output.writing import write_new
from cardgen.problems import Problem
from cardgen.reading import parse
from cardgen.renaming import edited_with_names


def data(request: DeskRequest) -> Response:
    """All rows as the file has them."""
    return JSONResponse(_data(request, _job(request)))


def version(request: DeskRequest) -> Response:
    """Whether the file is still what the page shows."""
    return JSONResponse({"version": _job(request).now.version})


def state(request: DeskRequest) -> Response:
    """For the list of jobs."""
    cards = request.jobs.folder.cards(request.values["name"])
    return JSONResponse(state_of(_job(request), cards, _language(request)))


def findings(request: DeskRequest) -> Response:
    """What is wrong, row by row."""
    job = _job(request)
    now = job.show()
    problems = job.examined(now).problems
    found = findings_of(problems, job.root(now)[0], now.text or "", _language(request))
    return JSONResponse({"version": now.version, "findings": found, "counts": counts_of(problems)})


def misfits(request: DeskRequest) -> Response:
    """Which tags have no room on the stock that is shown."""
    job = _job(request)
    now = job.show()
    root = job.root(now)[0]
    found: list[Problem] = []
    if now.text is not None and rows_of(root)["stations"]:
        query = request.request.query_params
        wanted = request_of(query.get("stock", ""), query.get("language", ""))
        _, tags = request.jobs.previews.of(now.text, job.examined(now), wanted)
        found = list(tags.misfits()) if tags else []
    shown = findings_of(found, root, now.text or "", _language(request))
    return JSONResponse({"version": now.version, "misfits": shown})


def edit(request: DeskRequest) -> Response:
    """Write what was typed into the file, a name with all that mentions it."""
    job, sent = _job(request), request.sent
    with job.lock:
        before = rows_of(job.root()[0])
        changes = changes_of(job.root()[0], sent)
        renamed = job.edit(changes, _version(sent), names_alone=sent.get("alone") is True)
        answer = _data(request, job)
    answer["rows"] = {name: rows for name, rows in answer["rows"].items() if rows != before[name]}
    more = {"mentions": renamed.count, "left": renamed.left, "names": dict(renamed.names)}
    return JSONResponse({**answer, **more})


def undo(request: DeskRequest) -> Response:
    job = _job(request)
    job.undo(_version(request.sent))
    return JSONResponse(_data(request, job))


def redo(request: DeskRequest) -> Response:
    job = _job(request)
    job.redo(_version(request.sent))
    return JSONResponse(_data(request, job))


def keep_copy(request: DeskRequest) -> Response:
    """What was typed into a file that others have changed goes into a new one beside it."""
    job, sent = _job(request), request.sent
    before = job.shown(_version(sent))
    text, parts = before.text or "", sent.get("parts")
    for part in parts if isinstance(parts, list) else ():
        if not isinstance(part, dict):
            raise BadEdit("the page sent what is no change")
        changes = changes_of(parse(text, job.name)[0], part)
        alone = part.get("alone") is True
        text = edited(text, changes) if alone else edited_with_names(text, changes).text
    mine = before.with_text(text, job.name)
    name = request.jobs.folder.free_name(f"{job.path.stem}-mine")
    write_new(request.jobs.folder.new_file(name), mine.data)
    return JSONResponse({"name": name})


def wires(request: DeskRequest) -> Response:
    """Which wires cardgen would choose for the stations that have none; nothing is written."""
    job = _job(request)
    chosen = allot(job.text, job.name)
    proposals = {
        station: ", ".join(conductor.name for conductor in way.conductors)
        for station, way in chosen.ways.items()
    }
    return JSONResponse(
        {
            "version": job.now.version,
            "proposals": proposals if chosen.text is not None else {},
            "problems": [
                {"sentence": said.sentence, "help": said.help, "lang": said.language}
                for said in (told(problem, _language(request)) for problem in chosen.problems)
            ],
        }
    )


def preview(request: DeskRequest) -> Response:
    """The tags of a row, with what is being typed into one of its cells and is not written yet."""
    job, sent = _job(request), request.sent
    now = job.now
    text, examined = now.text or "", None
    row = sent.get("row")
    if not isinstance(row, str) or not isinstance(sent.get("cells", []), list):
        raise BadEdit("the page sent what is no row")
    if sent.get("cells"):
        text = edited(text, changes_of(job.root(now)[0], sent))
    else:
        examined = job.examined(now)
    wanted = request_of(str(sent.get("stock", "")), str(sent.get("language", "")))
    return JSONResponse(
        preview_of(row, *request.jobs.previews.of(text, examined, wanted), _language(request))
    )


def _job(request: DeskRequest) -> OpenJob:
    return request.jobs.job(request.values["name"])


def _language(request: DeskRequest) -> str:
    return request.words.languages[0]


def _data(request: DeskRequest, job: OpenJob) -> dict[str, Any]:
    language = _language(request)
    now: FileText = job.show()
    root, faults = job.root(now)
    return {
        "version": now.version,
        "rows": rows_of(root),
        "forms": forms_of(root),
        "back": len(job.back),
        "forward": len(job.forward),
        "faults": [] if root is not None else findings_of(faults, None, now.text or "", language),
        "lines": (now.text or "").splitlines() if root is None else [],
    }


def _version(sent: dict[str, Any]) -> str:
    found = sent.get("version")
    if not isinstance(found, str):
        raise BadEdit("the page does not say what it shows", "reload it")
    return found
