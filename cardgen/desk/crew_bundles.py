"""Print what a crew takes along to the boxes that are chosen: tags and sheets in one PDF."""

from __future__ import annotations

from collections.abc import Iterator

from starlette.responses import Response

from cardgen.asbuilt import AsBuilt
from cardgen.cards import Printable
from cardgen.desk.desk_routing import DeskRequest
from cardgen.desk.desk_shell import job_address, labeled_choice, labeled_input, link_to
from cardgen.desk.job_frame import job_frame, made_files
from cardgen.desk.print_choices import print_request, tag_stocks
from cardgen.desk.print_form import check_box, kind_name, stock_fields
from cardgen.desk.printer_offsets import keep_offset, with_kept_offset
from cardgen.desk.problem_list import refusal_said, told_problems
from cardgen.output.as_printable import as_printable
from cardgen.output.choosing import PrintedOtherwise
from cardgen.output.crew_request import (
    CREW_SHEETS,
    CREW_TAGS,
    LONGEST_CREW,
    USUAL_OF_CREW,
    crew_request,
    lacks_survey,
)
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import print_into
from cardgen.problems import Verdict
from cardgen.record.html import Child, Markup, element
from cardgen.words import Words


def crews_page(request: DeskRequest) -> Response:
    """The boxes in the order in which one walks, or why nothing can be printed yet."""
    words = request.words
    examined = request.jobs.job(request.values["name"]).examined()
    printable = as_printable(examined)
    if printable is None:
        errors = [p for p in examined.problems if p.verdict is Verdict.ERROR]
        return job_frame(request, words("desk.crews"), told_problems(words, errors))
    form = _form(request, printable.asbuilt)
    return job_frame(request, words("desk.crews"), form)


def print_bundle(request: DeskRequest) -> Response:
    """Make the file of one crew, beside those of others."""
    printable = as_printable(request.jobs.job(request.values["name"]).examined())
    if printable is None:
        return crews_page(request)
    fields = with_kept_offset(request, request.fields)
    made = _print(request, printable, _request(fields, printable.asbuilt))
    return keep_offset(made, fields)


def _print(request: DeskRequest, printable: Printable, wanted: PrintRequest) -> Response:
    words, name = request.words, request.values["name"]
    try:
        with request.jobs.prints(name):
            made, problems = print_into(printable, request.jobs.folder.cards(name), wanted)
    except PrintedOtherwise as fault:  # the page of the print has the way on
        said = refusal_said(words, fault)
        way = link_to(words("desk.to print"), job_address(name, "print"))
        alert = element("div", said, way, class_="alert", role="alert")
        return job_frame(request, words("desk.nothing printed"), alert)
    told = told_problems(words, problems) if problems else None
    if made is None:
        return job_frame(request, words("desk.nothing printed"), told)
    without = None
    if lacks_survey(printable, wanted):
        without = element("p", words("desk.nothing to survey"), class_="said")
    files = made_files(words, name, made)
    return job_frame(request, words("desk.printed now"), told, without, files)


def _request(fields: list[tuple[str, str]], known: AsBuilt) -> PrintRequest:
    """What is asked for, its boxes as one walks.

    Raises:
        UserError: if no box is chosen, or it asks for nothing that there is.
    """
    said = dict(fields)
    controller = said.get("controller", "")
    return crew_request(
        print_request(fields),
        known,
        crew=said.get("crew", ""),
        boxes=[value for key, value in fields if key == "box"],
        controllers=[controller] if controller else [],
        sheets=[value for key, value in fields if key == "sheet"],
    )


# ---- the form ------------------------------------------------------------------------------


def _form(request: DeskRequest, known: AsBuilt) -> Markup:
    words = request.words
    none = words("desk.no controller")
    whole = [(each, words("terms.controller", controller=each)) for each in known.controller]
    stocks = [stock for stock in tag_stocks() if not stock.is_single]
    return element(
        "form",
        element("p", words("desk.crews hint"), class_="wide"),
        labeled_input(words("desk.crew"), "crew", required=True, maxlength=str(LONGEST_CREW)),
        labeled_choice(words("desk.crew controller"), "controller", [("", none), *whole]),
        _checks(words, "crew boxes", *_boxes(known)),
        _checks(words, "what", *_kinds(words)),
        *stock_fields(request, stocks),
        element("button", words("desk.crew print"), type="submit"),
        method="post",
        action=job_address(request.values["name"], "crews"),
        class_="fields",
    )


def _checks(words: Words, legend: str, *boxes: Child) -> Markup:
    return element("fieldset", element("legend", words(f"desk.{legend}")), *boxes, class_="checks")


def _boxes(known: AsBuilt) -> Iterator[Markup]:
    for place in known.walked:
        if place in known.box:
            where = known.box[place].where
            label = f"{place}: {where}" if where else place
            yield check_box("box", place, label, is_chosen=False)


def _kinds(words: Words) -> Iterator[Markup]:
    for field, kinds in (("only", CREW_TAGS), ("sheet", CREW_SHEETS)):
        for word in kinds:
            yield check_box(field, word, kind_name(words, word), is_chosen=word in USUAL_OF_CREW)
