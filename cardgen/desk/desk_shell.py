"""Set a page of the desk: what all of them share."""

from __future__ import annotations

import json
from collections.abc import Sequence
from urllib.parse import quote

from starlette.responses import Response

from cardgen.desk.desk_assets import address_of
from cardgen.record.html import Child, Markup, element
from cardgen.words import Said, Words

SHELL_STYLE = "desk.css"
# What a script fills into its words.
_VALUES = {
    name: f"{{{name}}}"
    for name in ("count", "day", "hangs", "name", "revision", "section", "total")
}


def desk_page(
    words: Words,
    title: Said,
    *contents: Child,
    scripts: Sequence[str] = (),
    styles: Sequence[str] = (),
    status: int = 200,
) -> Response:
    """A whole page; its scripts and styles are files of the desk, and nothing else runs."""
    head = (
        element("meta", charset="utf-8"),
        element("meta", name="viewport", content="width=device-width, initial-scale=1"),
        element("meta", name="color-scheme", content="light"),
        element("title", title),
        element("link", rel="icon", href="data:,"),
        *(
            element("link", rel="stylesheet", href=address_of(name))
            for name in (*styles, SHELL_STYLE)
        ),
        *(element("script", Markup(""), src=address_of(name), defer=True) for name in scripts),
    )
    body = element("body", element("main", *contents, id="main"))
    page = element("html", element("head", *head), body, lang=words.languages[0])
    return Response(f"<!DOCTYPE html>\n{page.text}\n", status, media_type="text/html")


def link_to(label: Said, href: str, class_: str = "go") -> Markup:
    return element("a", label, href=href, class_=class_)


def job_address(name: str, *rest: str) -> str:
    """`/jobs/larkspur.yaml/print`."""
    return "/".join(("/jobs", quote(name, safe=""), *(quote(part) for part in rest)))


def labeled_input(label: Said, name: str, **attributes: str | bool) -> Markup:
    """A field under its label."""
    return element(
        "p",
        element("label", label, for_=f"f-{name}"),
        element("input", id=f"f-{name}", name=name, class_="field", **attributes),
    )


def labeled_choice(
    label: Said, name: str, choices: Sequence[tuple[str, Said]], chosen: str = ""
) -> Markup:
    """One of several, under its label."""
    options = (
        element("option", said, value=value, selected=value == chosen) for value, said in choices
    )
    return element(
        "p",
        element("label", label, for_=f"f-{name}"),
        element("select", *options, id=f"f-{name}", name=name, class_="field"),
    )


def script_words(words: Words, names: Sequence[str]) -> str:
    """What a script says, by name, with its `{values}` left for it to fill in."""
    return json.dumps({name: words(f"desk.{name}", **_VALUES).printed for name in names})
