"""What the files of a record are called; a box never has such a name, for none holds a '_'."""

from __future__ import annotations

from cardgen.address import record_spelling

INDEX = "index.html"
HISTORY = "revisions_.json"
WORKER = "offline_.js"
OFFLINE = "offline_.json"
SPARES = "SPARE_LIST"
DRAWING = "WIRING_DRAWING"
FIND = "FIND_IN_JOB"
RESULTS = "TEST_RESULTS"
_STATION = "STATION_"


def box_folder(name: str) -> str:
    """The folder of a box or controller, the last part of the address on its tag."""
    return record_spelling(name)


def station_folder(name: str) -> str:
    return _STATION + record_spelling(name)


def language_folder(language: str) -> str:
    """Where the pages of a further language lie, `ES_`: each at its place below it."""
    return f"{language.upper()}_"


def page(folder: str) -> str:
    """The file of a folder, written out so that it opens from a memory stick too."""
    return f"{folder}/{INDEX}" if folder else INDEX
