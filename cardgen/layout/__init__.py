"""Stage 7: turn cards, a face and a stock into pages of items at exact points."""

from cardgen.layout.furniture import Stamp
from cardgen.layout.geometry import Mm
from cardgen.layout.items import Item, Page
from cardgen.layout.layout_loader import Layouts, load_layouts
from cardgen.layout.pages import Sheets, lay_out, sheets_for
from cardgen.layout.scales import NarrowerDigits
from cardgen.layout.stock import Stock

__all__ = [
    "Item",
    "Layouts",
    "Mm",
    "NarrowerDigits",
    "Page",
    "Sheets",
    "Stamp",
    "Stock",
    "lay_out",
    "load_layouts",
    "sheets_for",
]
