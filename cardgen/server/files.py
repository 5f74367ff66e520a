"""Send the files of the finished record: those in its folder, none beside it, none hidden."""

from __future__ import annotations

import gzip
import hashlib
import os
import stat
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import Response

from cardgen.record.names import INDEX
from cardgen.record.policy import policy_of
from cardgen.server.visit import Refusal

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
_STRANGE = '\\:*?"<>|\0'  # no name of a record has them, and some system means something by each


@dataclass(frozen=True, slots=True)
class Found:
    """A file of the record."""

    data: bytes
    media: str
    tag: str


class Files:
    """The files of one folder.

    Attributes:
        live: what is sent in the place of the file at a path in an address; None for the file.
    """

    def __init__(self, folder: Path, live: Callable[[str], bytes | None] = lambda _: None) -> None:
        self.folder, self.live = folder, live

    def answer(self, request: Request, path: str) -> Response:
        """The file of a decoded path, or the way to it.

        Raises:
            Refusal: if there is none that may be seen.
        """
        try:
            return self._answer(request, path)
        except OSError as error:  # a name too long for this system is among them
            raise Refusal(404, "not here") from error

    def _answer(self, request: Request, path: str) -> Response:
        real = self._real(path)
        if real.is_dir() and not path.endswith("/"):
            # From the path alone: `request.url` holds what the sender calls this host.
            return Response(status_code=308, headers={"Location": f"{quote(path)}/"})
        if path.endswith("/"):
            path += INDEX
            real = self._real(path)
        published = _read(real)
        data = self.live(path)
        data = published if data is None else data
        return _response(request, Found(data, _media(real), _tag(data)))

    def _real(self, path: str) -> Path:
        """Where it truly lies, if that is inside, and nothing on the way is hidden."""
        parts = path.split("/")[1:]
        if parts[-1] == "":
            parts.pop()
        root = Path(os.path.realpath(self.folder))
        if any(_is_strange(part) for part in parts):
            raise Refusal(404, "not here")
        real = Path(os.path.realpath(root.joinpath(*parts)))
        if not real.is_relative_to(root):
            raise Refusal(404, "not here")
        if any(part.startswith(".") for part in real.relative_to(root).parts):
            raise Refusal(404, "not here")
        return real


def _is_strange(part: str) -> bool:
    """Empty, hidden, or with a sign that no name of a record has."""
    return (
        not part or part.startswith(".") or any(sign in '\\:*?"<>|' or sign < " " for sign in part)
    )


def _read(real: Path) -> bytes:
    # Between the look and the opening it may have become a link, or a pipe that never answers.
    handle = os.open(real, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK)
    with open(handle, "rb") as stream:  # noqa: PTH123  # only this opens a handle
        if not stat.S_ISREG(os.fstat(handle).st_mode):
            raise Refusal(404, "not here")
        return stream.read()


def _media(real: Path) -> str:
    return _MEDIA.get(real.suffix.lower(), "application/octet-stream")


def _tag(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()[:32]


def _response(request: Request, found: Found) -> Response:
    packed = found.media.startswith(_PACKED) and "gzip" in request.headers.get(
        "accept-encoding", ""
    )
    tag = f'"{found.tag}{"-gz" if packed else ""}"'
    headers = {
        "ETag": tag,
        "Cache-Control": "no-cache",
        "Vary": "Accept-Encoding",
        "Content-Security-Policy": _policy(found),
        "Referrer-Policy": "no-referrer",
    }
    asked = request.headers.get("if-none-match", "")
    if tag in (one.strip().removeprefix("W/") for one in asked.split(",")) or asked.strip() == "*":
        return Response(status_code=304, headers=headers)
    if packed:
        headers["Content-Encoding"] = "gzip"
    data = _gzipped(found.data) if packed else found.data
    return Response(data, headers={**headers, "Content-Type": found.media})


def _policy(found: Found) -> str:
    if found.media.startswith("text/javascript"):
        return _WORKER_POLICY + _NO_FRAMES
    if found.media.startswith("text/html"):
        return (policy_of(found.data) or _POLICY) + _NO_FRAMES
    return _POLICY + _NO_FRAMES


@lru_cache(maxsize=256)
def _gzipped(data: bytes) -> bytes:
    return gzip.compress(data, 6, mtime=0)
