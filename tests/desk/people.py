"""A person at a page of the desk: what is done by hand, and the words that must be looked at.

A click, a key and a paste are an action each; a typed text has one for each of its words. A
sentence is read once, wherever it comes again, and of a list of choices the one that is shown.
What the person has typed or pasted is known: its words are not counted where they come again, as
in the names of wires.
"""

from __future__ import annotations

import re

from playwright.sync_api import Locator, Page

from tests.desk.desks import cell, pasted

# A word has a letter: figures, signs and names of things like `A12` and `VB-3` are no words.
_WORD = re.compile(r"[^\W\d_]{2,}")
_END = re.compile(r"(?<=[.:?!]) ")  # of a sentence
# Each text that is shown, by the block in which it is: what stands together is read together.
_SHOWN = """() => {
    const found = [];
    const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walk.nextNode(); node; node = walk.nextNode()) {
        const box = node.parentElement;
        if (!box.checkVisibility({visibilityProperty: true, opacityProperty: true})) continue;
        if (box.closest('option') || !box.getClientRects().length) continue;
        found.push(node.data);
    }
    for (const choice of document.querySelectorAll('select')) {
        if (choice.checkVisibility()) found.push(choice.selectedOptions[0]?.text ?? '');
    }
    return found;
}"""
# Nothing is on its way to the file or back, and what is shown is of the text as it is.
SETTLED = """() => typeof jobPage === 'undefined' || (
    !jobPage.isOccupied && !jobPage.preview.isDue
    && document.body.dataset.judged === jobPage.version)"""


class Person:
    """Counts what one does, and what one reads, on one way through the pages."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.actions = 0
        self.read: dict[str, int] = {}  # texts with their words, in order
        self._known: set[str] = set()

    @property
    def words(self) -> int:
        return sum(self.read.values())

    def look(self) -> None:
        """At all that is shown, once it does not change any more."""
        self.page.wait_for_function(SETTLED, polling=50)
        for text in self.page.evaluate(_SHOWN):
            for sentence in _END.split(" ".join(text.split())):
                new = [word for word in _WORD.findall(sentence) if word.lower() not in self._known]
                self.read.setdefault(sentence, len(new))

    def click(self, where: Locator) -> None:
        where.click()
        self.actions += 1

    def fill(self, label: str, text: str) -> None:
        """A field of a form, by its label."""
        self.page.get_by_label(label).fill(text)
        self._types(text)
        self.actions += 1  # into the field

    def type(self, row: int, key: str, *texts: str) -> None:
        """From a cell on, Tab between cells and Enter at the end."""
        self.click(cell(self.page, row, key))
        for number, text in enumerate(texts, 1):
            self.page.keyboard.type(text)
            self._types(text)
            self.page.keyboard.press("Tab" if number < len(texts) else "Enter")
            self.actions += 1

    def paste(self, row: int, key: str, *lines: str) -> None:
        """A block that another program has."""
        pasted(self.page, row, key, *lines)
        self.actions += 2  # into the cell, and the keys
        for line in lines:
            self._knows(line)

    def _types(self, text: str) -> None:
        self._knows(text)
        self.actions += len(text.split())

    def _knows(self, text: str) -> None:
        self._known.update(word.lower() for word in _WORD.findall(text))
