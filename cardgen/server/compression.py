"""Send the pages of crews in fewer bytes: a form with all valves of a job is long.

They hold a token, and what was typed.  Who could read the length of many answers to requests of his
own choice might guess it from that, but no other site's request brings the session (SameSite
strict), so none is answered with a token.
"""

from __future__ import annotations

import gzip

from starlette.requests import Request
from starlette.responses import Response, StreamingResponse

_LEAST_BYTES = 1000  # below it there is nothing to win; our choice
_LEVEL = 6  # of gzip; our choice
_TEXTS = ("text/html", "text/csv", "application/json")


def compress(request: Request, response: Response) -> None:
    """In place, where the browser takes it and it is text that is there as a whole."""
    if isinstance(response, StreamingResponse) or len(response.body) < _LEAST_BYTES:
        return
    media = response.headers.get("content-type", "")
    if not media.startswith(_TEXTS) or "content-encoding" in response.headers:
        return
    response.headers.append("Vary", "Accept-Encoding")
    if "gzip" in request.headers.get("accept-encoding", ""):
        response.body = gzip.compress(response.body, _LEVEL, mtime=0)
        response.headers["Content-Encoding"] = "gzip"
        response.headers["Content-Length"] = str(len(response.body))
