"""Turn every exception of a request into a page that says what went wrong, with the way out."""

from __future__ import annotations

import logging

from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect, Request
from starlette.responses import Response
from starlette.routing import Match, Route
from starlette.types import ExceptionHandler

from cardgen.server.data_faults import DataFault
from cardgen.server.http_error import HttpError
from cardgen.server.page_shell import refused
from cardgen.server.request_context import wants_json, words_of
from cardgen.server.security import add_security_headers

_log = logging.getLogger("cardgen.server")


async def error_page(request: Request, fault: Exception) -> Response:
    """The page, or the JSON for a script."""
    response = refused(_http_error(request, fault), words_of(request), json=wants_json(request))
    secure = bool(request.app.state.secure)
    add_security_headers(
        response.headers, secure=secure
    )  # a bug is answered outside of all middleware
    return response


HANDLERS: dict[type[Exception], ExceptionHandler] = dict.fromkeys(
    (HttpError, HTTPException, DataFault, ClientDisconnect, Exception), error_page
)


def _http_error(request: Request, fault: Exception) -> HttpError:
    match fault:
        case HttpError():
            return fault
        case HTTPException(status_code=405):
            return HttpError(405, "method", headers={"Allow": _allowed(request)})
        case HTTPException():
            return HttpError(404, "not here")
        case DataFault():
            return _of_data(request, fault)
        case ClientDisconnect():
            return HttpError(400, "unread")  # nobody is there to see it
    # The server that runs us notes where in the program it was.
    _log.error("a mistake of cardgen at %s", request.scope["path"])
    return HttpError(500, "bug")


def _allowed(request: Request) -> str:
    """The methods of all routes of an address; the framework names those of the first only."""
    routes = (route for route in request.app.routes if isinstance(route, Route))
    fitting = (route for route in routes if route.matches(request.scope)[0] is not Match.NONE)
    return ", ".join(sorted({method for route in fitting for method in route.methods or ()}))


def _of_data(request: Request, fault: DataFault) -> HttpError:
    """What a crew is told of it; the office reads the rest where the server runs."""
    _log.error("the data file: %s; %s", fault.sentence, fault.help)
    words, reads = words_of(request), request.method in ("GET", "HEAD")
    return HttpError(
        503,
        "not shown" if reads else "not stored",
        headers={"Retry-After": "10"},
        fault=words(f"data fault.{fault.kind}"),
        way_out=words(f"data fault.{fault.kind} help"),
    )
