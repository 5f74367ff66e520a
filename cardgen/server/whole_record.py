"""Show nothing of a record while its files are exchanged for those of another revision."""

from __future__ import annotations

import asyncio

from starlette.requests import Request

from cardgen.server.http_error import HttpError


async def only_whole(request: Request) -> None:
    """Go on when all that is published along the path is of one revision.

    Raises:
        HttpError: if it does not become so in time.
    """
    path = request.scope["path"]
    if not await asyncio.to_thread(request.app.state.jobs.are_whole, path):
        raise HttpError(503, "exchanged", headers={"Retry-After": "5"})
