"""The pages of the manual, which come with the program, and how a terminal shows them."""

from cardgen.manual.pages import Page, page, pages
from cardgen.manual.terminal import as_text

__all__ = ["Page", "as_text", "page", "pages"]
