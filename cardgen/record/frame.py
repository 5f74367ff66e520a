"""Set one page: head, policy, way around, contents, foot; everything it needs is inside it."""

from __future__ import annotations

import base64
import hashlib
from collections.abc import Iterable
from dataclasses import dataclass

from cardgen.cards.model import ConductorMark
from cardgen.record import names
from cardgen.record.html import Child, Markup, element, joined
from cardgen.record.model import Revision
from cardgen.record.scripts import PAGE
from cardgen.record.style import STYLE
from cardgen.record.swatches import symbols
from cardgen.record.words import Words


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """What all pages of a record share.

    Attributes:
        now: the newest revision published.
        all: every revision published, oldest first.
    """

    now: Revision
    all: tuple[Revision, ...]
    words: Words

    @property
    def stamp(self) -> str:
        now = self.now
        return self.words("stamp", job=now.job, revision=now.revision, date=now.date)


def document(
    frame: Frame,
    folder: str,
    title: str,
    *contents: Child,
    marks: Iterable[ConductorMark] = (),
    script: str = "",
) -> bytes:
    """A whole page that lies in `folder` (empty: the job's own page)."""
    root = "../" if folder else "./"
    scripts = [PAGE, *([script] if script else [])]
    head = (
        element("meta", charset="utf-8"),
        element("meta", http_equiv="Content-Security-Policy", content=_policy(scripts)),
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
        _bar(frame, folder, root),
        element("main", *contents, id="main"),
        _foot(frame, folder, root),
        *(element("script", Markup(text)) for text in scripts),
    )
    page = element(
        "html", element("head", *head), element("body", *body), lang=frame.words.language
    )
    return f"<!DOCTYPE html>\n{page.text}\n".encode()


def _policy(scripts: Iterable[str]) -> str:
    """Nothing but the style and scripts of this very page, and the worker beside it."""
    digests = " ".join(_digest(text) for text in scripts)
    return (
        f"default-src 'none'; style-src {_digest(STYLE)}; script-src {digests}; "
        "img-src data:; worker-src 'self'; base-uri 'none'; form-action 'none'"
    )


def _digest(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def _bar(frame: Frame, folder: str, root: str) -> Markup | None:
    if not folder:
        return None
    links = [go(frame.words("to the job"), root + names.INDEX)]
    if folder != names.FIND:
        links.append(go(frame.words("to find"), root + names.page(names.FIND)))
    return element("nav", *links, class_="bar")


def _foot(frame: Frame, folder: str, root: str) -> Markup:
    words, now = frame.words, frame.now
    saved = element(
        "p",
        id="saved",
        hidden=True,
        data_root=root,
        data_saved=words("saved", revision="#revision", age="#age"),
        data_today=words("saved today"),
        data_days=words("saved days"),
        data_cut=words("no signal"),
    )
    address = f"{now.address}/{folder}" if folder else now.address
    return element(
        "footer",
        saved,
        element("p", now.site),
        element("p", frame.stamp),
        element("p", f"{words('address')}: {address}", class_="small"),
        element("p", words("claims"), class_="small"),
    )


# ---- what many pages are made of -----------------------------------------------------------


def go(text: Child, href: str, about: str = "", **attributes: str) -> Markup:
    """A large link, with a second line if there is more to say."""
    small = element("small", about) if about else None
    return element("a", element("span", text, small), class_="go", href=href, **attributes)


def listed(items: Iterable[Markup]) -> Markup:
    return element("ul", *(element("li", item) for item in items), class_="list")


def plain_list(items: Iterable[Child]) -> Markup:
    return element("ul", *(element("li", item) for item in items), class_="plain")


def section(title: str, *contents: Child, id: str | None = None) -> Markup:
    return element("section", element("h2", title, id=id), *contents)


def heading(frame: Frame, title: str, about: str = "") -> Markup:
    return joined(
        element("h1", title),
        element("p", about, class_="where") if about else None,
        element("p", frame.stamp, class_="stamp"),
    )
