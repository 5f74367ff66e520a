"""A photo is kept as a picture and nothing else."""

from __future__ import annotations

import io
import struct
import zlib
from collections.abc import Callable

import pytest
from PIL import ExifTags, Image

from cardgen.server.photos import LONGEST_PX, BadPhoto, fit_photo
from tests.server.crews import READINGS, REPORTS, Served, enter, told

# Half red, half blue, so that a turned picture shows it.
RED, BLUE = (200, 30, 30), (30, 30, 200)


def picture(width: int = 60, height: int = 40) -> Image.Image:
    """Red on the left, blue on the right."""
    made = Image.new("RGB", (width, height), RED)
    made.paste(BLUE, (width // 2, 0, width, height))
    return made


def encoded(made: Image.Image, kind: str = "JPEG", **more: object) -> bytes:
    stream = io.BytesIO()
    made.save(stream, kind, **more)
    return stream.getvalue()


def with_exif(orientation: int = 1) -> bytes:
    """As a phone takes it: with the place, the device and a preview in it."""
    exif = Image.Exif()
    exif[ExifTags.Base.Orientation] = orientation
    exif[ExifTags.Base.Model] = "A Phone"
    exif[ExifTags.Base.Artist] = "Ana Example"
    exif.get_ifd(ExifTags.IFD.GPSInfo)[ExifTags.GPS.GPSLatitudeRef] = "N"
    exif.get_ifd(ExifTags.IFD.GPSInfo)[ExifTags.GPS.GPSLatitude] = (47.0, 11.0, 30.0)
    return encoded(picture(), exif=exif, comment=b"secret remark")


def kept(data: bytes) -> Image.Image:
    photo = fit_photo(data)
    assert photo.media == "image/jpeg"
    return Image.open(io.BytesIO(photo.data))


def test_place_device_names_and_remarks_are_gone() -> None:
    sent = with_exif()
    assert b"A Phone" in sent and b"secret remark" in sent
    found = kept(sent)
    assert dict(found.getexif()) == {}
    assert set(found.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
    assert not any(
        word in fit_photo(sent).data for word in (b"A Phone", b"Ana", b"secret", b"Exif")
    )


# EXIF 2.3, tag 0x0112: which side of the stored picture is up. By number, the color that is then
# seen top left.
@pytest.mark.parametrize(
    ("orientation", "size", "first"),
    [
        (1, (60, 40), RED),
        (2, (60, 40), BLUE),
        (3, (60, 40), BLUE),
        (4, (60, 40), RED),
        (5, (40, 60), RED),
        (6, (40, 60), RED),
        (7, (40, 60), BLUE),
        (8, (40, 60), BLUE),
    ],
)
def test_it_stands_upright(
    orientation: int, size: tuple[int, int], first: tuple[int, int, int]
) -> None:
    found = kept(with_exif(orientation))
    assert found.size == size
    seen = found.getpixel((3, 3))
    assert isinstance(seen, tuple)
    assert (seen[0] > seen[2]) == (first == RED)


@pytest.mark.parametrize(
    ("width", "height", "size"),
    [(4000, 3000, (1600, 1200)), (3000, 4000, (1200, 1600)), (100, 50, (100, 50))],
)
def test_its_longer_side_is_bounded(width: int, height: int, size: tuple[int, int]) -> None:
    assert kept(encoded(picture(width, height))).size == size
    assert max(size) <= LONGEST_PX


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_what_phones_send_is_taken(kind: str) -> None:
    assert kept(encoded(picture(), kind)).format == "JPEG"


@pytest.mark.parametrize("mode", ["L", "P", "1", "CMYK", "I;16", "LA", "RGBA"])
def test_every_mode_becomes_a_plain_picture(mode: str) -> None:
    kind = "JPEG" if mode == "CMYK" else "PNG"
    made = Image.new("I;16", (60, 40), 9) if mode == "I;16" else picture().convert(mode)
    assert kept(encoded(made, kind)).mode == "RGB"


def test_what_is_transparent_is_white() -> None:
    assert kept(encoded(Image.new("RGBA", (9, 9), (255, 0, 0, 0)), "PNG")).getpixel((4, 4)) == (
        *(255, 255, 255),
    )


def test_of_a_moving_picture_the_first_is_kept() -> None:
    frames = [picture(), Image.new("RGB", (60, 40), BLUE)]
    moving = encoded(frames[0], "WEBP", save_all=True, append_images=frames[1:], lossless=True)
    seen = kept(moving).getpixel((3, 3))
    assert isinstance(seen, tuple) and seen[0] > seen[2]


def test_what_hides_behind_a_picture_is_gone() -> None:
    page = b"<html><script>alert(1)</script></html>"
    sent = encoded(picture()) + page
    assert page not in fit_photo(sent).data
    assert kept(sent).size == (60, 40)


def test_the_same_photo_gives_the_same_bytes() -> None:
    assert fit_photo(with_exif()) == fit_photo(with_exif())


def png(width: int, height: int, rows: bytes) -> bytes:
    """A PNG of 1 bit (W3C PNG, 5 and 11), with whatever stands for its rows."""

    def chunk(name: bytes, data: bytes) -> bytes:
        check = struct.pack(">I", zlib.crc32(name + data))
        return struct.pack(">I", len(data)) + name + data + check

    head = struct.pack(">IIBBBBB", width, height, 1, 0, 0, 0, 0)
    body = chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows, 9)) + chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + body


def bomb() -> bytes:
    """A small file of 900 million pixels."""
    return png(30_000, 30_000, b"\0" * 1_000_000)


def heic() -> bytes:
    # ISO 14496-12, 4.3: size, `ftyp`, major brand, version, compatible brands.
    return struct.pack(">I", 24) + b"ftypheic" + b"\0\0\0\0" + b"mif1heic" + b"\0" * 100


@pytest.mark.parametrize(
    ("made", "name"),
    [
        (heic, "heic"),
        (bomb, "photo too many pixels"),
        (lambda: png(7_000, 5_000, b"\0" * 1_000), "photo too many pixels"),
        # As many as may be, 30 million: it is looked at, and has no rows.
        (lambda: png(6_000, 5_000, b"\0" * 1_000), "photo damaged"),
        (lambda: encoded(picture())[:400], "photo damaged"),
        (lambda: encoded(picture().resize((600, 400)), "PNG")[:-60], "photo damaged"),
        (lambda: b"\xff\xd8\xff\xe0 no more", "photo damaged"),
        (lambda: encoded(picture(), "GIF"), "no photo"),
        (lambda: encoded(picture(), "TIFF"), "no photo"),
        (lambda: encoded(picture(), "PDF"), "no photo"),
        (lambda: b"<svg xmlns='http://www.w3.org/2000/svg'/>", "no photo"),
        (lambda: b"<html><script>alert(1)</script>", "no photo"),
        (lambda: b"\0", "no photo"),
    ],
)
def test_what_is_no_photo_is_refused(made: Callable[[], bytes], name: str) -> None:
    with pytest.raises(BadPhoto) as refused:
        fit_photo(made())
    assert refused.value.name == name


def test_it_is_sent_again_to_a_crew_only_and_below_its_own_job(record: Served) -> None:
    crew = record.crew()
    # What its sender says of it means nothing.
    claimed = {"photo": ("../../x.html", "text/html", with_exif(6))}
    id_ = str(told(enter(crew, {"notes": "splice"}, claimed))["id"])
    path = READINGS.replace("READINGS_", f"PHOTOS_/{id_}")
    answer = crew.get(path)
    assert (answer.status, answer.headers["content-type"]) == (200, "image/jpeg")
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers["content-security-policy"].startswith("default-src 'none'")
    assert "no-store" in answer.headers["cache-control"]
    assert Image.open(io.BytesIO(answer.body)).size == (40, 60)
    assert record.anyone().get(path).status == 303
    for wrong in (f"/K5T0VD83XB6Z/PHOTOS_/{id_}", f"{path}x", path.replace(id_, "..")):
        assert crew.get(wrong).status == 404, wrong


def test_a_report_may_be_a_photo_alone(record: Served) -> None:
    crew = record.crew()
    said = {"kind": "difference", "box": "VB-2"}
    assert enter(crew, said, {"photo": ("a.jpg", "image/jpeg", with_exif())}).status == 200
    assert "PHOTOS_/" in crew.get(REPORTS).text


@pytest.mark.parametrize(
    ("made", "sentence"),
    [(heic, "This kind of photo (HEIC)"), (bomb, "This photo has too many pixels")],
)
def test_what_is_refused_says_the_way_out(
    record: Served, made: Callable[[], bytes], sentence: str
) -> None:
    before = len(record.stored())
    answer = enter(record.crew(), None, {"photo": ("a.jpg", "image/jpeg", made())})
    assert answer.status == 400
    assert str(told(answer)["sentence"]).startswith(sentence)
    assert len(record.stored()) == before


def test_a_file_that_was_not_chosen_is_no_photo(record: Served) -> None:
    answer = enter(record.crew(), None, {"photo": ("", "application/octet-stream", b"")})
    assert answer.status == 200
    assert not record.stored()[-1].photo
