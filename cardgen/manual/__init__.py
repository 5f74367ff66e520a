"""The pages of the manual, which come with the program, and how a terminal shows them."""

from cardgen.manual.manual_pages import ManualPage, page, pages
from cardgen.manual.terminal import as_text

__all__ = ["ManualPage", "as_text", "page", "pages"]
