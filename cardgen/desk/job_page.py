"""The page of one job: its grids, what is wrong beside them, and the tags of the row chosen."""

from __future__ import annotations

import json
from collections.abc import Iterator

from starlette.responses import Response

from cardgen.desk.desk_assets import JOB_SCRIPTS
from cardgen.desk.desk_routing import DeskRequest
from cardgen.desk.desk_shell import (
    desk_page,
    job_address,
    labeled_choice,
    labeled_input,
    link_to,
    script_words,
)
from cardgen.desk.grid_columns import GridSection
from cardgen.desk.grid_sections import FORMS, SECTIONS
from cardgen.desk.job_summary import head_of
from cardgen.desk.page_grids import GRIDS, offer_id, offers
from cardgen.desk.print_choices import (
    USUAL_LANGUAGE,
    USUAL_STOCK,
    language_choices,
    tag_stocks,
    told_of,
)
from cardgen.record.html import Markup, element, joined
from cardgen.words import Text, Words

# Words that the scripts of the page fill in.
_SCRIPT_WORDS = (
    *("accept", "accept all", "add box", "add boxes", "and more", "changed outside"),
    *("choose wires", "copy kept", "does not fit", "error", "fine", "in the file", "in English"),
    *(
        "is known",
        "keep mine",
        "name alone",
        "names changed",
        "names left",
        "lost server",
        "no proposals",
        "no wire yet",
        "not readable",
        "not saved",
        "note",
    ),
    *("nothing listed", "nothing wrong", "open", "proposals", "saved", "saving", "step first"),
    *("tag in the way", "tag left out", "tag none", "tag proposed", "take theirs"),
    *("the same for", "warning"),
    *("without wire",),
)
_COLUMN_NAMES = sorted(
    {c.key for s in SECTIONS for c in (*s.columns, *((s.lead,) if s.lead else ()))}
)


def job_page(request: DeskRequest) -> Response:
    """The frame; the script fills it from the file, and what it enables waits for that."""
    words, name = request.words, request.values["name"]
    site = head_of(request.jobs.job(name))["site"]
    bar = element(
        "nav",
        link_to(words("desk.all jobs"), "/"),
        link_to(words("desk.to print"), job_address(name, "print")),
        link_to(words("desk.to spreadsheet"), job_address(name, "spreadsheet")),
        class_="bar",
        aria_label=words("desk.around"),
    )
    tabs = element(
        "div", *_tabs(words), class_="tabs", role="tablist", aria_label=words("desk.parts")
    )
    page = element(
        "div",
        element("div", id="notice", role="alert", hidden=True),
        element("div", tabs, _waiting(words, "more parts"), class_="parts"),
        element("div", *_panels(words), class_="work"),
        *offers(),
        id="job",
        data_address=job_address(name),
        data_grids=json.dumps(GRIDS),
        data_columns=json.dumps({key: _column(words, key).printed for key in _COLUMN_NAMES}),
        data_names=json.dumps({s.name: words(f"desk.row of {s.name}").printed for s in SECTIONS}),
        data_words=script_words(words, _SCRIPT_WORDS),
    )
    title = element(
        "h1", site or name, element("small", f" {name}") if site else None, class_="slim"
    )
    head = element("header", bar, title, _tools(words), class_="head")
    return desk_page(words, name, head, page, scripts=JOB_SCRIPTS, styles=("tabulator.css",))


def _tools(words: Words) -> Markup:
    """What stands above the grid, whatever part of the job is shown."""
    return element(
        "div",
        element("button", words("desk.undo"), id="undo", type="button", disabled=True),
        element("button", words("desk.redo"), id="redo", type="button", disabled=True),
        element("span", id="saved", role="status"),
        class_="tools",
    )


def _tabs(words: Words) -> Iterator[Markup]:
    parts = [*((section.name, section.is_rare) for section in SECTIONS), ("job", False)]
    for number, (name, is_rare) in enumerate(parts):
        yield element(
            "button",
            element("span", words(f"desk.part {name}")),
            element("b", class_="count"),
            type="button",
            role="tab",
            id=f"tab-{name.replace(' ', '-')}",
            data_part=name,
            data_rare=is_rare,
            hidden=is_rare,
            disabled=True,
            aria_selected="true" if number == 0 else "false",
            aria_controls="grid-panel" if name != "job" else "form-panel",
        )


def _panels(words: Words) -> Iterator[Markup]:
    hint = element("p", words("desk.grid hint"), class_="small", id="grid-hint")
    row_tools = element(
        "div",
        *(_waiting(words, name) for name in ("choose wires", "remove rows", "more columns")),
        class_="tools",
    )
    yield element(
        "section",
        hint,
        element("div", id="grid"),
        element("p", id="cell-said", role="status"),
        row_tools,
        element("div", id="proposals", hidden=True),
        element("h2", words("desk.to do")),
        element("div", id="findings", aria_live="polite"),
        id="grid-panel",
        role="tabpanel",
        aria_labelledby="tab-stations",
    )
    yield element(
        "section",
        *(_form(words, form) for form in FORMS if not form.is_rare),
        element(
            "details",
            element("summary", words("desk.more fields")),
            *(_form(words, form) for form in FORMS if form.is_rare),
        ),
        id="form-panel",
        role="tabpanel",
        aria_labelledby="tab-job",
        hidden=True,
    )
    yield element("section", element("div", id="file-text"), id="faults-panel", hidden=True)
    yield _preview(words)


def _waiting(words: Words, name: str) -> Markup:
    """Until the script has read the file."""
    text, id_ = words(f"desk.{name}"), name.replace(" ", "-")
    return element("button", text, id=id_, type="button", disabled=True)


def _form(words: Words, form: GridSection) -> Markup:
    fields = []
    for column in form.columns:
        more = {"list": offer_id(form, column)} if column.offered else {}
        label, name = words(f"desk.field {column.key}"), f"{form.name} {column.key}"
        field = labeled_input(
            label, name.replace(" ", "-"),
            data_section=form.name, data_key=column.key, autocomplete="off", **more,
        )  # fmt: skip
        fields.append(field)
    heading = element("h2", words(f"desk.form {form.name}"))
    return joined(heading, element("div", *fields, class_="fields"))


def _preview(words: Words) -> Markup:
    stocks = [(stock.name, told_of(stock, words)) for stock in tag_stocks()]
    languages = [(each, language_name(words, each)) for each in language_choices()]
    return element(
        "aside",
        element("h2", words("desk.tags of row"), id="preview-title"),
        element("p", id="preview-state", class_="small"),
        element("div", id="preview", aria_live="off"),
        labeled_choice(words("desk.stock"), "stock", stocks, USUAL_STOCK),
        labeled_choice(words("desk.language"), "language", languages, USUAL_LANGUAGE),
        id="preview-panel",
        aria_labelledby="preview-title",
    )


def language_name(words: Words, languages: str) -> Text:
    """`English and Spanish`, for `en,es`."""
    return words.list_of([words.own("desk", f"language {each}") for each in languages.split(",")])


def _column(words: Words, key: str) -> Text:
    return words(f"desk.column {key}")
