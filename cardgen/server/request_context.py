"""What a page is told of the request that it answers: who asks, how, and what was sent."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TypeVar, TypeVarTuple

from starlette.requests import Request

from cardgen.server import sessions
from cardgen.server.accept_language import words_for
from cardgen.server.audit_trail import network_of
from cardgen.server.jobs import ServedJobs
from cardgen.server.request_body import Upload
from cardgen.server.sessions import Session
from cardgen.server.store import Store
from cardgen.words import Words

LOGIN, LOGOUT = "/LOGIN_", "/LOGOUT_"
JSON = "application/json"
# Large tables have a thread of their own: however many are sent, entries do not wait for them.
DATA, TABLES = "data_threads", "table_threads"
_Given = TypeVarTuple("_Given")
_Got = TypeVar("_Got")


@dataclass(frozen=True, slots=True, kw_only=True)
class RequestContext:
    """One request, after all checks.

    Attributes:
        session: of the crew that is logged in; None if nobody is.
        visitor: names a phone that is not logged in, so that its forms can be known again.
        form: the fields of a form; the last one where a name stands twice.
        body: as sent.
    """

    request: Request
    session: Session | None = None
    visitor: str = ""
    form: Mapping[str, str] = field(default_factory=dict)
    files: Mapping[str, Upload] = field(default_factory=dict)
    body: bytes = b""

    @property
    def store(self) -> Store:
        found: Store = self.request.app.state.store
        return found

    @property
    def jobs(self) -> ServedJobs:
        found: ServedJobs = self.request.app.state.jobs
        return found

    @property
    def secure(self) -> bool:
        """Whether browsers come by https, so that cookies go no other way."""
        return bool(self.request.app.state.secure)

    @property
    def crew(self) -> str:
        """Who is logged in; empty if nobody."""
        return self.session.crew if self.session else ""

    @property
    def is_office(self) -> bool:
        """Whether it may also withdraw what others entered, close reports, and take all out."""
        return bool(self.session and self.session.office)

    @property
    def holder(self) -> str:
        """Whom a form is made for."""
        return self.session.key if self.session else self.visitor

    @property
    def token(self) -> str:
        """Stands in every form as the hidden field `token`, or as the header `X-Token`."""
        return sessions.token_for(self.store, self.holder) if self.holder else ""

    @property
    def path(self) -> str:
        """As asked for, decoded, without the query."""
        return str(self.request.scope["path"])

    @property
    def values(self) -> Mapping[str, str]:
        """What the page's address holds at its `{names}`."""
        return self.request.path_params

    @property
    def query(self) -> Mapping[str, str]:
        return self.request.query_params

    @property
    def network(self) -> str:
        """Where from, as the audit trail keeps it."""
        return network_of(self.request.client.host if self.request.client else "")

    @property
    def json(self) -> bool:
        return wants_json(self.request)

    @property
    def words(self) -> Words:
        """In the language of the browser."""
        return words_of(self.request)

    def cookie(self, name: str) -> str:
        return self.request.cookies.get(sessions.cookie(name, secure=self.secure), "")


async def request_context(request: Request) -> RequestContext:
    """Who asks, as the cookies say."""
    known = RequestContext(request=request)
    cookie, session = known.cookie(sessions.SESSION), None
    if cookie:
        session = await in_thread(request, DATA, sessions.session_of, known.store, cookie)
    visitor = known.cookie(sessions.VISITOR)
    return RequestContext(request=request, session=session, visitor=visitor)


async def in_thread(
    request: Request, threads: str, work: Callable[[*_Given], _Got], *given: *_Given
) -> _Got:
    """Run what uses the store; while the data file keeps it waiting, other requests go on."""
    loop = asyncio.get_running_loop()
    return await loop.run_in_executor(getattr(request.state, threads), work, *given)


def wants_json(request: Request) -> bool:
    """Whether a script asks, not a person."""
    accepts = request.headers.get("accept", "")
    return JSON in accepts and "text/html" not in accepts


def words_of(request: Request) -> Words:
    return words_for(request.headers.get("accept-language", ""))
