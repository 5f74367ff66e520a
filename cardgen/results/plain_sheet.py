"""Turn rows of words into a spreadsheet (Office Open XML, ISO/IEC 29500-1): one sheet, all text.

A library for workbooks with all that they can hold takes longer to load than the rest of a print.
"""

from __future__ import annotations

import html
import io
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from string import ascii_uppercase

_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_BETWEEN = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_PACKAGE = "http://schemas.openxmlformats.org/package/2006"
_TYPES = "application/vnd.openxmlformats-officedocument.spreadsheetml"
_EPOCH = (1980, 1, 1, 0, 0, 0)  # no clock: the same table, the same bytes
_PARTS = {
    "[Content_Types].xml": (
        f'<Types xmlns="{_PACKAGE}/content-types">'
        '<Default Extension="rels"'
        ' ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        f'<Override PartName="/xl/workbook.xml" ContentType="{_TYPES}.sheet.main+xml"/>'
        f'<Override PartName="/xl/worksheets/sheet1.xml" ContentType="{_TYPES}.worksheet+xml"/>'
        f'<Override PartName="/xl/styles.xml" ContentType="{_TYPES}.styles+xml"/>'
        "</Types>"
    ),
    "_rels/.rels": (
        f'<Relationships xmlns="{_PACKAGE}/relationships">'
        f'<Relationship Id="rId1" Type="{_BETWEEN}/officeDocument" Target="xl/workbook.xml"/>'
        "</Relationships>"
    ),
    "xl/workbook.xml": (
        f'<workbook xmlns="{_MAIN}" xmlns:r="{_BETWEEN}">'
        '<sheets><sheet name="Sheet" sheetId="1" r:id="rId1"/></sheets></workbook>'
    ),
    "xl/_rels/workbook.xml.rels": (
        f'<Relationships xmlns="{_PACKAGE}/relationships">'
        f'<Relationship Id="rId1" Type="{_BETWEEN}/worksheet" Target="worksheets/sheet1.xml"/>'
        f'<Relationship Id="rId2" Type="{_BETWEEN}/styles" Target="styles.xml"/>'
        "</Relationships>"
    ),
    # The second of the two formats is 49, `@`, text (18.8.30).
    "xl/styles.xml": (
        f'<styleSheet xmlns="{_MAIN}">'
        '<fonts count="1"><font><sz val="11"/><name val="Calibri"/></font></fonts>'
        '<fills count="2"><fill><patternFill patternType="none"/></fill>'
        '<fill><patternFill patternType="gray125"/></fill></fills>'
        '<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>'
        '<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/>'
        "</cellStyleXfs>"
        '<cellXfs count="2"><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>'
        '<xf numFmtId="49" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/>'
        "</cellXfs>"
        '<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles>'
        "</styleSheet>"
    ),
}


def plain_sheet(rows: Iterable[Sequence[str]]) -> bytes:
    """Each cell is text, so that nothing typed into it is taken for a date or a formula."""
    stream = io.BytesIO()
    sheet = f'<worksheet xmlns="{_MAIN}"><sheetData>{"".join(_rows(rows))}</sheetData></worksheet>'
    with zipfile.ZipFile(stream, "w") as packed:
        for name, content in {**_PARTS, "xl/worksheets/sheet1.xml": sheet}.items():
            part = f'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n{content}'
            packed.writestr(zipfile.ZipInfo(name, _EPOCH), part, zipfile.ZIP_DEFLATED)
    return stream.getvalue()


def _rows(rows: Iterable[Sequence[str]]) -> Iterator[str]:
    for line, row in enumerate(rows, 1):
        assert len(row) <= len(ascii_uppercase), "no name for a column beyond Z"
        named = zip(ascii_uppercase, row, strict=False)
        cells = (_cell(f"{column}{line}", text) for column, text in named)
        yield f'<row r="{line}">{"".join(cells)}</row>'


def _cell(place: str, text: str) -> str:
    if not text:
        return f'<c r="{place}" s="1"/>'
    said = html.escape(text, quote=False)
    return f'<c r="{place}" s="1" t="inlineStr"><is><t xml:space="preserve">{said}</t></is></c>'
