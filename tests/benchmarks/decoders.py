"""Read a damaged symbol with three decoders that share no code: ZXing, ZBar, OpenCV."""

from __future__ import annotations

from collections.abc import Iterator

import cv2
import numpy as np
import zxingcpp
from numpy.typing import NDArray
from pyzbar import pyzbar


def readers(picture: NDArray[np.uint8], address: str) -> Iterator[bool]:
    """Whether ZXing, ZBar and OpenCV read the address from it."""
    qr = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)
    yield any(c.text == address for c in zxingcpp.read_barcodes(picture, formats=qr))
    found = pyzbar.decode(picture, symbols=[pyzbar.ZBarSymbol.QRCODE])
    yield any(c.data.decode(errors="replace") == address for c in found)
    try:
        text = cv2.QRCodeDetector().detectAndDecode(picture)[0]
    except cv2.error:  # it gives up on some crooked finds
        text = ""
    yield text == address
