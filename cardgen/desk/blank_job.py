"""Write the job that the desk begins with: only what a person has said, no value made up."""

from __future__ import annotations

import datetime
import re
import unicodedata
from collections.abc import Iterable, Mapping

from cardgen.address import new_record_key
from cardgen.editing import Change, Put, Remove, edited
from cardgen.problems import UserError
from cardgen.workbook.site_jobs import site_codes

_FIELDS = ("code", "site", "address", "place", "supply", "stations")
_START = """\
# {site}
# Made on the cardgen desk. Any text editor can change it too; 'cardgen manual job-file' explains
# every key.

job:
  revision: 1
  date: {today}
"""


def blank_job(form: Mapping[str, str], today: datetime.date, codes: Iterable[str]) -> str:
    """The text of a job of that site, with one controller 'A'.

    Args:
        codes: those of the other jobs in the folder.

    Raises:
        UserError: if a name is missing that nothing can be without.
    """
    said = {name: " ".join(form.get(name, "").split()) for name in _FIELDS}
    if not said["site"]:
        raise _no_site()
    text = _START.format(site=said["site"], today=today.isoformat())
    changes = [
        Put(path=("job", "site"), value=said["site"]),
        Put(path=("job", "code"), value=said["code"] or job_code(said["site"], codes)),
    ]
    if said["address"]:
        record = {"address": said["address"], "key": new_record_key()}
        changes.append(Put(path=("record",), value=record))
    known = {key: said[key] for key in ("place", "supply", "stations") if said[key]}
    if known:
        changes.append(Put(path=("controllers",), value={"A": known}))
    return edited(text, changes)


def listed_job(text: str, site: str, address: str, today: datetime.date, *, code: str = "") -> str:
    """A job made of a plain list, with what a person says of it in place of what it begins with.

    Raises:
        UserError: if the site has no name.
    """
    if not site:
        raise _no_site()
    record: Change = Put(path=("record", "address"), value=address)
    if not address:  # without one, the tags have no code
        record = Remove(path=("record",))
    head = {"site": site, "date": today.isoformat()} | ({"code": code} if code else {})
    return edited(text, [*(Put(path=("job", key), value=of) for key, of in head.items()), record])


def job_code(site: str, codes: Iterable[str]) -> str:
    """Something short to print, which can be changed; none of the `codes` of other jobs."""
    return next(site_codes([site], codes))


def file_stem(site: str) -> str:
    """`larkspur-cottage`: what the file is called."""
    words = re.findall(r"[a-z0-9]+", _plain(site).lower())
    return "-".join(words)[:60].strip("-") or "job"


def _no_site() -> UserError:
    return UserError("the site has no name yet", "write what the crew calls it")


def _plain(text: str) -> str:
    """Without accents, which not every file system and font keeps alike."""
    return unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
