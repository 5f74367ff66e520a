"""What a print page says of cards that hang: the button for it, the way to the next revision."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping

from starlette.responses import RedirectResponse, Response

from cardgen.cards import Printable
from cardgen.desk.desk_routing import DeskRequest
from cardgen.desk.desk_shell import job_address
from cardgen.desk.open_job import OpenJob
from cardgen.desk.print_choices import tag_stocks
from cardgen.desk.print_form import stock_fields
from cardgen.desk.stock_pictures import first_card
from cardgen.editing import Put
from cardgen.memory.prints import PrintLog
from cardgen.output.hung_marks import SinceHung, mark_hung, since_hung
from cardgen.problems import UserError
from cardgen.record.html import Markup, element
from cardgen.words import Words


def hang(request: DeskRequest) -> Response:
    """A person says that a revision hangs, or that it does not."""
    name, fields = request.values["name"], dict(request.fields)
    revision = fields.get("revision", "")
    if not (revision.isascii() and revision.isdigit()):
        raise UserError(f"'{revision}' is no revision", "go back to the page of the print")
    folder = request.jobs.folder.cards(name)
    mark_hung(folder, int(revision), hangs=fields.get("hangs") == "yes")
    return RedirectResponse(job_address(name, "print"), 303)


def raise_if_asked(job: OpenJob, fields: Mapping[str, str]) -> None:
    """To the next revision, dated today: a step in the file as any other.

    Raises:
        ChangedMeanwhile: if the file is not the one that the page has shown.
    """
    version, revision = fields.get("raise", ""), fields.get("next", "")
    if not version or not revision.isdecimal():
        return
    today = datetime.datetime.now().astimezone().date()
    values = {"revision": revision, "date": today.isoformat()}
    job.edit([Put(path=("job", key), value=value) for key, value in values.items()], version)


def hang_button(words: Words, name: str, revision: int, *, hangs: bool) -> Markup:
    """To say that it hangs, or, where that was pressed by mistake, that it does not."""
    fields = {"revision": str(revision), "hangs": "yes" if hangs else "no"}
    label = words("desk.hang" if hangs else "desk.hang not")
    return element(
        "form",
        *_hidden(fields),
        element("p", words("desk.hang why")) if hangs else None,
        element("button", label, type="submit", class_="quiet"),
        method="post",
        action=job_address(name, "hang"),
        class_="hang",
    )


class HangingPart:
    """What hangs of a job, as its print page shows it."""

    def __init__(
        self, request: DeskRequest, job: OpenJob, printable: Printable, log: PrintLog
    ) -> None:
        self._request, self._job = request, job
        self._words = words = request.words
        self._now, self._log = printable.asbuilt.revision, log
        self._since = since_hung(printable, log, words)

    @property
    def takes_all(self) -> bool:
        """Whether anything of this revision can be printed: not while it says else than hangs."""
        since = self._since
        return since is None or not since.changes or self._now != since.revision

    def mark(self) -> Markup | None:
        """The button for the newest print: that it hangs, or that it does not."""
        newest = max(self._log.revisions, default=None)
        if newest is None:
            return None
        is_hung = newest in self._log.hung
        return hang_button(self._words, self._job.name, newest, hangs=not is_hung)

    def changes(self) -> Iterator[Markup]:
        """What hangs, what the job says otherwise, and the way into the next revision."""
        since = self._since
        if since is None:
            return
        words = self._words
        yield element("p", words("desk.hanging", revision=since.revision), class_="must")
        if not since.changes:
            yield element("p", words("desk.nothing changed"))
            return
        down, replaced, up = since.changes.hung
        yield element("h2", words("desk.changed since", revision=since.revision))
        yield element("p", words("desk.changed counts", down=down, replaced=replaced, up=up))
        yield element("pre", since.told, class_="stale")
        yield self._print_changes(since)

    def _print_changes(self, since: SinceHung) -> Markup:
        words = self._words
        fields = {"since": str(since.revision)}
        label = words("desk.print changed", revision=since.revision)
        if self._now == since.revision:
            fields |= {"raise": self._job.show().version, "next": str(self._now + 1)}
            label = words("desk.raise and print", revision=self._now + 1)
        only = (element("input", type="hidden", name="only", value=word) for word in since.only)
        return element(
            "form",
            *_hidden(fields),
            *only,
            *stock_fields(self._request),
            first_card(words, tag_stocks()),
            element("button", label, type="submit"),
            method="post",
            action=job_address(self._job.name, "print"),
            class_="fields",
        )


def _hidden(fields: Mapping[str, str]) -> Iterator[Markup]:
    for name, value in fields.items():
        yield element("input", type="hidden", name=name, value=value)
