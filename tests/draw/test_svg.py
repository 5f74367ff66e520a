"""Pages as SVG: well-formed, self-contained, the same things at the same places as the page."""

from __future__ import annotations

import io
import xml.etree.ElementTree as ET
from itertools import pairwise
from pathlib import Path

import pytest
import resvg_py
from PIL import Image, ImageChops, ImageFilter

from cardgen import fonts
from cardgen.draw.pdf import pdf
from cardgen.draw.svg import svg
from cardgen.fonts import Weight
from cardgen.layout.geometry import Mm, frame
from cardgen.layout.items import (
    Fill,
    Group,
    Item,
    Outline,
    Page,
    Ring,
    Slope,
    Strokes,
    Swatch,
    TextLine,
)
from cardgen.layout.setting import line
from tests.drawing.drawings import sheets_of
from tests.jobs import SAMPLES
from tests.outside.pages import by_pdfium

SVG = "{http://www.w3.org/2000/svg}"
DPI = 100
OUR_FONTS = [str(fonts.path(name)) for name in fonts.FONT_NAMES]
ELEMENTS = {"svg", "title", "g", "rect", "path", "circle", "text"}


def page_of(*items: Item) -> Page:
    return Page(width=Mm(50), height=Mm(20), own=items)


def written(page: Page, *groups: Group, title: str = "wiring") -> str:
    found = groups or (Group(says="all", level=1, items=page.items),)
    return svg(page, found, title=title)


def root_of(text: str) -> ET.Element:
    return ET.fromstring(text)  # noqa: S314 - what the program itself wrote


def rendered(text: str) -> Image.Image:
    png = bytes(resvg_py.svg_to_bytes(
        svg_string=text, dpi=DPI, skip_system_fonts=True, font_files=OUR_FONTS,
        sans_serif_family="Atkinson Hyperlegible Next",
    ))  # fmt: skip
    return Image.open(io.BytesIO(png)).convert("RGB")


def test_a_text_in_full() -> None:
    text = line("A & B", Weight.BOLD, x_mm=2, y_mm=5, capital_mm=3)
    wide = fonts.width("A & B", Weight.BOLD) * 3
    expected = (
        f'<text x="2" y="5" font-size="4.19" font-weight="700" textLength="{wide:.3f}"'
        ' lengthAdjust="spacingAndGlyphs">A &amp; B</text>'
    )
    assert expected in written(page_of(text))


@pytest.mark.parametrize(
    ("item", "expected"),
    [
        (
            Slope(x1=Mm(4), y1=Mm(1), x2=Mm(2), y2=Mm(3), width=Mm(1.5)),
            '<path d="M4 1h1.5L3.5 3h-1.5z" fill="#000000"/>',
        ),
        (Fill(frame=frame(1, 2, 3, 4)), '<rect x="1" y="2" width="3" height="4" fill="#000000"/>'),
        (
            Outline(frame=frame(1, 1, 4, 4), width=Mm(0.5)),
            '<rect x="1.25" y="1.25" width="3.5" height="3.5" fill="none" stroke="#000000"',
        ),
        (Strokes(segments=(), width=Mm(1)), '<path d="" fill="none"'),
        (Ring(x=Mm(5), y=Mm(6), diameter=Mm(4), width=Mm(0.2)), '<circle cx="5" cy="6" r="2"'),
    ],
)
def test_shapes(item: Item, expected: str) -> None:
    assert expected in written(page_of(item))


def test_names_cannot_break_out() -> None:
    evil = """</text><script>alert("1")</script>'&#0;]]>\x00"""
    text = TextLine(x=Mm(1), y=Mm(5), capital=Mm(3), weight=Weight.MEDIUM, text=evil, runs=())
    group = Group(says=f'" onload="x{evil}', level=1, items=(text,))
    root = root_of(written(page_of(text), group, title=evil))
    assert {element.tag.removeprefix(SVG) for element in root.iter()} <= ELEMENTS
    assert not any(name.startswith("on") for e in root.iter() for name in e.attrib)
    shown = evil.replace("\x00", "\ufffd")
    assert [e.text for e in root.iter(f"{SVG}text")] == [shown]
    assert root.findtext(f"{SVG}title") == shown


