"""The way from an address of the desk to its page, and from a fault to an answer in plain words."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any
from urllib.parse import parse_qsl

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route
from starlette.types import ExceptionHandler

from cardgen.desk.desk_guard import add_strict_headers
from cardgen.desk.desk_jobs import DeskJobs
from cardgen.desk.desk_shell import desk_page
from cardgen.desk.job_folder import NotInFolder
from cardgen.desk.open_job import ChangedMeanwhile
from cardgen.desk.told_findings import ToldFinding, told_refusal
from cardgen.problems import UserError
from cardgen.record.html import element
from cardgen.renaming import CannotRename
from cardgen.server.accept_language import words_for
from cardgen.server.compression import compress
from cardgen.server.http_error import HttpError
from cardgen.server.request_body import FORM, PARTS, Upload, read_body, read_form
from cardgen.words import Words

# What a page has a way out of.
_KINDS = ((ChangedMeanwhile, "changed"), (CannotRename, "name"))
MOST_BYTES = 4 * 1024 * 1024  # of a paste of 2,000 rows, with room; our choice


@dataclass(frozen=True, slots=True, kw_only=True)
class DeskRequest:
    """One request, let in by the guard.

    Attributes:
        form: the last value of each field; `several` has all of one.
    """

    request: Request
    body: bytes = b""

    @property
    def jobs(self) -> DeskJobs:
        found: DeskJobs = self.request.app.state.jobs
        return found

    @property
    def words(self) -> Words:
        return words_for(self.request.headers.get("accept-language", ""))

    @property
    def values(self) -> Mapping[str, str]:
        """What the address holds at its `{names}`."""
        return self.request.path_params

    @property
    def sent(self) -> dict[str, Any]:
        """What a script sent.

        Raises:
            HttpError: if it is nothing of ours.
        """
        try:
            found = json.loads(self.body)
        except ValueError as fault:
            raise HttpError(400, "unread") from fault
        if not isinstance(found, dict):
            raise HttpError(400, "unread")
        return found

    @property
    def fields(self) -> list[tuple[str, str]]:
        """Of a form, in its order."""
        try:
            return parse_qsl(self.body.decode(), keep_blank_values=True, max_num_fields=5000)
        except ValueError as fault:
            raise HttpError(400, "unread") from fault

    @property
    def fields_and_files(self) -> tuple[Mapping[str, str], Mapping[str, Upload]]:
        """Of a form that may send a file; a list can be pasted into one field."""
        return read_form(self.request.headers.get("content-type", ""), self.body, MOST_BYTES)


DeskPage = Callable[[DeskRequest], Response]


class DeskRoute(Route):
    """An address of the desk; its page is a plain function that runs in a thread."""

    def __init__(self, path: str, page: DeskPage, *, method: str = "GET") -> None:
        super().__init__(path, self._respond, methods=[method])
        self.page = page

    async def _respond(self, request: Request) -> Response:
        body = b""
        if request.method == "POST":
            media = request.headers.get("content-type", "").partition(";")[0].strip().lower()
            if media not in (FORM, PARTS, "application/json"):
                raise HttpError(415, "kind")
            body = await read_body(request, MOST_BYTES)
        return await run_in_threadpool(self._made, DeskRequest(request=request, body=body))

    def _made(self, request: DeskRequest) -> Response:
        response = self.page(request)
        if hasattr(response, "body"):
            compress(request.request, response)
        return response


def _told(request: Request, fault: Exception) -> Response:
    """What went wrong and the way out, as a page or for a script."""
    words = words_for(request.headers.get("accept-language", ""))
    status, said = _words_of(words, fault)
    mark = "" if said.language == words.languages[0] else words("desk.in English").printed
    if "application/json" in request.headers.get("accept", ""):
        kind = next((kind for of, kind in _KINDS if isinstance(fault, of)), "refused")
        sentence = said.sentence if said.help else f"{said.sentence} {mark}".strip()
        help_ = f"{said.help} {mark}".strip() if said.help else ""
        return JSONResponse({"kind": kind, "sentence": sentence, "help": help_}, status)
    lines = [element("p", text, lang=said.language) for text in (said.sentence, said.help) if text]
    if mark:
        lines.append(element("small", mark))
    alert = element("div", *lines, class_="alert", role="alert")
    title = words("desk.not done")
    page = desk_page(words, title, element("h1", title), alert, status=status)
    page.headers.update(getattr(fault, "headers", None) or {})
    add_strict_headers(page.headers)  # a bug is answered outside of all middleware
    return page


def _words_of(words: Words, fault: Exception) -> tuple[int, ToldFinding]:
    language = words.languages[0]
    if isinstance(fault, UserError):
        return 404 if isinstance(fault, NotInFolder) else 409, told_refusal(fault, language)
    status, key, values = int(getattr(fault, "status_code", 500)), "desk.not here", {}
    if isinstance(fault, HttpError):
        status, key, values = fault.status, f"refusal.{fault.name}", fault.values
    elif status == 500:
        key = "desk.bug"
    help_ = "desk.send less" if status == 413 and key.startswith("refusal") else f"{key} help"
    said = words(key, **values).printed
    return status, ToldFinding(said, words(help_).printed, language)


def handlers(*kinds: type[Exception]) -> dict[type[Exception], ExceptionHandler]:
    return dict.fromkeys((UserError, HttpError, *kinds), _told)
