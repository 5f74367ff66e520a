"""Print from the desk: what, on which stock, from which card on; then the files to open."""

from __future__ import annotations

from starlette.responses import FileResponse, Response

from cardgen.desk.desk_assets import PRINT_SCRIPTS
from cardgen.desk.desk_routing import DeskRequest
from cardgen.desk.desk_shell import job_address, link_to
from cardgen.desk.hanging_part import HangingPart, hang_button, raise_if_asked
from cardgen.desk.job_frame import job_frame, made_files
from cardgen.desk.job_summary import printed_of
from cardgen.desk.print_choices import offset_of, print_request, tag_stocks, told_of
from cardgen.desk.print_form import print_fields
from cardgen.desk.printer_offsets import keep_offset, with_kept_offset
from cardgen.desk.problem_list import refusal_said, told_problems
from cardgen.desk.stock_pictures import first_card
from cardgen.draw.pdf import pdf
from cardgen.layout.proof import proof
from cardgen.layout.stock import moved
from cardgen.memory.prints import read_log
from cardgen.output.as_printable import as_printable
from cardgen.output.choosing import PrintedOtherwise
from cardgen.output.current_print import from_file
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import print_into
from cardgen.output.selection import KINDS
from cardgen.problems import UserError, Verdict
from cardgen.record.html import Markup, element

# A browser shows a PDF with a viewer of its own, which is an object on a page with a style.
_PDF_POLICY = (
    "default-src 'none'; object-src 'self'; style-src 'unsafe-inline'; frame-ancestors 'none'"
)


def print_page(request: DeskRequest) -> Response:
    """The form with what hangs, or why nothing can be printed yet."""
    words, name = request.words, request.values["name"]
    job, cards = request.jobs.job(name), request.jobs.folder.cards(name)
    examined = job.examined()
    printable = as_printable(examined)
    title = words("desk.to print")
    if printable is None:
        errors = [p for p in examined.problems if p.verdict is Verdict.ERROR]
        return job_frame(request, title, told_problems(words, errors))
    printed = printed_of(cards, words.languages[0])
    before = None
    if "revision" in printed:
        before = element("p", words("desk.printed", **printed), class_="said")
    hanging = HangingPart(request, job, printable, read_log(cards))
    form = _form(request) if hanging.takes_all else None
    return job_frame(
        request, title, before, *hanging.changes(), form, hanging.mark(), scripts=PRINT_SCRIPTS
    )


def print_job(request: DeskRequest) -> Response:
    """Print into the folder beside the job file, as the command line does."""
    fields = with_kept_offset(request, request.fields)
    return keep_offset(_print(request, print_request(fields)), fields)


def _print(request: DeskRequest, asked: PrintRequest) -> Response:
    words, name = request.words, request.values["name"]
    cards = request.jobs.folder.cards(name)
    raise_if_asked(request.jobs.job(name), dict(request.fields))
    wanted = from_file(request.jobs.folder.file(name), asked)  # before the file is read
    printable = as_printable(request.jobs.job(name).examined())
    if printable is None:
        return print_page(request)
    try:
        with request.jobs.prints(name):
            made, problems = print_into(printable, cards, wanted)
    except PrintedOtherwise as fault:
        if fault.hangs:  # the page has the way into the next revision
            return print_page(request)
        title = words("desk.nothing printed")
        return job_frame(request, title, _said_otherwise(request, fault))
    if made is None or not made.files:
        title = words("desk.nothing printed")
        return job_frame(request, title, told_problems(words, problems) if problems else None)
    told = told_problems(words, problems) if problems else None
    revision = printable.asbuilt.revision
    is_hung = revision in read_log(cards).hung
    mark = None if is_hung else hang_button(words, name, revision, hangs=True)
    return job_frame(request, words("desk.printed now"), told, made_files(words, name, made), mark)


def printed_file(request: DeskRequest) -> Response:
    """A file of the print, to be opened or kept."""
    name, inside = request.values["name"], request.values["file"]
    path = request.jobs.folder.printed_file(name, inside)
    if path.suffix == ".pdf":
        return FileResponse(path, headers={"Content-Security-Policy": _PDF_POLICY})
    return FileResponse(path, filename=path.name)


def proof_file(request: DeskRequest) -> Response:
    """The alignment sheet of a stock."""
    asked = dict(with_kept_offset(request, request.request.query_params.multi_items()))
    wanted, words = asked.get("stock", ""), request.words
    stock = next((each for each in tag_stocks() if each.name == wanted), None)
    if stock is None:
        raise UserError(f"no stock for tags is called '{wanted}'", "choose one of the list")
    offset = offset_of(asked)
    if offset is not None:
        stock = moved(stock, *offset)
    title, page = told_of(stock, words), proof(stock, words, on_desk=True)
    made = pdf([page], title=title, subject=title)
    headers = {"Content-Security-Policy": _PDF_POLICY}
    return Response(made, headers=headers, media_type="application/pdf")


def _form(request: DeskRequest) -> Markup:
    words, name = request.words, request.values["name"]
    return element(
        "form",
        *print_fields(request),
        first_card(words, tag_stocks()),
        element("button", words("desk.print"), type="submit"),
        method="post",
        action=job_address(name, "print"),
        class_="fields",
    )


def _said_otherwise(request: DeskRequest, fault: PrintedOtherwise) -> Markup:
    """If tags of it hang, the revision is raised; if none does, all is printed again."""
    words, name = request.words, request.values["name"]
    others = ("only", "replace", "raise", *(("since",) if fault.is_part else ()))
    kept = [(key, value) for key, value in request.fields if key not in others]
    asked = [value for key, value in request.fields if key == "only"]
    fields = [*kept, ("replace", "yes")]
    fields += [("only", word) for word in (KINDS if fault.is_part else asked)]
    hidden = (element("input", type="hidden", name=key, value=value) for key, value in fields)
    button = element("button", words("desk.print over"), type="submit")
    again = element("form", *hidden, button, method="post", action=job_address(name, "print"))
    return element(
        "div",
        refusal_said(words, fault),
        element("p", words("desk.tags hang")),
        link_to(words("desk.raise revision"), f"{job_address(name)}#job"),
        element("p", words("desk.no tag hangs"), class_="said"),
        again,
        class_="alert",
        role="alert",
    )
