"""Print from the desk: what, on which stock, from which card on; then the files to open."""

from __future__ import annotations

from starlette.responses import FileResponse, Response

from cardgen.desk.desk_routing import DeskRequest
from cardgen.desk.desk_shell import (
    desk_page,
    job_address,
    labeled_input,
    link_to,
)
from cardgen.desk.job_summary import printed_of
from cardgen.desk.print_choices import (
    print_request,
    tag_stocks,
)
from cardgen.desk.print_form import print_fields
from cardgen.desk.problem_list import told_problems
from cardgen.draw import pdf
from cardgen.layout.proof import proof
from cardgen.output.as_printable import as_printable
from cardgen.output.choosing import PrintedOtherwise
from cardgen.output.current_print import from_file
from cardgen.output.printing import Print, print_into
from cardgen.output.selection import KINDS
from cardgen.problems import UserError, Verdict
from cardgen.record.html import Child, Markup, element, joined
from cardgen.words import Words

# A browser shows a PDF with a viewer of its own, which is an object on a page with a style.
_PDF_POLICY = (
    "default-src 'none'; object-src 'self'; style-src 'unsafe-inline'; frame-ancestors 'none'"
)
_CAUTIONS = ("power", "reach", "line", "dig", "code")


def print_page(request: DeskRequest) -> Response:
    """The form, or why nothing can be printed yet."""
    words, name = request.words, request.values["name"]
    job = request.jobs.job(name)
    errors = [p for p in job.examined().problems if p.verdict is Verdict.ERROR]
    printed = printed_of(request.jobs.folder.cards(name))
    before = None
    if "revision" in printed:
        before = element("p", words("desk.printed", **printed), class_="said")
    body = told_problems(words, errors) if errors else joined(before, _form(words, name))
    return _page(request, words("desk.to print").printed, body)


def print_job(request: DeskRequest) -> Response:
    """Print into the folder beside the job file, as the command line does."""
    words, name = request.words, request.values["name"]
    asked = print_request(request.fields)
    wanted = from_file(request.jobs.folder.file(name), asked)
    job = request.jobs.job(name)
    printable = as_printable(job.examined())
    if printable is None:
        return print_page(request)
    try:
        made, problems = print_into(printable, request.jobs.folder.cards(name), wanted)
    except PrintedOtherwise as fault:
        title = words("desk.nothing printed").printed
        return _page(request, title, _said_otherwise(request, fault))
    title = words("desk.printed now" if made else "desk.nothing printed").printed
    body = _files(words, name, made) if made else None
    return _page(request, title, told_problems(words, problems) if problems else None, body)


def printed_file(request: DeskRequest) -> Response:
    """A file of the print, to be opened or kept."""
    name, inside = request.values["name"], request.values["file"]
    path = request.jobs.folder.printed_file(name, inside)
    if path.suffix == ".pdf":
        return FileResponse(path, headers={"Content-Security-Policy": _PDF_POLICY})
    return FileResponse(path, filename=path.name)


def proof_file(request: DeskRequest) -> Response:
    """The alignment sheet of a stock."""
    wanted = request.request.query_params.get("stock", "")
    stock = next((each for each in tag_stocks() if each.name == wanted), None)
    if stock is None:
        raise UserError(f"no stock for tags is called '{wanted}'", "choose one of the list")
    made = pdf([proof(stock)], title=f"Proof of {stock.name}", subject=stock.about)
    headers = {"Content-Security-Policy": _PDF_POLICY}
    return Response(made, headers=headers, media_type="application/pdf")


def _page(request: DeskRequest, title: str, *contents: Child) -> Response:
    words, name = request.words, request.values["name"]
    bar = element(
        "nav",
        link_to(words("desk.all jobs"), "/"),
        link_to(words("desk.to job"), job_address(name)),
        class_="bar",
        aria_label=words("desk.around"),
    )
    heading = element("h1", title, class_="slim")
    where = element("p", name, class_="where")
    return desk_page(request.words, f"{title}: {name}", bar, heading, where, *contents)


def _form(words: Words, name: str) -> Markup:
    start = labeled_input(words("desk.first card"), "start", value="1", inputmode="numeric")
    return element(
        "form",
        *print_fields(words),
        start,
        element("button", words("desk.print"), type="submit"),
        method="post",
        action=job_address(name, "print"),
        class_="fields",
    )


def _said_otherwise(request: DeskRequest, fault: PrintedOtherwise) -> Markup:
    """If tags of it hang, the revision is raised; if none does, all is printed again."""
    words, name = request.words, request.values["name"]
    kept = [(key, value) for key, value in request.fields if key not in ("only", "replace")]
    asked = [value for key, value in request.fields if key == "only"]
    fields = [*kept, ("replace", "yes")]
    fields += [("only", word) for word in (KINDS if fault.is_part else asked)]
    hidden = (element("input", type="hidden", name=key, value=value) for key, value in fields)
    button = element("button", words("desk.print over"), type="submit")
    again = element("form", *hidden, button, method="post", action=job_address(name, "print"))
    return element(
        "div",
        element("p", f"{fault.sentence[:1].upper()}{fault.sentence[1:]}.", lang="en"),
        element("p", words("desk.tags hang")),
        link_to(words("desk.raise revision"), f"{job_address(name)}#job"),
        element("p", words("desk.no tag hangs"), class_="said"),
        again,
        class_="alert",
        role="alert",
    )


def _files(words: Words, name: str, made: Print) -> Markup:
    links = (
        element("li", link_to(file, job_address(name, "cards", file)))
        for file in sorted(made.files)
    )
    cautions = (element("li", words(f"cautions.{each}")) for each in _CAUTIONS)
    return joined(
        element("ul", *links, class_="list"),
        element("p", words("desk.measure"), class_="must"),
        element("h2", words("titles.BEFORE YOU WORK")),
        element("ul", *cautions, class_="plain"),
    )
