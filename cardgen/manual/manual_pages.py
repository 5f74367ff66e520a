"""Turn the files of the manual into pages: `job-file.md` is the page `job-file`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from cardgen.reading.shipped import shipped_folder

LAYOUTS = "layouts"  # comes with stock, faces and words
# In the order in which one reads them.
TOPICS = (
    *("install", "desk", "job-file", "conductors", "allot", "spreadsheets", "fixing-errors"),
    *("printing", "stock"),
    *(LAYOUTS, "languages", "record", "server", "readings", "numbers", "safety", "glossary"),
    "library",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ManualPage:
    """Attributes:
    text: Markdown; `# ` and the title, then a paragraph of one line that says what is in it.
    """

    topic: str
    text: str

    @property
    def title(self) -> str:
        return self.text.split("\n", 1)[0].removeprefix("# ")

    @property
    def about(self) -> str:
        """What is in it, in a line."""
        return self.text.split("\n\n")[1]


def page(topic: str) -> ManualPage | None:
    """The page of that name; None if there is none."""
    return pages().get(topic)


@cache
def pages() -> Mapping[str, ManualPage]:
    """All pages by topic, in the order in which one reads them."""
    here = Path(__file__).parent
    files = {topic: here / f"{topic}.md" for topic in TOPICS}
    files[LAYOUTS] = shipped_folder() / "README.md"
    return {
        topic: ManualPage(topic=topic, text=file.read_text(encoding="utf-8"))
        for topic, file in files.items()
    }
