"""Send the files of the finished record: those in its folder, none beside it, none hidden."""

from __future__ import annotations

import asyncio
import gzip
import hashlib
import posixpath
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path
from urllib.parse import quote

from starlette.datastructures import Headers
from starlette.requests import Request
from starlette.responses import Response
from starlette.staticfiles import StaticFiles
from starlette.types import Receive, Scope, Send

from cardgen.record.names import INDEX
from cardgen.record.policy import policy_of
from cardgen.server.http_error import HttpError
from cardgen.server.whole_record import only_whole

# What a record is made of, and what a folder of it may hold beside.
_MEDIA = {
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".json": "application/json",
    ".webmanifest": "application/manifest+json",
    ".txt": "text/plain; charset=utf-8",
    ".csv": "text/csv; charset=utf-8",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".jpg": "image/jpeg",
    ".webp": "image/webp",
    ".ico": "image/x-icon",
    ".pdf": "application/pdf",
    ".woff2": "font/woff2",
}
_PACKED = ("text/", "application/json", "application/manifest+json", "image/svg+xml")
# A page brings the digests of its own style and scripts; the header repeats them, and forbids
# frames, which the page itself cannot.
_POLICY = "default-src 'none'; base-uri 'none'; form-action 'none'"
# A worker is under the policy of its own header: it fetches the record's pages, nothing else.
_WORKER_POLICY = "default-src 'none'; connect-src 'self'"
_NO_FRAMES = "; frame-ancestors 'none'"


class ServedFiles:
    """The files of one folder, as an application of their own.

    Attributes:
        live: what is sent in the place of the file at a path in an address; None for the file.
    """

    def __init__(self, folder: Path, live: Callable[[str], bytes | None] = lambda _: None) -> None:
        self._folder, self.live = folder, live
        self._static = StaticFiles(directory=folder, check_dir=False)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Send the file of a path, or the way to it."""
        request = Request(scope)
        if request.method not in ("GET", "HEAD"):
            raise HttpError(405, "method", headers={"Allow": "GET, HEAD"})
        await only_whole(request)
        response = await asyncio.to_thread(self._response, scope["path"], request.headers)
        await response(scope, receive, send)

    def _response(self, path: str, asked: Headers) -> Response:
        real = self.find(path)
        if real.is_dir() and not path.endswith("/"):
            # From the path alone: a whole URL would hold what the sender calls this host.
            return Response(status_code=308, headers={"Location": f"{quote(path)}/"})
        if path.endswith("/"):
            path += INDEX
            real = self.find(path)
        if not real.is_file():  # a pipe would never answer
            raise HttpError(404, "not here")
        data = self.live(path)
        try:
            data = real.read_bytes() if data is None else data
        except OSError as error:
            raise HttpError(404, "not here") from error
        media = _MEDIA.get(real.suffix.lower(), "application/octet-stream")
        return self._sent(data, media, asked)

    def find(self, path: str) -> Path:
        """Where the file or folder of a decoded path truly lies.

        Raises:
            HttpError: if it is not in the folder, or if it or a folder around it is hidden.
        """
        # A page has one address: from another, by '//' or '..', its own links would lead astray.
        if posixpath.normpath(path) != (path.rstrip("/") or "/"):
            raise HttpError(404, "not here")
        try:
            real = Path(self._static.lookup_path(path[1:])[0])  # empty for what is not there
            below = real.relative_to(self._folder.resolve())
        except (OSError, ValueError) as error:  # too long a name, a loop of links, a zero
            raise HttpError(404, "not here") from error
        if any(part.startswith(".") for part in below.parts):
            raise HttpError(404, "not here")
        return real

    def _sent(self, data: bytes, media: str, asked: Headers) -> Response:
        packed = media.startswith(_PACKED) and "gzip" in asked.get("accept-encoding", "")
        digest = hashlib.sha256(data).hexdigest()[:32]
        headers = {
            "ETag": f'"{digest}{"-gz" if packed else ""}"',
            "Cache-Control": "no-cache",
            "Vary": "Accept-Encoding",
            "Content-Security-Policy": _policy(data, media),
            "Referrer-Policy": "no-referrer",
        }
        if self._static.is_not_modified(Headers(headers), asked):
            return Response(status_code=304, headers=headers)
        if packed:
            headers["Content-Encoding"], data = "gzip", _gzipped(data)
        return Response(data, headers={**headers, "Content-Type": media})


def _policy(data: bytes, media: str) -> str:
    if media.startswith("text/javascript"):
        return _WORKER_POLICY + _NO_FRAMES
    own = policy_of(data) if media.startswith("text/html") else ""
    return (own or _POLICY) + _NO_FRAMES


@lru_cache(maxsize=256)
def _gzipped(data: bytes) -> bytes:
    return gzip.compress(data, 6, mtime=0)
