"""Read printed tags back from paper: a folder of PDFs in, JSON with lines and addresses out.

A program of its own, so that the memory of its decoders counts for nobody else.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.outside import pages


def tags(pdf: bytes) -> Iterator[dict[str, list[str]]]:
    """Each page as one tag with all the lines and codes that are on it."""
    for page, text in enumerate(pages.text_by_pdfium(pdf)):
        found = pages.by_zxing(pages.by_pdfium(pdf, 200, page))
        yield {"lines": text.splitlines(), "addresses": [code.text for code in found]}


def main() -> None:
    paths = sorted(Path(sys.argv[1]).rglob("*.pdf"))
    json.dump([tag for path in paths for tag in tags(path.read_bytes())], sys.stdout)


if __name__ == "__main__":
    main()
