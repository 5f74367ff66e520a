"""Tell browsers to be strict with us, and know a form of ours from one that another site sends."""

from __future__ import annotations

from collections.abc import Mapping
from urllib.parse import urlsplit

from starlette.datastructures import MutableHeaders
from starlette.requests import Request
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from cardgen.server import sessions
from cardgen.server.request_context import RequestContext

# Sent with every answer; a page of the record has a stricter policy of its own.
HEADERS = {
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

# RFC 6797: a browser that came by https once comes by nothing else for a year (our choice).  Only
# for this host, for others of the domain may be another's.
_ONLY_TLS = "max-age=31536000"


def add_security_headers(headers: MutableHeaders, *, secure: bool) -> None:
    """Those that the answer does not have already; `secure` where browsers come by https."""
    if secure:
        headers.setdefault("Strict-Transport-Security", _ONLY_TLS)
    for name, value in HEADERS.items():
        headers.setdefault(name, value)


class SecurityHeaders:
    """The middleware that adds them."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        async def strict(message: Message) -> None:
            if message["type"] == "http.response.start":
                secure = bool(scope["app"].state.secure)
                add_security_headers(MutableHeaders(scope=message), secure=secure)
            await send(message)

        await self.app(scope, receive, strict)


def is_from_here(request: Request) -> bool:
    """What browsers say about who sends: Fetch Metadata, and the origin (RFC 6454)."""
    site, origin = request.headers.get("sec-fetch-site"), request.headers.get("origin")
    if site is not None and site != "same-origin":
        return False
    return origin is None or urlsplit(origin).netloc == request.headers.get("host", "")


def is_own_form(context: RequestContext, form: Mapping[str, str]) -> bool:
    """Whether it was made for whoever sends it."""
    token = context.request.headers.get("x-token") or form.get("token", "")
    return sessions.is_token(context.store, token, context.holder)
