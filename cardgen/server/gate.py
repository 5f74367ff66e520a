"""Let a request through to a page or file only when everything about it is in order."""

from __future__ import annotations

import asyncio
import inspect
import logging
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from typing import Any
from urllib.parse import quote, unquote_to_bytes, urlsplit

from starlette.requests import ClientDisconnect, Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import compile_path
from starlette.types import Receive, Scope, Send

from cardgen.server import sessions
from cardgen.server.bodies import read_body, read_form
from cardgen.server.faults import DataFault
from cardgen.server.files import Files
from cardgen.server.frame import refused
from cardgen.server.jobs import Jobs
from cardgen.server.store import Store
from cardgen.server.trail import network_of
from cardgen.server.visit import JSON, LOGIN, Page, Refusal, Visit
from cardgen.server.words import words_for
from cardgen.words import Words

# Sent with every answer; a page of the record has a stricter policy of its own.
_HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Content-Security-Policy": "default-src 'none'; frame-ancestors 'none'",
    # Without it, a form that a page of ours sends would hide that it is ours.
    "Referrer-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=(), payment=(), usb=()",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "X-Robots-Tag": "noindex, nofollow, noarchive",
    "Cache-Control": "no-store",
}
_THREADS = 8
_log = logging.getLogger("cardgen.server")


