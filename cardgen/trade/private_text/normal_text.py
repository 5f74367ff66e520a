"""Part a text into its sentences and their words, without accents and capitals."""

from __future__ import annotations

import re
import unicodedata

from cardgen.light_dataclass import dataclass
from cardgen.trade.private_text import known

NEAR = 5  # words between a key word and what belongs to it (assumed)

_NUMBER = re.compile(r"[#*]?\d{2,10}[#*]?")
_KEYS = "|".join(
    sorted(
        (*known.CODES, *known.PINS, *known.PASSWORDS, *known.NETWORKS, *known.LOCKS, *known.GATES),
        key=lambda word: (-len(word), word),
    )
)
_ONE_WORD = "|".join(pattern for pattern, _ in known.ONE_WORD)
_IS_ONE_WORD = re.compile(rf"(?:{_ONE_WORD})(?:s|es)?")
_WORD = re.compile(
    rf"\b(?:{_ONE_WORD})(?:s|es)?\b"
    rf"|\b(?:{_KEYS})s?(?=[-.]?\d{{3}}|-[a-z])"  # gate4471, PIN-0042, gate-code
    r"|(?<![\w.,/-])\d{1,2}(?:([ /])\d{1,2})(?:\1\d{1,2}){1,2}(?![\w/-]|[.,]\d)"  # 32 14 6
    r"|[spc]/[a-z]?\b"  # s/n, p/n, c/
    r"|[#*]?\w+(?:[-./']\w+)*(?:(?<=\d)[#*])?"
    r"|[%°]"
)
_ENDS = re.compile(r"[;!?\n\r\v\f\x85\u2028\u2029]")
# What looks like a hyphen is one; a low line parts words, too.
_DASHES = str.maketrans(dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2212_", "-"))


@dataclass(frozen=True, slots=True)
class Word:
    """`gap` is what stands between it and the word before it."""

    text: str
    start: int
    end: int
    gap: str

    def among(self, words: frozenset[str]) -> bool:
        """Whether it is one of the words, or the plural of one."""
        text = self.text.removesuffix("'s")
        forms = (text, text.removesuffix("s"), text.removesuffix("es"))
        return any(form in words for form in forms)

    @property
    def digits(self) -> int:
        """How many a number has; 0 for what is none."""
        return len(self.text.strip("#*")) if _NUMBER.fullmatch(self.text) else 0

    @property
    def is_told(self) -> bool:
        """A colon stands before it."""
        return bool(re.search("[:=]", self.gap))

    @property
    def is_apart(self) -> bool:
        """A comma, a colon or a bracket stands before it."""
        return bool(re.search(r"[:=,(/]", self.gap))

    @property
    def is_mixed(self) -> bool:
        """Letters and digits, as passwords have them: not `24v`, `B12`, `VB-12`."""
        has_both = re.search("[a-z]", self.text) and re.search(r"\d", self.text)
        return bool(has_both) and len(self.text) > 3 and not _OF_TRADE.fullmatch(self.text)


Clause = tuple[Word, ...]

_OF_TRADE = re.compile(
    r"[a-z]{1,3}\d{1,3}[a-z]?|[a-z]{1,4}-[a-z]?\d{1,3}[a-z]?"
    rf"|[\d./x-]+(?:{'|'.join(sorted(known.UNITS))})s?"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class NormalText:
    """Attributes:
    plain: in small letters without accents.
    at: for each letter of `plain` where it stands in the text.
    clauses: its sentences.
    """

    plain: str
    at: tuple[int, ...]
    clauses: tuple[Clause, ...]


def read(text: str) -> NormalText:
    plain, at = in_plain_letters(text)
    return NormalText(plain=plain, at=at, clauses=_clauses(plain))


def in_plain_letters(text: str) -> tuple[str, tuple[int, ...]]:
    """In small letters without accents, and where each of them stands in the text."""
    if text.isascii():
        return text.translate(_DASHES).lower(), tuple(range(len(text)))
    letters: list[str] = []
    at: list[int] = []
    for index, letter in enumerate(text.translate(_DASHES)):
        for part in unicodedata.normalize("NFKD", letter).lower():
            if not unicodedata.combining(part):
                letters.append(part)
                at.append(index)
    return "".join(letters), tuple(at)


def _clauses(plain: str) -> tuple[Clause, ...]:
    """The words of each sentence; the point of `cód. 4471` ends none."""
    clauses: list[list[Word]] = [[]]
    end = 0
    for match in _WORD.finditer(plain):
        gap = plain[end : match.start()]
        last = clauses[-1][-1].text if clauses[-1] else ""
        full_stop = re.search(r"\.\s", gap) and match[0][0].isalpha()
        full_stop = full_stop and last not in known.ABBREVIATIONS
        if full_stop or _ENDS.search(gap):
            clauses.append([])
        clauses[-1].append(Word(_one_word(match[0]), match.start(), match.end(), gap))
        end = match.end()
    return tuple(tuple(clause) for clause in clauses)


def _one_word(text: str) -> str:
    if not _IS_ONE_WORD.fullmatch(text):
        return text
    written = (word for pattern, word in known.ONE_WORD if re.fullmatch(f"{pattern}(s|es)?", text))
    return next(written, text)
