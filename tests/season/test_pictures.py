"""Photos: known by what they hold, kept without the place and time a camera writes into them."""

import zlib
from struct import pack

import pytest

from haulm.measure.errors import FaultsFoundError
from haulm.season.pictures import MOST_BYTES, bare_picture

PLACE = b"GPSLatitude 47.123"


def segment(marker: int, body: bytes) -> bytes:
    """Make a JPEG segment (ITU-T T.81, B.1.1.4)."""
    return bytes([0xFF, marker]) + pack(">H", len(body) + 2) + body


def exif(way: int, order: str = ">") -> bytes:
    """Make an Exif segment that says which way up a picture is and where it was taken."""
    mark = b"MM" if order == ">" else b"II"
    tags = pack(f"{order}HHIHH", 0x0112, 3, 1, way, 0) + pack(f"{order}HHII", 0x8825, 4, 1, 99)
    tiff = mark + pack(f"{order}HI", 42, 8) + pack(f"{order}H", 2) + tags + pack(f"{order}I", 0)
    return segment(0xE1, b"Exif\x00\x00" + tiff + PLACE)


SCAN = segment(0xDA, b"\x01\x01\x00\x00\x3f\x00") + b"\x12\xff\x00\x34\xff\xd0\x56\xff\xd9"
HEAD = b"\xff\xd8"
COLOURS = segment(0xE2, b"ICC_PROFILE\x00" + b"p3")
TABLES = segment(0xDB, bytes(65)) + segment(0xC0, bytes(15)) + segment(0xC4, bytes(20))


def chunk(name: bytes, body: bytes) -> bytes:
    """Make a PNG chunk (W3C PNG, 5.3)."""
    return pack(">I", len(body)) + name + body + pack(">I", zlib.crc32(name + body))


def webp(*chunks: tuple[bytes, bytes]) -> bytes:
    """Make a WebP file (RFC 9649, section 2)."""
    body = b"WEBP"
    for name, data in chunks:
        body += name + pack("<I", len(data)) + data + b"\x00" * (len(data) % 2)
    return b"RIFF" + pack("<I", len(body)) + body


@pytest.mark.parametrize("order", [">", "<"])
def test_a_jpeg_keeps_the_picture_and_which_way_up_it_is(order: str) -> None:
    """Place, camera and comment are gone; the picture, its colours and its turn are there."""
    comment = segment(0xFE, b"by Ines, at home")
    maker = segment(0xE2, b"MPF\x00" + PLACE)
    data = HEAD + exif(6, order) + maker + COLOURS + comment + TABLES + SCAN + b"another" + PLACE
    bare = bare_picture(data)
    assert bare.media_type == "image/jpeg"
    assert PLACE not in bare.data
    assert b"Ines" not in bare.data
    assert bare.data.endswith(COLOURS + TABLES + SCAN)
    assert b"\x01\x12\x00\x03\x00\x00\x00\x01\x00\x06" in bare.data
    assert bare_picture(bare.data) == bare


def test_an_upright_jpeg_needs_no_exif() -> None:
    """A picture that is the right way up keeps nothing of the camera's notes."""
    assert bare_picture(HEAD + exif(1) + TABLES + SCAN).data == HEAD + TABLES + SCAN


def test_a_png_keeps_the_chunks_that_draw() -> None:
    """Texts and Exif of a PNG are left out."""
    head, end = b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", bytes(13)), chunk(b"IEND", b"")
    drawn = chunk(b"IDAT", zlib.compress(bytes(9)))
    told = chunk(b"eXIf", PLACE) + chunk(b"tEXt", b"Author\x00Ines") + chunk(b"iTXt", PLACE)
    bare = bare_picture(head + told + drawn + end + PLACE)
    assert (bare.media_type, bare.data) == ("image/png", head + drawn + end)


def test_a_webp_keeps_all_but_exif_and_xmp() -> None:
    """A WebP file says of itself that it has neither any more."""
    told = ((b"EXIF", PLACE), (b"XMP ", PLACE))
    data = webp((b"VP8X", bytes([0b0001_1100]) + bytes(9)), (b"VP8 ", b"odd"), *told)
    bare = bare_picture(data)
    assert bare.data == webp((b"VP8X", bytes([0b0001_0000]) + bytes(9)), (b"VP8 ", b"odd"))
    assert bare.media_type == "image/webp"


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
        b"<html>",
        b"GIF89a" + bytes(20),
        b"RIFF\x04\x00\x00\x00WAVE",
        bytes(MOST_BYTES + 1),
    ],
)
def test_what_is_no_photo_is_refused_whatever_it_is_called(data: bytes) -> None:
    """Only JPEG, PNG and WebP of a fair size are taken; nothing that a browser would run."""
    with pytest.raises(FaultsFoundError, match="the photo"):
        bare_picture(data)


WHOLE = HEAD + exif(6) + TABLES + SCAN


@pytest.mark.parametrize("length", [3, 10, 40, len(WHOLE) - 20, len(WHOLE) - 1])
def test_a_torn_photo_is_refused(length: int) -> None:
    """Half a picture is not kept as if it were one."""
    with pytest.raises(FaultsFoundError, match="torn"):
        bare_picture(WHOLE[:length])
