"""The pages by which a crew logs in with its PIN, and out."""

from __future__ import annotations

import asyncio
import re
import secrets
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

from starlette.responses import JSONResponse, RedirectResponse, Response

from cardgen.record.html import element
from cardgen.record.page_frame import link, ul
from cardgen.server import pins, sessions
from cardgen.server.audit_trail import note
from cardgen.server.http_error import HttpError
from cardgen.server.page_shell import document, field, form
from cardgen.server.pin_attempts import Attempt, AttemptLimiter, TooManyAttempts
from cardgen.server.request_context import LOGIN, LOGOUT, RequestContext

# A path of this server: '//' or a backslash would lead a browser to another one.
_OWN_PATH = re.compile(r"/(?!/)[^\\\s\x00-\x20\x7f]*")


class Login:
    """Logging in and out."""

    def __init__(self, limiter: AttemptLimiter) -> None:
        self._limiter = limiter
        # The slow hash of strangers' PINs keeps no known phone waiting, nor the rest of the server.
        self._for_known = ThreadPoolExecutor(1, "known pins")
        self._for_strangers = ThreadPoolExecutor(1, "pins")
        self._nobody = pins.of_nobody()

    def show(self, request: RequestContext) -> Response:
        """The form; with a session, who is logged in.  As JSON, what a script needs to send."""
        visitor = ""
        if not request.holder:
            visitor = secrets.token_urlsafe(16)
            request = replace(request, visitor=visitor)
        if request.json:
            response: Response = JSONResponse({"crew": request.crew, "token": request.token})
        elif request.crew:
            response = _logged_in(request)
        else:
            response = _form(request, _target(request.query.get("to", "")))
        if visitor:
            _set(response, request, sessions.VISITOR, visitor, sessions.LASTS_S)
        return response

    async def log_in(self, request: RequestContext) -> Response:
        """Try a PIN when it is one's turn."""
        name, pin = request.form.get("crew", ""), request.form.get("pin", "")
        attempt = self._reserved(request, name)
        await asyncio.sleep(attempt.wait_s)
        threads = self._for_known if attempt.is_known else self._for_strangers
        loop = asyncio.get_running_loop()
        known = await loop.run_in_executor(threads, self._tried, request, name, pin)
        if known is None:
            return _refused(request)
        self._limiter.succeeded(attempt)
        return _welcome(request, *known)

    def _reserved(self, request: RequestContext, name: str) -> Attempt:
        crew = pins.folded(name)[: pins.NAME_MOST + 1]  # no crew has a longer one
        try:
            return self._limiter.reserve(request.network, crew, _known_phone(request, name))
        except TooManyAttempts as fault:
            headers = {"Retry-After": str(fault.seconds)}
            raise HttpError(429, "wait", headers=headers, seconds=fault.seconds) from fault

    def _tried(self, request: RequestContext, name: str, pin: str) -> tuple[str, str, str] | None:
        """The crew, and the cookies of its session and phone; None if the PIN is not its own.

        It takes as long where there is no such crew.
        """
        crew = pins.crew_of(request.store, name)
        right = pins.matches(pin[: pins.MOST + 1], crew.pin if crew else self._nobody)
        if crew is None or not right:
            with request.store.writing() as connection:
                who = crew.name if crew else ""
                note(connection, request.store.now(), who, "wrong pin", "", request.network)
            return None
        if request.session is not None:
            sessions.end(request.store, request.session, network=request.network)
        session = sessions.begin(request.store, crew.name, crew.version, network=request.network)
        device = [crew.name, secrets.token_urlsafe(16)]
        return crew.name, session, sessions.signed(request.store, sessions.DEVICE, device)

    def log_out(self, request: RequestContext) -> Response:
        """End the session, here and for whoever has a copy of the cookie."""
        assert request.session is not None  # the page is for crews
        sessions.end(request.store, request.session, network=request.network)
        response: Response = RedirectResponse(LOGIN, 303)
        if request.json:
            response = JSONResponse({"crew": ""})
        _set(response, request, sessions.SESSION, "", 0)
        return response


def _known_phone(request: RequestContext, name: str) -> str:
    """What names the phone, if that crew has logged in with it before."""
    text = request.cookie(sessions.DEVICE)
    known = sessions.unsigned(request.store, sessions.DEVICE, text) if text else None
    if not isinstance(known, list) or len(known) != 2:
        return ""
    return str(known[1]) if pins.folded(str(known[0])) == pins.folded(name) else ""


def _target(to: str) -> str:
    return to if _OWN_PATH.fullmatch(to) else LOGIN


def _set(response: Response, request: RequestContext, name: str, value: str, lasts_s: int) -> None:
    response.set_cookie(
        sessions.cookie(name, secure=request.secure),
        value,
        max_age=lasts_s,
        path="/",
        secure=request.secure,
        httponly=True,
        samesite="strict",
    )


def _welcome(request: RequestContext, crew: str, session: str, device: str) -> Response:
    if request.json:
        response: Response = JSONResponse({"crew": crew})
    else:
        response = RedirectResponse(_target(request.form.get("to", "")), 303)
    _set(response, request, sessions.SESSION, session, sessions.LASTS_S)
    _set(response, request, sessions.DEVICE, device, sessions.DEVICE_LASTS_S)
    return response


def _refused(request: RequestContext) -> Response:
    if request.json:
        told = {"error": "wrong pin", "sentence": request.words("server.wrong pin").printed}
        return JSONResponse(told, 403)
    return _form(request, _target(request.form.get("to", "")), wrong=True)


def _form(request: RequestContext, to: str, *, wrong: bool = False) -> Response:
    words, alert = request.words, None
    if wrong:
        alert = element("p", words("server.wrong pin"), class_="alert", role="alert")
    crew = field(
        words("server.crew"),
        "crew",
        value=request.form.get("crew", ""),
        autocomplete="username",
        autocapitalize="none",
        spellcheck="false",
        maxlength=str(pins.NAME_MOST),
        required=True,
    )
    pin = field(
        words("server.pin"),
        "pin",
        type="password",
        autocomplete="current-password",
        maxlength=str(pins.MOST),
        required=True,
    )
    button = element("button", words("server.log in"))
    hidden = element("input", type="hidden", name="to", value=to)
    return document(
        words,
        words("server.log in"),
        element("h1", words("server.log in")),
        element("p", words("server.who logs in")),
        alert,
        form(request, LOGIN, hidden, crew, pin, button),
        element("p", words("server.no pin yet"), class_="small"),
        status=403 if wrong else 200,
    )


def _logged_in(request: RequestContext) -> Response:
    jobs = [link(f"{job.now.site} {job.now.job_code}", f"/{job.path}/") for job in request.jobs]
    title = request.words("server.logged in", crew=request.crew)
    out = form(request, LOGOUT, element("button", request.words("server.log out"), class_="quiet"))
    return document(request.words, title, element("h1", title), ul(jobs), out)
