"""What a page of one job is told: the job, the words for its reader, and links to other pages."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import urlencode

from cardgen.asbuilt import AsBuilt, BuiltValve
from cardgen.record import PageWords, names
from cardgen.server.accept_language import words_in
from cardgen.server.http_error import HttpError
from cardgen.server.jobs import ServedJob
from cardgen.server.request_context import RequestContext
from cardgen.words import Words, languages


@dataclass(frozen=True, slots=True, kw_only=True)
class JobContext:
    """Attributes:
    words: of one language.
    root: from the page to the job's folder.
    language: of the pages where it was asked for; empty where it is the reader's own.
    pages: from the job's folder to that of the record's pages in this language.
    """

    job: ServedJob
    words: Words
    root: str = ""
    language: str = ""
    pages: str = ""

    @property
    def now(self) -> AsBuilt:
        return self.job.now

    @property
    def page_words(self) -> PageWords:
        """As the record's own pages take them."""
        return PageWords(self.words)

    def to(self, name: str, **query: str) -> str:
        """A link to a page of the crews, in the same language."""
        said = {key: value for key, value in (*query.items(), ("language", self.language)) if value}
        return f"{self.root}{name}{'?' if said else ''}{urlencode(said)}"

    def to_place(self, place: str) -> str:
        """A link to the record's page of a box or controller; of the job if none is named."""
        return f"{self.root}{self.pages}{names.page(names.box_folder(place) if place else '')}"

    def text(self, name: str, **values: object) -> str:
        """The text `entries.NAME` of the catalogue."""
        return self.words(f"entries.{name}", **values).printed


def job_context(request: RequestContext) -> JobContext:
    """The job of the request's address; in the language it names, else in the reader's own.

    Raises:
        HttpError: if there is no such job.
    """
    job = request.jobs.at(request.values["job"])
    if job is None:
        raise HttpError(404, "not here")
    language = request.query.get("language", "")
    if language not in languages():
        return JobContext(job=job, words=request.words)
    folder = names.language_folder(language)
    has_own = (request.jobs.folder / job.path / folder).is_dir()
    pages = f"{folder}/" if has_own else ""
    return JobContext(job=job, words=words_in(language), language=language, pages=pages)


# ---- places of a job -----------------------------------------------------------------------


def valves_at(now: AsBuilt, place: str) -> tuple[BuiltValve, ...]:
    """Those in a box, or all of a controller; of the whole job where no place is named."""
    if place in now.box:
        return now.box[place].valves
    return tuple(valve for valve in now.valves if place in ("", valve.controller))


def is_place(now: AsBuilt, place: str) -> bool:
    """A box or a controller."""
    return place in now.box or any(each.id == place for each in now.controllers)


def last_valve(job: ServedJob, valve: str) -> BuiltValve | None:
    """The valve as the newest revision that has it says; an entry may come in late."""
    for revision in reversed(job.revisions):
        if valve in revision.valve:
            return revision.valve[valve]
    return None
