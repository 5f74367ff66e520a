"""Pages as a printer would see them, rendered by two programs that are not ours."""

from __future__ import annotations

import subprocess
from pathlib import Path

import numpy as np
import pypdfium2
from numpy.typing import NDArray
from PIL import Image

Gray = NDArray[np.uint8]


def by_pdfium(data: bytes, dpi: float, number: int = 0) -> Gray:
    """Brightness of one page, row by row from the top."""
    document = pypdfium2.PdfDocument(data)
    try:
        picture = document[number].render(scale=dpi / 72, grayscale=True).to_pil()
        return np.asarray(picture.convert("L"))
    finally:
        document.close()


def by_poppler(data: bytes, dpi: float, folder: Path) -> Gray:
    """The first page, by poppler."""
    file = folder / "page.pdf"
    file.write_bytes(data)
    subprocess.run(
        ["pdftoppm", "-r", str(dpi), "-gray", "-f", "1", "-l", "1", "-singlefile", file,
         folder / "page"],
        check=True,
    )  # fmt: skip
    with Image.open(folder / "page.pgm") as picture:
        return np.asarray(picture.convert("L"))
