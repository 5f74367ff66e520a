"""Two languages on one card: each is a sentence of its own, no word of one stands in the other.

For that all samples are printed with catalogues that have `Ê` for every English word and `Ñ` for
every Spanish one, so that whatever a line says, its languages can be seen:

```
Ê Ê A1 / Ñ Ñ A1      each language whole
Ê / Ñ A1             two labels before what is the same in both
Ê Ê / Ñ A1 Ê         mixed: what must not be
```
Texts that are the same in both languages stay as they are.
"""

from __future__ import annotations

import json
import re
from collections import defaultdict
from collections.abc import Iterator, Mapping
from pathlib import Path

import pypdfium2 as pdfium
import pytest
from pypdfium2 import raw

from cardgen.cards import cards_of
from cardgen.drawing import home_runs
from cardgen.drawing.drawing_parts import HomeRun
from cardgen.examine import examine_text
from cardgen.output.as_printable import as_printable
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import make_print
from cardgen.output.selection import Selection
from cardgen.words import load_words
from tests.jobs import SAMPLES, sample
from tests.test_languages import GROUPS, texts

E, S = "Ê", "Ñ"
WORD = re.compile(r"\{\w+\}|[^\W\d_]+(?:['-][^\W\d_]+)*")
STROKE = "\u00a0/ "
NAMES = [pytest.param(name, marks=GROUPS[name]) for name in SAMPLES]


def marked(text: str, letter: str) -> str:
    """Every word as one letter; what the program fills in stays."""
    return WORD.sub(lambda found: found[0] if found[0].startswith("{") else letter, text)


@pytest.fixture(scope="module")
def layouts(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with words of one's own: the shipped ones, marked where the languages differ."""
    folder = tmp_path_factory.mktemp("marked")
    (folder / "words").mkdir()
    known = {language: shipped(language) for language in ("en", "es")}
    for language, letter, other in (("en", E, "es"), ("es", S, "en")):
        own: dict[str, dict[str, str]] = defaultdict(dict)
        for name, text in known[language].items():
            section, _, key = name.partition(".")
            own[section][key] = text if text == known[other][name] else marked(text, letter)
        file = folder / "words" / f"{language}.yaml"
        file.write_text(json.dumps(own), encoding="utf-8")  # JSON is YAML
    return folder


def shipped(language: str) -> Mapping[str, str]:
    words, _ = load_words((language,))
    assert words is not None
    return words.catalogues[0].texts


def mixed(text: str) -> bool:
    """Whether in a statement one language stands within the other."""
    return any(
        E in statement
        and S in statement
        and not re.fullmatch(f"[^{E}{S}]*{E}[^{S}]*{STROKE}[^{E}]*", statement)
        for statement in re.split(r" · |[()]", text)  # what is in brackets is said apart
    )


def drawn(homes: tuple[HomeRun, ...]) -> Iterator[str]:
    for home in homes:
        yield home.about
        stops = (stop for run in home.runs for stop in run.stops)
        for stop in stops:
            yield from (stop.about, stop.stretch.inside, stop.stretch.length)
        lines = (*home.lines, *(line for stop in home.stops for line in stop.lines))
        for line in lines:
            yield from (line.source, line.lands, line.name, line.text)


@pytest.mark.parametrize(
    ("text", "is_mixed"),
    [
        (f"{E} {E} A1{STROKE}{S} A1", False),
        (f"{E}{STROKE}{S} A1, 7", False),
        (f"A1 · {E}{STROKE}{S} · {E} 3{STROKE}{S} 3", False),
        (f"{E} A1", False),
        (f"{E}{STROKE}{S} RD ({E}{STROKE}{S} A1)", False),
        (f"{E}{STROKE}{S} A1, {E}{STROKE}{S} 7", True),
        (f"{E} {S}", True),
        (f"{S}{STROKE}{E}", True),
        (f"{E} {E}{STROKE}{S} A1 {E}", True),
    ],
)
def test_the_search_finds_what_is_mixed(text: str, is_mixed: bool) -> None:
    assert mixed(text) is is_mixed


@pytest.mark.parametrize("name", NAMES)
def test_no_text_of_a_card_mixes_its_languages(name: str, layouts: Path) -> None:
    both, problems = load_words(("en", "es"), layouts)
    assert both is not None, problems
    printable = as_printable(examine_text(sample(name)), both)
    assert printable is not None
    said = [
        text
        for cards in cards_of(printable).values()
        for card in cards
        for text in texts(tuple(card.fields.values()))
    ]
    said += drawn(home_runs(printable))
    assert [text for text in dict.fromkeys(said) if mixed(text)] == []
    assert sum(E in text and S in text for text in said) > 100  # there was something to find


def lines_of(pdf: bytes) -> Iterator[str]:
    """What each text object of a file says; a line is one, or some with other letters between."""
    for page in pdfium.PdfDocument(pdf):
        characters = page.get_textpage()
        for found in page.get_objects(filter=(raw.FPDF_PAGEOBJ_TEXT,)):
            size = raw.FPDFTextObj_GetText(found, characters, None, 0)
            letters = (raw.FPDF_WCHAR * (size // 2))()
            raw.FPDFTextObj_GetText(found, characters, letters, size)
            yield "".join(map(chr, letters)).rstrip("\0")


@pytest.mark.parametrize("name", NAMES)
def test_no_printed_line_goes_back_to_the_first_language(name: str, layouts: Path) -> None:
    """Of every file; of the campus what belongs to its two-wire controller, which says most."""
    selection = Selection(controllers=("D",) if name == "heron" else ())
    request = PrintRequest(selection=selection, languages=("en", "es"), layouts=layouts)
    made, problems = make_print(examine_text(sample(name)), request)
    assert made is not None, problems
    lines = {
        line: file
        for file, data in made.files.items()
        if file.endswith(".pdf")
        for line in lines_of(data)
    }
    # A line may begin within the second language, wrapped; a label ends with a colon, and what is
    # in brackets is said apart.
    back = re.compile(f"{S}[^·:(]*{E}")
    assert {line: file for line, file in lines.items() if back.search(line)} == {}
    assert sum(E in line for line in lines) > 50 < sum(S in line for line in lines)
