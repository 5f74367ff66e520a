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

_LONGEST_FILE, _LONGEST_CODE = 40, 12  # letters; assumed: a longer code has no room on small tags
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
        stem = _cut(_ascii(site.replace(".", " ")).lower(), _LONGEST_FILE) or "site"
        stem = f"{stem}-site" if _DEVICE.fullmatch(stem) else stem
        yield f"{_free(stem, used, '.yaml')}.yaml"


def site_codes(sites: Sequence[str], taken: Iterable[str]) -> Iterator[str]:
    """A code for each: what is short stays, with hyphens; of a long one its first words."""
    used = {code.casefold() for code in taken}
    for site in sites:
        yield _free(_cut(_ascii(site).upper(), _LONGEST_CODE) or "SITE", used, "")


def _ascii(text: str) -> str:
    """Letters without accents, digits, and hyphens for all else."""
    parts = unicodedata.normalize("NFKD", text)
    bare = "".join(letter for letter in parts if not unicodedata.combining(letter))
    return re.sub(r"-{2,}", "-", re.sub(r"[^A-Za-z0-9.]+", "-", bare)).strip("-.")


def _cut(text: str, longest: int) -> str:
    """Whole words, where that leaves one."""
    if len(text) <= longest:
        return text
    words = text[: longest + 1].rpartition("-")[0]
    return (words or text[:longest]).strip("-.")


def _free(name: str, used: set[str], ending: str) -> str:
    names = (name if n == 1 else f"{name}-{n}" for n in count(1))
    free = next(each for each in names if f"{each}{ending}".casefold() not in used)
    used.add(f"{free}{ending}".casefold())
    return free


def _entry(node: nodes.Node | None, key: str) -> nodes.Node | None:
    entries = node.entries if isinstance(node, nodes.Mapping) else ()
    return next((entry.value for entry in entries if entry.key.text == key), None)


def _said(node: nodes.Node | None) -> str:
    return node.text if isinstance(node, nodes.Scalar) else ""
