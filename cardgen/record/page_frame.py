"""Set one page: head, policy, way around, contents, foot; everything it needs is inside it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from cardgen.asbuilt import AsBuilt, ConductorMark
from cardgen.record import names
from cardgen.record.html import Child, Markup, element, joined
from cardgen.record.judging import JudgedResults
from cardgen.record.page_assets import SAVED_COPY, STYLE
from cardgen.record.page_words import PageWords
from cardgen.record.policy import NAME, digests
from cardgen.record.slots import ServedParts
from cardgen.record.swatches import symbols


@dataclass(frozen=True, slots=True, kw_only=True)
class PageFrame:
    """What all pages of a record in one language share.

    Attributes:
        now: the newest revision published.
        all: every revision published, oldest first.
        languages: of all pages; the first lies at the printed addresses, another below it.
        results: what was measured, judged.
        saved: what the foot says of the copy on a phone, with #revision and #age in it.
        served: what a server adds to every page; None in the record as it is published.
    """

    now: AsBuilt
    all: tuple[AsBuilt, ...]
    words: PageWords
    languages: tuple[PageWords, ...]
    results: JudgedResults
    saved: str = ""
    served: ServedParts | None = None

    @property
    def stamp(self) -> str:
        now = self.now
        return self.words("stamp", job=now.job_code, revision=now.revision, date=now.date)

    def within(self, folder: str, words: PageWords | None = None) -> str:
        """The folder in the job's own, for this language or another."""
        language = (words or self.words).language
        below = "" if language == self.languages[0].language else names.language_folder(language)
        return "/".join(part for part in (below, folder) if part)

    def to_root(self, folder: str) -> str:
        """From the page in that folder to the job's own folder."""
        within = self.within(folder)
        return "../" * (within.count("/") + 1) if within else "./"


def document(
    frame: PageFrame,
    folder: str,
    title: str,
    *contents: Child,
    marks: Iterable[ConductorMark] = (),
    script: str = "",
) -> bytes:
    """A whole page that lies in `folder` (empty: the job's own page)."""
    served = frame.served
    added = served.scripts if served else ()
    scripts = [SAVED_COPY, *([script] if script else []), *added]
    head = (
        element("meta", charset="utf-8"),
        element("meta", http_equiv=NAME, content=_policy(scripts, asks=bool(added))),
        element("meta", name="viewport", content="width=device-width, initial-scale=1"),
        element("meta", name="robots", content="noindex, nofollow, noarchive"),
        element("meta", name="referrer", content="no-referrer"),
        element("meta", name="color-scheme", content="light"),
        element("meta", name="format-detection", content="telephone=no"),
        element("title", title),
        element("link", rel="icon", href="data:,"),
        element("style", Markup(STYLE)),
    )
    body = (
        element("a", frame.words("skip"), class_="skip", href="#main"),
        symbols(marks),
        _bar(frame, folder),
        served.above(frame.to_root(folder)) if served else None,
        element("main", *contents, id="main"),
        _foot(frame, folder),
        *(element("script", Markup(text)) for text in scripts),
    )
    page = element(
        "html", element("head", *head), element("body", *body), lang=frame.words.language
    )
    return f"<!DOCTYPE html>\n{page.text}\n".encode()


def _policy(scripts: Iterable[str], *, asks: bool) -> str:
    """Nothing but the style and scripts of this very page, and the worker beside it.

    Only where a server adds scripts may those ask it.
    """
    own_host = "connect-src 'self'; " if asks else ""
    return (
        f"default-src 'none'; style-src {digests((STYLE,))}; script-src {digests(scripts)}; "
        f"img-src data:; {own_host}worker-src 'self'; base-uri 'none'; form-action 'none'"
    )


def _bar(frame: PageFrame, folder: str) -> Markup:
    """Whole job, find, and the same page in the other languages."""
    words = frame.words
    links = [link(words("to the job"), f"../{names.INDEX}")] if folder else []
    if folder != names.FIND:
        links.append(link(words("to find"), ("../" if folder else "") + names.page(names.FIND)))
    links += [_twin(frame, folder, other) for other in frame.languages if other != words]
    return element("nav", *links, class_="bar", aria_label=words("around"))


def _twin(frame: PageFrame, folder: str, other: PageWords) -> Markup:
    href = frame.to_root(folder) + names.page(frame.within(folder, other))
    tag = other.language
    return link(other("language"), href, rel="alternate", lang=tag, hreflang=tag)


def _foot(frame: PageFrame, folder: str) -> Markup:
    words, now = frame.words, frame.now
    saved = element(
        "p",
        id="saved",
        hidden=True,
        role="status",
        data_root=frame.to_root(folder),
        data_worker=names.WORKER,
        data_saved=frame.saved or words("saved", revision="#revision", age="#age"),
        data_saving=words("saving", number="#number", all="#all", revision="#revision"),
        data_today=words("saved today"),
        data_day=words("saved days one"),
        data_days=words("saved days"),
        data_cut=words("no signal"),
    )
    within = frame.within(folder)
    address = f"{now.address}/{within}" if within else now.address
    return element(
        "footer",
        saved,
        element("p", now.site),
        element("p", frame.stamp),
        element("p", f"{words('address')}: {address}", class_="small"),
        element("p", words("claims"), class_="small"),
    )


# ---- what many pages are made of -----------------------------------------------------------


def link(text: Child, href: str, about: str = "", **attributes: str) -> Markup:
    """A large link, with a second line if there is more to say."""
    small = element("small", about) if about else None
    return element("a", element("span", text, small), class_="go", href=href, **attributes)


def ul(items: Iterable[Markup]) -> Markup:
    return element("ul", *(element("li", item) for item in items), class_="list")


def plain_list(items: Iterable[Child]) -> Markup:
    return element("ul", *(element("li", item) for item in items), class_="plain")


def section(title: str, *contents: Child, id: str | None = None) -> Markup:
    return element("section", element("h2", title, id=id), *contents)


def heading(frame: PageFrame, title: str, about: str = "") -> Markup:
    """What every page begins with; the warning is that of the tags."""
    water = frame.now.water
    warning = frame.words.of("cautions", water) if water else None
    return joined(
        element("p", warning, class_="must") if warning else None,
        element("h1", title),
        element("p", about, class_="where") if about else None,
        element("p", frame.stamp, class_="stamp"),
    )
