"""Name the job files of several sites, and find the jobs of sites that a folder has."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import count
from pathlib import Path

from cardgen.problems import Problem, UserError
from cardgen.reading import nodes, read_text
from cardgen.reading.parse import parse
from cardgen.workbook.site_books import SiteBook, site_name

# In letters, assumed; a code of 13 with its revision and date still has room on the smallest tag.
_LONGEST_FILE, _LONGEST_CODE = 40, 12
# Names that Windows keeps for devices, whatever ending they have.
_DEVICE = re.compile(r"con|prn|aux|nul|(?:com|lpt)[0-9]", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteJob:
    """A job file that is there, and what it says of its site."""

    path: Path
    text: str
    site: str
    code: str

    @property
    def names(self) -> set[str]:
        """By these a list may call it."""
        return {site_name(self.site), site_name(self.code)} - {""}


def site_jobs(job_files: Iterable[Path]) -> tuple[list[SiteJob], list[Problem]]:
    """What the files say; a file that cannot be read is told."""
    jobs: list[SiteJob] = []
    problems: list[Problem] = []
    for path in job_files:
        text, unread = read_text(path)
        root, more = parse(text, str(path)) if text is not None else (None, ())
        problems += [*unread, *more]
        if text is not None and root is not None:
            job = _entry(root, "job")
            site, code = (_said(_entry(job, key)) for key in ("site", "code"))
            jobs.append(SiteJob(path=path, text=text, site=site, code=code))
    return jobs, problems


def job_of_site(sites: Sequence[SiteBook], jobs: Sequence[SiteJob]) -> dict[str, SiteJob]:
    """By the name of each site its job, where there is one.

    Raises:
        UserError: if a site has several jobs, or a job several sites.
    """
    found: dict[str, SiteJob] = {}
    site_of: dict[Path, str] = {}
    for site in (book.site for book in sites):
        own = [job for job in jobs if site_name(job.site) == site_name(site)]
        own = own or [job for job in jobs if site_name(site) in job.names]
        if len(own) > 1:
            raise UserError(
                f"'{own[0].path}' and '{own[1].path}' are both a job of the site '{site}'",
                "correct the site in one of them, or move it away",
            )
        for job in own:
            other = site_of.setdefault(job.path, site)
            if other != site:
                raise UserError(
                    f"the sites '{other}' and '{site}' of the list are both in '{job.path}'",
                    "write the site with one name in the whole list",
                )
            found[site] = job
    return found


# ---- names of what is new ------------------------------------------------------------------


def file_names(sites: Sequence[str], taken: Iterable[str]) -> Iterator[str]:
    """A name for each that any system takes: `alder-park.yaml`; none of them twice."""
    used = {name.casefold() for name in taken}
    for site in sites:
        words = _words(site.replace(".", " ").lower()) or ["site"]
        if _DEVICE.fullmatch("-".join(words)):
            words.append("site")
        yield f"{_free(words, _LONGEST_FILE, used, '.yaml')}.yaml"


def site_codes(sites: Sequence[str], taken: Iterable[str]) -> Iterator[str]:
    """A code for each: what is short stays, with hyphens; of a long one its first words."""
    used = {code.casefold() for code in taken}
    for site in sites:
        yield _free(_words(site.upper()) or ["SITE"], _LONGEST_CODE, used, "")


def _words(text: str) -> list[str]:
    """Letters without accents, and digits; all else stands between them."""
    parts = unicodedata.normalize("NFKD", text)
    bare = "".join(letter for letter in parts if not unicodedata.combining(letter))
    words = (word.strip(".") for word in re.split("[^A-Za-z0-9.]+", bare))
    return [word for word in words if word]


def _free(words: Sequence[str], longest: int, used: set[str], ending: str) -> str:
    """The words with hyphens, as many as have room; a number tells it from one that is there."""
    numbers = ([] if number == 1 else [str(number)] for number in count(1))
    names = (_joined(words, last, longest) for last in numbers)
    name = next(name for name in names if f"{name}{ending}".casefold() not in used)
    used.add(f"{name}{ending}".casefold())
    return name


def _joined(words: Sequence[str], last: Sequence[str], longest: int) -> str:
    """A number at the end tells one site from the next, so it stays when words are left out."""
    whole = "-".join((*words, *last))
    if len(whole) <= longest:
        return whole
    if len(words) > 1 and words[-1].isdigit():
        words, last = words[:-1], (words[-1], *last)
    room = longest - len("".join(f"-{word}" for word in last))
    kept = list(words)
    while len(kept) > 1 and len("-".join(kept)) > room:
        kept.pop()
    return "-".join(("-".join(kept)[:room].rstrip("."), *last))


def _entry(node: nodes.Node | None, key: str) -> nodes.Node | None:
    entries = node.entries if isinstance(node, nodes.Mapping) else ()
    return next((entry.value for entry in entries if entry.key.text == key), None)


def _said(node: nodes.Node | None) -> str:
    return node.text if isinstance(node, nodes.Scalar) else ""
