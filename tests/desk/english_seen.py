"""Find English on a page of the desk, by what it may never say and by words no Spanish has."""

from __future__ import annotations

import re
from functools import cache

from playwright.sync_api import Page

from cardgen import faults
from cardgen.words import Words, load_words

# Articles, verbs and prepositions: each English sentence has one, no Spanish one has.
_OF_SENTENCES = re.compile(
    r"\b(the|is|are|of|and|or|to|it|its|has|have|not|with|for|from|this|that|there|write|both|on|at"
    r"|no wire|nothing|must|put|give|take|know|known|cannot|printed|file|box|hot)\b",
    re.IGNORECASE,
)
# What a page says as a file has it, and what both languages have.
_AS_IT_IS = re.compile(
    r"'[^']*'|«[^»]*»|[0-9.]+ (?:x [0-9.]+ )?in\b|[\w.-]+\.(?:yaml|pdf|xlsx|csv|sqlite)|"
    r"[\w-]+(?:-[\w]+)+|/[\w./-]+"
)
_VALUE = re.compile(r"\\\{\w+(?::[^}]*)?\\\}")
# Each text that is shown, offered or read out; a picture of a card says what the card says, in the
# language that is chosen for cards.
_SEEN = """() => {
    const found = [document.title];
    const walk = document.createTreeWalker(document.documentElement, NodeFilter.SHOW_TEXT);
    for (let node = walk.nextNode(); node; node = walk.nextNode()) {
        const box = node.parentElement;
        if (box.closest('script, style, svg, textarea, datalist')) continue;
        if (box.closest('.tabulator-cell') || box.matches('.file-lines li')) continue;  // the file
        if (node.data.trim()) found.push(node.data);
    }
    for (const each of document.querySelectorAll('[aria-label], [title], [placeholder], [alt]'))
        for (const name of ['aria-label', 'title', 'placeholder', 'alt'])
            if (each.getAttribute(name) && !each.closest('figure'))
                found.push(each.getAttribute(name));
    return found;
}"""
_MARKED = """() => [...document.querySelectorAll('[lang]')]
    .filter(each => !each.lang.startsWith('es')).map(each => each.outerHTML.slice(0, 300))"""


def english_on(page: Page) -> list[str]:
    """What is English on it, or said to be: nothing, on a page in Spanish."""
    found = [f"marked: {each}" for each in page.evaluate(_MARKED)]
    for text in page.evaluate(_SEEN):
        said = " ".join(text.split())
        if english_in(said):
            found.append(said)
    return found


@cache
def english_in(text: str) -> bool:
    """Whether it is one of our English texts, has an English sentence, or says that it is so."""
    plain = _AS_IT_IS.sub("", text)
    ours = any(pattern.fullmatch(text.rstrip(".")) for pattern in _english_texts())
    return ours or "en inglés" in text or _OF_SENTENCES.search(plain) is not None


@cache
def _english_texts() -> tuple[re.Pattern[str], ...]:
    """All words of the desk that Spanish says otherwise, and what each fault says."""
    catalogues = [words.catalogues[0].texts for words in map(_words, ("en", "es"))]
    english, spanish = catalogues
    texts = {
        text
        for key, text in english.items()
        if key.startswith(("desk.", "refusal.", "files.", "card fields."))
        and spanish[key].casefold() != text.casefold()
    }
    for fault in faults.ALL.values():
        for variant in ([""] if fault.sentence else []) + [*fault.variants]:
            texts |= set(fault.words(variant))
    # One that is values alone, or nearly so, would be found in any text.
    return tuple(_pattern(text) for text in sorted(texts) if len(re.sub(r"\{.*?\}", "", text)) > 3)


def _words(language: str) -> Words:
    words, problems = load_words((language,))
    assert words is not None, problems
    return words


def _pattern(text: str) -> re.Pattern[str]:
    return re.compile(_VALUE.sub(".+", re.escape(text.rstrip("."))), re.IGNORECASE)
