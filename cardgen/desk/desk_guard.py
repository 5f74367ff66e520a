"""Let in only the browser that was given the address: this machine, this port, this token."""

from __future__ import annotations

import hmac
from http.cookies import CookieError, SimpleCookie
from urllib.parse import urlsplit

from starlette.datastructures import MutableHeaders
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from cardgen.server.accept_language import words_for
from cardgen.server.security import HEADERS

OPEN = "/open/"  # TOKEN follows, once; then the cookie
_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
_READING = ("GET", "HEAD")


def add_strict_headers(headers: MutableHeaders) -> None:
    """Those that the answer does not have already."""
    for name, value in {**HEADERS, "Content-Security-Policy": _POLICY}.items():
        headers.setdefault(name, value)


class DeskGuard:
    """The middleware that asks for the token before anything else, and sends strict headers.

    A page elsewhere can make a browser send requests to this machine, under a name of its own that
    leads here, too: so the host, the origin and the token must all be ours.
    """

    def __init__(self, app: ASGIApp, *, token: str, port: int) -> None:
        self.app, self.token = app, token
        # Cookies know no ports: two desks would take each other's away.
        self.cookie = f"cardgen-desk-{port}"
        self.hosts = (f"127.0.0.1:{port}", f"localhost:{port}")

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def strict(message: Message) -> None:
            if message["type"] == "http.response.start":
                add_strict_headers(MutableHeaders(scope=message))
            await send(message)

        answer = self._refusal(Request(scope))
        await (answer or self.app)(scope, receive, strict)

    def _refusal(self, request: Request) -> Response | None:
        """What is answered instead; None to let it in."""
        host, path = request.headers.get("host", ""), request.scope["path"]
        if host not in self.hosts:
            return _told(request, 421, "address")
        if path.startswith(OPEN) and request.method in _READING:
            return self._opened(request, path.removeprefix(OPEN))
        if not self._is_token(self._cookie_of(request)):
            return _told(request, 403, "open")
        if request.method not in _READING and not _is_own(request, host):
            return _told(request, 403, "origin")
        return None

    def _opened(self, request: Request, token: str) -> Response:
        if not self._is_token(token):
            return _told(request, 403, "again")
        response = RedirectResponse("/", 303)
        response.set_cookie(self.cookie, self.token, httponly=True, samesite="strict", path="/")
        return response

    def _cookie_of(self, request: Request) -> str:
        try:
            cookies = SimpleCookie(request.headers.get("cookie", ""))
        except CookieError:
            return ""
        return cookies[self.cookie].value if self.cookie in cookies else ""

    def _is_token(self, told: str) -> bool:
        return hmac.compare_digest(told.encode(), self.token.encode())


def _is_own(request: Request, host: str) -> bool:
    """Sent by a script or form of ours: browsers name the origin of whatever changes something."""
    origin = urlsplit(request.headers.get("origin", ""))
    site = request.headers.get("sec-fetch-site", "same-origin")
    return (origin.scheme, origin.netloc, site) == ("http", host, "same-origin")


def _told(request: Request, status: int, key: str) -> Response:
    words = words_for(request.headers.get("accept-language", ""))
    sentence = words(f"desk.guard {key}").printed
    return Response(f"{sentence}\n", status, media_type="text/plain")
