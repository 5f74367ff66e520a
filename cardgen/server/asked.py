"""Find what an address of the crews' pages is about: its job, and the words for its reader."""

from __future__ import annotations

from dataclasses import dataclass

from cardgen.record import PageWords
from cardgen.record.model import Revision, Valve
from cardgen.server.jobs import Job
from cardgen.server.visit import Refusal, Visit
from cardgen.server.words import words_in
from cardgen.words import Words, languages


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """Attributes:
    path: of the job's folder as it stands in addresses, with a slash before it.
    words: of one language.
    """

    job: Job
    path: str
    words: Words

    @property
    def now(self) -> Revision:
        return self.job.now

    @property
    def page_words(self) -> PageWords:
        """As the record's own pages take them."""
        return PageWords(self.words)

    def text(self, name: str, **values: object) -> str:
        """The text `entries.NAME` of the catalogue."""
        return str(self.words(f"entries.{name}", **values))


def asked(visit: Visit) -> Asked:
    """What the visit's address says; in the language it names, else in the reader's own.

    Raises:
        Refusal: if there is no such job.
    """
    job = visit.jobs.at(visit.values["job"])
    if job is None:
        raise Refusal(404, "not here")
    language = visit.query.get("language", "")
    words = words_in(language) if language in languages() else visit.words
    return Asked(job=job, path=f"/{visit.values['job']}", words=words)


# ---- places of a job -----------------------------------------------------------------------


def valves_at(now: Revision, place: str) -> tuple[Valve, ...]:
    """Those in a box, or all of a controller; of the whole job where no place is named."""
    if place in now.box:
        return now.box[place].valves
    return tuple(valve for valve in now.valves if place in ("", valve.controller))


def is_place(now: Revision, place: str) -> bool:
    """A box or a controller."""
    return place in now.box or any(each.id == place for each in now.controllers)


def last_valve(job: Job, valve: str) -> Valve | None:
    """The valve as the newest revision that has it says; an entry may come in late."""
    for revision in reversed(job.revisions):
        if valve in revision.valve:
            return revision.valve[valve]
    return None