@pytest.mark.parametrize("name", SAMPLES)
def test_every_sheet_is_xml_that_needs_nothing_from_outside(name: str) -> None:
    for sheet in sheets_of(name):
        text = svg(sheet.page, sheet.groups, title="wiring")
        root = root_of(text)
        assert {element.tag.removeprefix(SVG) for element in root.iter()} <= ELEMENTS
        assert text.count("http") == 1  # the namespace, which is a name and no address
        assert "href" not in text and "url(" not in text and "style" not in text
        assert text == svg(sheet.page, sheet.groups, title="wiring")
        assert root.get("viewBox") == "0 0 279.4 215.9"


@pytest.mark.parametrize("name", SAMPLES)
def test_it_has_the_texts_of_the_page_at_their_points_and_as_long(name: str) -> None:
    for sheet in sheets_of(name):
        root = root_of(svg(sheet.page, sheet.groups, title="wiring"))
        found = list(root.iter(f"{SVG}text"))
        wanted = [item for item in sheet.page.items if isinstance(item, TextLine)]
        assert [e.text for e in found] == [item.text for item in wanted]
        for element, item in zip(found, wanted, strict=True):
            long = fonts.width(item.text, item.weight) * item.capital
            numbers = [float(element.get(key, "")) for key in ("x", "y", "textLength")]
            assert numbers == pytest.approx([item.x, item.y, long], abs=1e-3)


@pytest.mark.parametrize("name", SAMPLES)
def test_a_reader_that_does_not_see_it_hears_the_tree(name: str) -> None:
    for sheet in sheets_of(name):
        root = root_of(svg(sheet.page, sheet.groups, title="wiring"))
        (whole,) = root.findall(f"{SVG}g")
        assert whole.get("role") == "list"
        items = whole.findall(f"{SVG}g")
        assert {item.get("role") for item in items} == {"listitem"}
        assert [item.get("aria-label") for item in items] == [g.says for g in sheet.groups]
        levels = [int(item.get("aria-level", "")) for item in items]
        assert levels[0] == 1 and min(levels) == 1
        starts = [b - a for a, b in pairwise(levels)]
        assert max(starts, default=0) <= 2
        for hidden in root.iter(f"{SVG}g"):
            if hidden.get("aria-hidden"):
                assert not list(hidden.iter(f"{SVG}text"))


def test_a_renderer_sees_what_another_sees_in_the_pdf(tmp_path: Path) -> None:
    """Ink within a millimeter of the other's ink; letters may be some tenths aside."""
    sheet = sheets_of("quarry")[0]
    path = tmp_path / "wiring-drawing-1.svg"
    path.write_text(svg(sheet.page, sheet.groups, title="wiring"), encoding="utf-8")
    ours = rendered(path.read_text(encoding="utf-8")).convert("L")
    other = by_pdfium(pdf([sheet.page], title="t", subject="s"), dpi=DPI).convert("L")
    assert abs(ours.width - other.width) <= 1 and abs(ours.height - other.height) <= 1
    other = other.crop((0, 0, ours.width, ours.height))
    for one, two in ((ours, other), (other, ours)):
        assert _strays(one, two) < 0.002 * _ink(one)


def _strays(one: Image.Image, two: Image.Image) -> int:
    """Dark points of one that have no dark point of the other within four points (1 mm)."""
    dark = one.point(lambda v: 255 if v < 128 else 0)
    near = two.point(lambda v: 255 if v < 160 else 0).filter(ImageFilter.MaxFilter(9))
    return _ink(ImageChops.invert(ImageChops.subtract(dark, near)))


def _ink(picture: Image.Image) -> int:
    return sum(picture.histogram()[:128])


def test_a_swatch_is_drawn_as_in_the_pdf() -> None:
    swatch = next(i for i in sheets_of("quarry")[0].page.items if isinstance(i, Swatch))
    root = root_of(written(page_of(swatch)))
    shapes = [e for e in root.iter() if e.tag in (f"{SVG}rect", f"{SVG}path")]
    assert len(shapes) == len(swatch.parts) + 1  # the paper itself
