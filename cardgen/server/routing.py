"""The way from an address to its page, which is for crews only unless it says that it is open."""

from __future__ import annotations

import inspect
from collections.abc import Awaitable, Callable
from dataclasses import replace
from typing import TypeAlias
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route

from cardgen.server.compression import compress
from cardgen.server.http_error import HttpError
from cardgen.server.request_body import FORM, FORM_BYTES, read_body, read_form
from cardgen.server.request_context import DATA, LOGIN, RequestContext, in_thread, request_context
from cardgen.server.security import is_from_here, is_own_form
from cardgen.server.whole_record import only_whole

PageFunction: TypeAlias = "Callable[[RequestContext], Response | Awaitable[Response]]"


class PageRoute(Route):
    """An address that the server answers beside the files of the record.

    Attributes:
        page: a plain function runs in a thread of its own and may use the store; one that is
            `async` must not wait for it.
        open: whether it is for everybody; else only for a crew that is logged in.
        media: what a POST may be.
        max_bytes: of a POST.
        threads: which ones make the page: those of the data, or those of large tables.
    """

    def __init__(
        self,
        path: str,
        page: PageFunction,
        *,
        method: str = "GET",
        open: bool = False,  # noqa: A002  # the word for it
        media: tuple[str, ...] = (FORM,),
        max_bytes: int = FORM_BYTES,
        threads: str = DATA,
    ) -> None:
        """`path` as `/{job:path}/READINGS_`; a name of ours ends in '_', as no box does."""
        super().__init__(path, self._respond, methods=[method])
        self.page, self.open, self.media, self.max_bytes = page, open, media, max_bytes
        self.threads = threads

    async def _respond(self, request: Request) -> Response:
        await only_whole(request)
        context = await request_context(request)
        if not self.open and not context.crew:
            return _to_login(context)
        if request.method == "POST":
            context = await self._received(context)
        if inspect.iscoroutinefunction(self.page):
            response = await self.page(context)
        else:
            response = await in_thread(request, self.threads, self._made, context)
        assert isinstance(response, Response)
        return response

    def _made(self, context: RequestContext) -> Response:
        response = self.page(context)
        assert isinstance(response, Response)
        compress(context.request, response)
        return response

    async def _received(self, context: RequestContext) -> RequestContext:
        """With what was sent, if it was sent from one of our pages."""
        request = context.request
        if not is_from_here(request):
            raise HttpError(403, "forged")
        media = request.headers.get("content-type", "").partition(";")[0].strip().lower()
        if media not in self.media:
            raise HttpError(415, "kind", headers={"Accept-Post": ", ".join(self.media)})
        body = await read_body(request, self.max_bytes)
        form, files = read_form(request.headers.get("content-type", ""), body)
        if not is_own_form(context, form):
            raise HttpError(403, "forged")
        return replace(context, body=body, form=form, files=files)


def _to_login(context: RequestContext) -> Response:
    request = context.request
    if context.json or request.method not in ("GET", "HEAD"):
        raise HttpError(401, "login")
    query = request.scope["query_string"].decode("latin-1")
    back = quote(context.path) + (f"?{query}" if query else "")
    return RedirectResponse(f"{LOGIN}?to={quote(back)}", 303)
