"""Turn a photo from a phone into one that is kept: smaller, and with nothing in it but the picture.

It is decoded and encoded anew, so that neither the place it was taken at nor anything hidden behind
the picture is kept.
"""

from __future__ import annotations

import io
from threading import Lock

from PIL import Image, ImageOps, UnidentifiedImageError

from cardgen.server.entries import Photo

LONGEST_PX = 1600  # pixels of the longer side: a splice can be read, and the file stays near 300 KB
QUALITY = 82
# Pixels of what is sent; a large JPEG is decoded at a fraction of its size, the others are not.
MOST_PIXELS = {"JPEG": 80_000_000, "PNG": 30_000_000, "WEBP": 30_000_000}
MEDIA = "image/jpeg"
ACCEPTED = "image/jpeg,image/png,image/webp"
# ISO 14496-12, 4.3: a file type box names the brands; these are of ISO 23008-12 (HEIF).
_HEIF = {b"heic", b"heix", b"hevc", b"heim", b"heis", b"mif1", b"msf1"}
_one_at_a_time = Lock()  # a picture takes up to 120 MB while it is decoded


class BadPhoto(Exception):
    """A photo that is not kept.

    Attributes:
        name: `heic`, `no photo`, `photo too many pixels`, `photo damaged`.
    """

    def __init__(self, name: str) -> None:
        super().__init__(name)
        self.name = name


def fit_photo(data: bytes) -> Photo:
    """The picture as it is kept.

    Raises:
        BadPhoto: if it is none, or none that is taken.
    """
    if data[4:8] == b"ftyp" and data[8:12] in _HEIF:
        raise BadPhoto("heic")
    with _one_at_a_time:
        try:
            return Photo(MEDIA, _encoded(_decoded(data)))
        except (Image.DecompressionBombError, Image.DecompressionBombWarning) as fault:
            raise BadPhoto("photo too many pixels") from fault
        except (OSError, SyntaxError, ValueError, EOFError) as fault:
            # What Pillow raises for bytes that are not what they begin as.
            raise BadPhoto("photo damaged") from fault


def _decoded(data: bytes) -> Image.Image:
    try:
        picture = Image.open(io.BytesIO(data), formats=list(MOST_PIXELS))
    except UnidentifiedImageError as fault:
        raise BadPhoto("no photo") from fault
    assert picture.format is not None  # else it was not identified
    if picture.width * picture.height > MOST_PIXELS[picture.format]:
        raise BadPhoto("photo too many pixels")
    picture.draft("RGB", (LONGEST_PX, LONGEST_PX))
    picture.load()
    ImageOps.exif_transpose(picture, in_place=True)
    picture.thumbnail((LONGEST_PX, LONGEST_PX))
    return picture


def _encoded(picture: Image.Image) -> bytes:
    """On white, since a JPEG has no transparency; a new picture has none of the old one's notes."""
    seen = picture.convert("RGBA")
    clean = Image.new("RGB", picture.size, "white")
    clean.paste(seen, mask=seen.getchannel("A"))
    stream = io.BytesIO()
    clean.save(stream, "JPEG", quality=QUALITY, optimize=True)
    return stream.getvalue()
