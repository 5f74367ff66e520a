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
from cardgen.server.page_shell import document, field, form
from cardgen.server.trail import note
from cardgen.server.turnstile import Turnstile, Wait
from cardgen.server.visit import LOGIN, Page, Refusal, Visit

LOGOUT = "/LOGOUT_"
# A path of this server: '//' or a backslash would lead a browser to another one.
_OWN_PATH = re.compile(r"/(?!/)[^\\\s\x00-\x20\x7f]*")


class Login:
    """Logging in and out."""

    def __init__(self, turnstile: Turnstile) -> None:
        self._turnstile = turnstile
        # One thread for each lane of the turnstile: the slow hash never takes more than both.
        self._hashing = ThreadPoolExecutor(2, "pins")
        self._nobody = pins.hashed(secrets.token_urlsafe())

    def pages(self) -> tuple[Page, ...]:
        """The addresses of logging in and out."""
        return (
            Page(path=LOGIN, answer=self.show, open=True),
            Page(path=LOGIN, answer=self.log_in, open=True, method="POST"),
            Page(path=LOGOUT, answer=self.log_out, method="POST"),
        )

    def show(self, visit: Visit) -> Response:
        """The form; with a session, who is logged in.  As JSON, what a script needs to send."""
        visitor = ""
        if not visit.token:
            visitor = secrets.token_urlsafe(16)
            visit = replace(visit, token=sessions.token_for(visit.store, visitor))
        if visit.json:
            response: Response = JSONResponse({"crew": visit.crew, "token": visit.token})
        elif visit.crew:
            response = _logged_in(visit)
        else:
            response = _form(visit, _target(visit.query.get("to", "")))
        if visitor:
            _set(response, visit, sessions.VISITOR, visitor, sessions.LASTS)
        return response

    async def log_in(self, visit: Visit) -> Response:
        """Try a PIN when it is one's turn."""
        loop = asyncio.get_running_loop()
        name, pin = visit.form.get("crew", ""), visit.form.get("pin", "")
        device = _device(visit, name)
        try:
            async with self._turnstile.turn(visit.network, device):
                known = await loop.run_in_executor(self._hashing, self._tried, visit, name, pin)
        except Wait as wait:
            headers = {"Retry-After": str(wait.seconds)}
            raise Refusal(429, "wait", headers=headers, seconds=wait.seconds) from wait
        if known is None:
            self._turnstile.failed(visit.network, device)
            return _refused(visit)
        self._turnstile.passed(device)
        return _welcome(visit, *known)

    def _tried(self, visit: Visit, name: str, pin: str) -> tuple[str, str, str] | None:
        """The crew, and the cookies of its session and phone; None if the PIN is not its own.

        It takes as long where there is no such crew.
        """
        crew = pins.crew_of(visit.store, name)
        right = pins.matches(pin[: pins.MOST + 1], crew.pin if crew else self._nobody)
        if crew is None or not right:
            with visit.store.writing() as connection:
                who = crew.name if crew else ""
                note(connection, visit.store.now(), who, "wrong pin", "", visit.network)
            return None
        if visit.session is not None:
            sessions.end(visit.store, visit.session, network=visit.network)
        session = sessions.begin(visit.store, crew.name, crew.version, network=visit.network)
        device = [crew.name, secrets.token_urlsafe(16)]
        return crew.name, session, sessions.signed(visit.store, sessions.DEVICE, device)

    def log_out(self, visit: Visit) -> Response:
        """End the session, here and for whoever has a copy of the cookie."""
        assert visit.session is not None  # the page is for crews
        sessions.end(visit.store, visit.session, network=visit.network)
        response: Response = RedirectResponse(LOGIN, 303)
        if visit.json:
            response = JSONResponse({"crew": ""})
        _set(response, visit, sessions.SESSION, "", 0)
        return response


def _device(visit: Visit, name: str) -> str:
    """The phone, if that crew has logged in with it before."""
    text = visit.cookies.get(sessions.cookie(sessions.DEVICE, secure=visit.secure), "")
    known = sessions.unsigned(visit.store, sessions.DEVICE, text) if text else None
    if not isinstance(known, list) or len(known) != 2:
        return ""
    return str(known[1]) if str(known[0]).casefold() == name.strip().casefold() else ""


def _target(to: str) -> str:
    return to if _OWN_PATH.fullmatch(to) else LOGIN


def _set(response: Response, visit: Visit, name: str, value: str, lasts: int) -> None:
    response.set_cookie(
        sessions.cookie(name, secure=visit.secure),
        value,
        max_age=lasts,
        path="/",
        secure=visit.secure,
        httponly=True,
        samesite="strict",
    )


def _welcome(visit: Visit, crew: str, session: str, device: str) -> Response:
    if visit.json:
        response: Response = JSONResponse({"crew": crew})
    else:
        response = RedirectResponse(_target(visit.form.get("to", "")), 303)
    _set(response, visit, sessions.SESSION, session, sessions.LASTS)
    _set(response, visit, sessions.DEVICE, device, sessions.DEVICE_LASTS)
    return response


def _refused(visit: Visit) -> Response:
    if visit.json:
        told = {"error": "wrong pin", "sentence": visit.words("server.wrong pin")}
        return JSONResponse(told, 403)
    return _form(visit, _target(visit.form.get("to", "")), wrong=True)


def _form(visit: Visit, to: str, *, wrong: bool = False) -> Response:
    words, alert = visit.words, None
    if wrong:
        alert = element("p", words("server.wrong pin"), class_="alert", role="alert")
    crew = field(
        words("server.crew"),
        "crew",
        value=visit.form.get("crew", ""),
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
        form(visit, LOGIN, hidden, crew, pin, button),
        element("p", words("server.no pin yet"), class_="small"),
        status=403 if wrong else 200,
    )


def _logged_in(visit: Visit) -> Response:
    jobs = [link(f"{job.now.site} {job.now.job}", f"/{job.path}/") for job in visit.jobs]
    title = visit.words("server.logged in", crew=visit.crew)
    out = form(visit, LOGOUT, element("button", visit.words("server.log out"), class_="quiet"))
    return document(visit.words, title, element("h1", title), ul(jobs), out)
