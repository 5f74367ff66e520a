"""Take what a person sends as a list, a file or what is pasted, and the form that asks for it."""

from __future__ import annotations

from collections.abc import Mapping

from cardgen.desk.desk_routing import DeskRequest
from cardgen.desk.desk_shell import labeled_input
from cardgen.problems import Problem, UserError
from cardgen.record.html import Child, Markup, element
from cardgen.words import Said, Words
from cardgen.workbook.book_files import Book, book_of

FILE, PASTED = "file", "pasted"
_ENDINGS = ".xlsx,.csv,.tsv,.txt"


def sent_book(request: DeskRequest) -> tuple[Book | None, tuple[Problem, ...], Mapping[str, str]]:
    """The list, or what keeps it from being read, and the fields beside it.

    Raises:
        UserError: if nothing was sent.
    """
    fields, _ = request.fields_and_files
    book, problems = book_of(*sent_file(request))
    return book, problems, fields


def sent_file(request: DeskRequest) -> tuple[bytes, str]:
    """The list as it was sent or pasted, and its name.

    Raises:
        UserError: if nothing was sent.
    """
    fields, files = request.fields_and_files
    file, pasted = files.get(FILE), fields.get(PASTED, "")
    if file is not None and file.data:
        return file.data, _plain_name(file.name)
    if pasted.strip():
        return pasted.encode(), request.words("desk.pasted name").printed
    raise UserError("there is no list yet", "choose a file, or paste the list")


def list_form(
    words: Words, action: str, button: Said, *others: Child, fields: Mapping[str, str]
) -> Markup:
    """A file or what is pasted; `others` are fields of its own, `fields` what was sent before."""
    before = fields.get(PASTED, "").replace("\r\n", "\n")  # as forms send the end of a line
    pasted = element(
        "p",
        element("label", words("desk.pasted list"), for_=f"f-{PASTED}"),
        element(
            "textarea", before, id=f"f-{PASTED}", name=PASTED, rows="8",
            class_="field", spellcheck="false",
        ),
        class_="wide",
    )  # fmt: skip
    return element(
        "form",
        labeled_input(words("desk.list file"), FILE, type="file", accept=_ENDINGS),
        pasted,
        *others,
        element("button", button, type="submit"),
        method="post",
        action=action,
        enctype="multipart/form-data",
        class_="fields",
    )


def _plain_name(name: str) -> str:
    """Some browsers send the folder, too."""
    return name.replace("\\", "/").rpartition("/")[2][:100]
