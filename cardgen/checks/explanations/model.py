"""What is told about one code: why it matters, the way out, a snippet with it and one without."""

from __future__ import annotations

from dataclasses import dataclass
from textwrap import dedent

from cardgen.problems import Verdict

SNIPPET_WIDTH = 76  # so that a terminal of 80 columns shows it set in by four


@dataclass(frozen=True, slots=True, kw_only=True)
class Explanation:
    """Attributes:
    why: why it matters on site.
    mend: the way out.
    wrong, right: parts of a job with and without it; empty where no text can show it.
    base: the sound job whose sections the snippets take the place of; `text` if they are the
        whole file, `stock`, `face` or `words` for layouts, `allot` where it comes only while
        allotting, `print` where it comes only while printing, `results` for readings in a CSV file.
    """

    code: str
    verdict: Verdict
    title: str
    why: str
    mend: str
    wrong: str = ""
    right: str = ""
    base: str = "plain"


def error(
    code: str, title: str, why: str, mend: str, *snippets: str, base: str = "plain"
) -> Explanation:
    return _entry(Verdict.ERROR, code, (title, why, mend), snippets, base)


def warning(
    code: str, title: str, why: str, mend: str, *snippets: str, base: str = "plain"
) -> Explanation:
    return _entry(Verdict.WARNING, code, (title, why, mend), snippets, base)


def note(
    code: str, title: str, why: str, mend: str, *snippets: str, base: str = "plain"
) -> Explanation:
    return _entry(Verdict.NOTE, code, (title, why, mend), snippets, base)


def _entry(
    verdict: Verdict, code: str, words: tuple[str, str, str], snippets: tuple[str, ...], base: str
) -> Explanation:
    wrong, right = (_narrow(dedent(text).strip("\n")) for text in (*snippets, "", "")[:2])
    title, why, mend = (" ".join(text.split()) for text in words)
    return Explanation(
        code=code,
        verdict=verdict,
        title=title,
        why=why,
        mend=mend,
        wrong=wrong,
        right=right,
        base=base,
    )


def _narrow(snippet: str) -> str:
    """The snippet with long lines broken inside their brackets, where YAML allows it."""
    lines: list[str] = []
    for line in snippet.splitlines():
        rest, start = line, line.find("{") + 1
        while start and len(rest) > SNIPPET_WIDTH:
            cut = rest.rfind(", ", start, SNIPPET_WIDTH) + 1 or rest.rfind(
                " ", start, SNIPPET_WIDTH
            )
            lines.append(rest[:cut])
            rest = " " * start + rest[cut:].lstrip()
        lines.append(rest)
    return "\n".join(lines)
