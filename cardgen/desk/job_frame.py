"""Set a page that belongs to a job beside its grids: the ways around it, and what was printed."""

from __future__ import annotations

from collections.abc import Sequence

from starlette.responses import Response

from cardgen.desk.desk_routing import DeskRequest
from cardgen.desk.desk_shell import desk_page, job_address, link_to
from cardgen.output.printing import Print
from cardgen.record.html import Child, Markup, element, joined
from cardgen.words import Text, Words

_CAUTIONS = ("power", "reach", "line", "dig", "code")


def job_frame(
    request: DeskRequest, title: Text, *contents: Child, scripts: Sequence[str] = ()
) -> Response:
    """With the name of its file."""
    words, name = request.words, request.values["name"]
    bar = element(
        "nav",
        link_to(words("desk.all jobs"), "/"),
        link_to(words("desk.to job"), job_address(name)),
        link_to(words("desk.to print"), job_address(name, "print")),
        link_to(words("desk.crews"), job_address(name, "crews")),
        class_="bar",
        aria_label=words("desk.around"),
    )
    heading = element("h1", title, class_="slim")
    where = element("p", name, class_="where")
    return desk_page(
        words, f"{title.printed}: {name}", bar, heading, where, *contents, scripts=scripts
    )


def made_files(words: Words, name: str, made: Print) -> Markup:
    """The files to open, and the cautions."""
    links = (
        element("li", link_to(file, job_address(name, "cards", file)))
        for file in sorted(made.files)
    )
    return joined(element("ul", *links, class_="list"), before_work(words))


def before_work(words: Words) -> Markup:
    """What to heed with all that is printed."""
    cautions = (element("li", words(f"cautions.{each}")) for each in _CAUTIONS)
    return joined(
        element("p", words("desk.measure"), class_="must"),
        element("h2", words("titles.BEFORE YOU WORK")),
        element("ul", *cautions, class_="plain"),
    )