class Gate:
    """The server as an ASGI application.

    Attributes:
        pages: what it answers beside the files of the record; all others are files.
    """

    def __init__(
        self, files: Files, jobs: Jobs, store: Store, pages: Sequence[Page], *, secure: bool
    ) -> None:
        self.files, self.jobs, self.store, self.secure = files, jobs, store, secure
        self.pages = tuple((compile_path(page.path)[0], page) for page in pages)
        # Threads of their own: while the data file keeps these waiting, files are still sent.
        self._hands = ThreadPoolExecutor(_THREADS, "data")

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request; nothing but HTTP is spoken here."""
        if scope["type"] == "lifespan":
            await self._live(receive, send)
            return
        if scope["type"] != "http":
            await send({"type": "websocket.close", "code": 1002})
            return
        request = Request(scope, receive)
        try:
            response = await self._answered(request)
        except ClientDisconnect:
            return
        for name, value in _HEADERS.items():
            response.headers.setdefault(name, value)
        await response(scope, receive, send)

    async def _live(self, receive: Receive, send: Send) -> None:
        while True:
            message = await receive()
            await send({"type": f"{message['type']}.complete"})
            if message["type"] == "lifespan.shutdown":
                self._hands.shutdown()
                return

    async def _answered(self, request: Request) -> Response:
        json, words = _wants_json(request), words_for(request.headers.get("accept-language", ""))
        reads = request.method in ("GET", "HEAD")
        try:
            return await self._passed(request, words, json=json)
        except Refusal as refusal:
            return refused(refusal, words, json=json)
        except DataFault as fault:
            _log.error("the data file: %s; %s", fault.sentence, fault.help)
            return refused(_of_data(fault, words, reads=reads), words, json=json)
        except ClientDisconnect:
            raise
        except Exception:  # noqa: BLE001  # our bug must not end the server
            _log.exception("a mistake of cardgen at %s", request.scope["path"])
            return refused(Refusal(500, "bug"), words, json=json)

    async def _passed(self, request: Request, words: Words, *, json: bool) -> Response:
        path = _decoded(request)
        if not await asyncio.to_thread(self.jobs.are_whole, path):
            raise Refusal(503, "exchanged", headers={"Retry-After": "5"})
        found = [(match, page) for way, page in self.pages if (match := way.match(path))]
        if not found:
            if request.method not in ("GET", "HEAD"):
                raise Refusal(405, "method", headers={"Allow": "GET, HEAD"})
            return await asyncio.to_thread(self.files.answer, request, path)
        method = "GET" if request.method == "HEAD" else request.method
        fits = [(match, page) for match, page in found if page.method == method]
        if not fits:
            allowed = {name for _, page in found for name in _methods(page)}
            raise Refusal(405, "method", headers={"Allow": ", ".join(sorted(allowed))})
        match, page = fits[0]
        visit = await self._visit(request, path, match.groupdict(), words, json=json)
        if not page.open and not visit.crew:
            return _to_login(visit, request)
        if page.method == "POST":
            visit = await self._received(request, page, visit)
        if inspect.iscoroutinefunction(page.answer):
            response: Response = await page.answer(visit)
        else:
            response = await self._by_hand(page.answer, visit)
        return response

    async def _by_hand(self, work: Callable[..., Any], *arguments: object) -> Any:
        return await asyncio.get_running_loop().run_in_executor(self._hands, work, *arguments)

    async def _visit(
        self, request: Request, path: str, values: dict[str, str], words: Words, *, json: bool
    ) -> Visit:
        cookies = request.cookies
        name = sessions.cookie(sessions.SESSION, secure=self.secure)
        text = cookies.get(name, "")
        session = await self._by_hand(sessions.session_of, self.store, text) if text else None
        visitor = cookies.get(sessions.cookie(sessions.VISITOR, secure=self.secure), "")
        holder = session.key if session else visitor
        token = sessions.token_for(self.store, holder) if holder else ""
        return Visit(
            store=self.store,
            jobs=self.jobs,
            session=session,
            crew=session.crew if session else "",
            token=token,
            path=path,
            values=values,
            query=dict(request.query_params),
            network=network_of(request.client.host if request.client else ""),
            json=json,
            secure=self.secure,
            words=words,
            cookies=cookies,
        )

    async def _received(self, request: Request, page: Page, visit: Visit) -> Visit:
        """The visit with what was sent, if it was sent from one of our pages."""
        _refuse_other_sites(request)
        media = request.headers.get("content-type", "").partition(";")[0].strip().lower()
        if media not in page.kinds:
            raise Refusal(415, "kind", headers={"Accept-Post": ", ".join(page.kinds)})
        body = await read_body(request, page.size)
        form, files = await read_form(request, media, body)
        token = request.headers.get("x-token") or form.get("token", "")
        name = sessions.cookie(sessions.VISITOR, secure=self.secure)
        holder = visit.session.key if visit.session else visit.cookies.get(name, "")
        if not sessions.is_token(self.store, token, holder):
            raise Refusal(403, "forged")
        return replace(visit, media=media, body=body, form=form, files=files)


def _of_data(fault: DataFault, words: Words, *, reads: bool) -> Refusal:
    """What a crew is told of it; the office reads the rest where the server runs."""
    told = {"fault": words(f"data fault.{fault.kind}")}
    told["way_out"] = words(f"data fault.{fault.kind} help")
    return Refusal(
        503, "not shown" if reads else "not stored", headers={"Retry-After": "10"}, **told
    )


def _methods(page: Page) -> tuple[str, ...]:
    return ("GET", "HEAD") if page.method == "GET" else (page.method,)


def _decoded(request: Request) -> str:
    """The path as a person means it; decoded once, so that nothing can be hidden in a second one.

    Raises:
        Refusal: if it is no path, or not UTF-8.
    """
    raw: bytes = request.scope["raw_path"].partition(b"?")[0]
    try:
        path = unquote_to_bytes(raw).decode("utf-8")
    except UnicodeDecodeError as error:
        raise Refusal(400, "address") from error
    if not path.startswith("/") or "//" in path or "\\" in path or not path.isprintable():
        raise Refusal(400, "address")
    return path


def _refuse_other_sites(request: Request) -> None:
    """What browsers say about who sends: Fetch Metadata, else the origin (RFC 6454).

    Raises:
        Refusal: if it is not a page of this server.
    """
    site = request.headers.get("sec-fetch-site")
    if site is not None and site != "same-origin":
        raise Refusal(403, "forged")
    origin = request.headers.get("origin")
    if origin is not None and urlsplit(origin).netloc != request.headers.get("host", ""):
        raise Refusal(403, "forged")


def _wants_json(request: Request) -> bool:
    accepts = request.headers.get("accept", "")
    return JSON in accepts and "text/html" not in accepts


def _to_login(visit: Visit, request: Request) -> Response:
    if visit.json or request.method not in ("GET", "HEAD"):
        raise Refusal(401, "login")
    query = request.scope["query_string"].decode("latin-1")
    back = quote(visit.path) + (f"?{query}" if query else "")
    return RedirectResponse(f"{LOGIN}?to={quote(back)}", 303)
