"""What a page of the server is, and what it is given: all of it checked before it is called."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TypeAlias

from starlette.responses import Response

from cardgen.server.jobs import Jobs
from cardgen.server.sessions import Session
from cardgen.server.store import Store
from cardgen.words import Words

FORM = "application/x-www-form-urlencoded"
PARTS = "multipart/form-data"
JSON = "application/json"
LOGIN = "/LOGIN_"
# Bytes that a page takes at most.
FORM_SIZE, TABLE_SIZE, PHOTO_SIZE = 64 * 1024, 2 * 1024 * 1024, 8 * 1024 * 1024
_EMPTY: Mapping[str, str] = MappingProxyType({})


class Refusal(Exception):
    """The request is answered with a page that says why nothing was done, and the way out.

    Attributes:
        name: of its three texts, `refusal.NAME`, with ` title` and ` help` behind it.
        values: what stands in those texts.
        headers: sent with it.
    """

    def __init__(
        self,
        status: int,
        name: str,
        *,
        headers: Mapping[str, str] = _EMPTY,
        **values: object,
    ) -> None:
        super().__init__(name)
        self.status, self.name, self.headers, self.values = status, name, headers, values


@dataclass(frozen=True, slots=True)
class Upload:
    """A file of a form; what its sender calls it and its kind is only a claim."""

    name: str
    media: str
    data: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Visit:
    """One request, after all checks.

    Attributes:
        crew: who is logged in; empty if nobody.
        token: stands in every form as the hidden field `token`, or as the header `X-Token`.
        path: as asked for, decoded, without the query.
        values: what the page's address holds at its `{names}`.
        form: the fields of a form; the last one where a name stands twice.
        body: as sent, where it is no form.
        network: where from, as the trail keeps it.
        json: whether the answer is to be JSON.
        secure: whether the browser came by https.
        words: in the language of the browser.
    """

    store: Store
    jobs: Jobs
    session: Session | None
    crew: str
    token: str
    path: str
    values: Mapping[str, str]
    query: Mapping[str, str]
    network: str
    json: bool
    secure: bool
    words: Words
    cookies: Mapping[str, str]
    form: Mapping[str, str] = field(default_factory=dict)
    files: Mapping[str, Upload] = field(default_factory=dict)
    media: str = ""
    body: bytes = b""


Answer: TypeAlias = "Callable[[Visit], Response] | Callable[[Visit], Awaitable[Response]]"


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """An address that the server answers beside the files of the record.

    Attributes:
        path: as `/{job:path}/READINGS_/{box}`; a name of ours ends in '_', as no box does.
        answer: a plain function runs in a thread of its own and may use the store; one that is
            `async` must not wait for it.
        open: whether it is for everybody; else only for a crew that is logged in.
        kinds: what a POST may be.
        size: bytes of a POST at most.
    """

    path: str
    answer: Answer
    method: str = "GET"
    open: bool = False
    kinds: tuple[str, ...] = (FORM,)
    size: int = FORM_SIZE
