"""Photos of the diary: known by what they hold, and stripped of where and when they were taken.

A camera writes the place into its pictures. What is kept here is the picture alone: of a JPEG the
segments that draw it and which way up it is, of a PNG the chunks that draw it, of a WebP file all
but its EXIF and XMP chunks.

References
----------
ITU-T T.81 (JPEG), annex B: markers. JEITA CP-3451 (Exif): the APP1 segment and its orientation tag.
W3C Portable Network Graphics, third edition, section 5.3: chunks. RFC 9649 (WebP), section 2.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from struct import error as struct_error
from struct import pack, unpack, unpack_from

from haulm.measure.errors import FaultsFoundError
from haulm.measure.findings import Finding

MOST_BYTES = 6_000_000
"""The largest photo that is taken [bytes]; the phone's page sends about a twentieth of it."""

_JPEG, _PNG = b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n"
_MARK, _STUFFED = 0xFF, 0x00
_START_OF_SCAN, _END, _COMMENT = 0xDA, 0xD9, 0xFE
_RESTARTS = range(0xD0, 0xD8)
_APP0, _APP1, _APP2, _APP14, _APP15 = 0xE0, 0xE1, 0xE2, 0xEE, 0xEF
_DRAWN_WITH = frozenset({_APP0, _APP14})
"""Application segments without which a JPEG's colours are not read right: JFIF's and Adobe's."""
_COLOURS = b"ICC_PROFILE\x00"
"""How an APP2 segment begins that says which colours are meant."""
_ORIENTATION, _EXIF = 0x0112, b"Exif\x00\x00"
_ORIENTATIONS = range(2, 9)
_PNG_KEPT = frozenset({b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"gAMA", b"cHRM", b"sRGB"})
_WEBP_DROPPED = frozenset({b"EXIF", b"XMP "})
_WEBP_TOLD = 0b0000_1100
"""The bits of a WebP header that say there is EXIF or XMP."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A picture and nothing else: its media type and its bytes."""

    media_type: str
    data: bytes


def bare_picture(data: bytes) -> Picture:
    """Give a photo without all that is not the picture, known by what it holds.

    Parameters
    ----------
    data
        The file as it came; its name and what was said of it count for nothing.

    Raises
    ------
    FaultsFoundError
        When it is too large, torn, or neither JPEG, PNG nor WebP.
    """
    if len(data) > MOST_BYTES:
        megabytes = len(data) / 1e6
        what = f"it has {megabytes:.1f} MB; {MOST_BYTES / 1e6:.0f} MB is the most that is kept."
        raise _refused(what, "Take it smaller.")
    try:
        if data.startswith(_JPEG):
            return Picture("image/jpeg", _bare_jpeg(data))
        if data.startswith(_PNG):
            return Picture("image/png", _bare_png(data))
        if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
            return Picture("image/webp", _bare_webp(data))
    except (struct_error, IndexError):
        what = "it is torn: a part of it is missing."
        raise _refused(what, "Take it again.") from None
    what = "it is neither a JPEG, a PNG nor a WebP picture."
    raise _refused(what, "Save it as JPEG.")


def _refused(what: str, remedy: str) -> FaultsFoundError:
    return FaultsFoundError([Finding("the photo", what, remedy, place=("photo",))])


def _bare_jpeg(data: bytes) -> bytes:
    """Keep the segments that draw, and which way up the picture is."""
    kept = [data[:2]]
    turned = None
    for marker, segment in _segments(data):
        if marker == _APP1:
            turned = turned or _orientation(segment[4:])
        elif _draws(marker, segment):
            kept.append(segment)
    if turned is not None:
        kept.insert(1, _turned(turned))
    return b"".join(kept)


def _draws(marker: int, segment: bytes) -> bool:
    """Say whether a picture is drawn with a segment: application data and comments are not."""
    if marker == _APP2:
        return segment[4:].startswith(_COLOURS)
    return marker in _DRAWN_WITH or not (_APP0 <= marker <= _APP15 or marker == _COMMENT)


def _segments(data: bytes) -> Iterator[tuple[int, bytes]]:
    """Give each segment with its marker; the last one holds the scans and all behind them.

    What follows the end of the picture is left out: phones put another picture there.
    """
    at = 2
    while True:
        if data[at] != _MARK:
            raise IndexError
        marker = data[at + 1]
        if marker == _MARK:
            at += 1
            continue
        (length,) = unpack_from(">H", data, at + 2)
        if marker == _START_OF_SCAN:
            end = _end_of_picture(data, at + 2 + length)
            yield marker, data[at:end]
            return
        if at + 2 + length > len(data):
            raise IndexError
        yield marker, data[at : at + 2 + length]
        at += 2 + length


def _end_of_picture(data: bytes, at: int) -> int:
    """Find the end of the picture: the first end marker outside the segments between scans."""
    while True:
        at = data.find(b"\xff", at)
        if at < 0:
            raise IndexError
        marker = data[at + 1]
        if marker == _END:
            return at + 2
        if marker == _MARK:
            at += 1
        elif marker == _STUFFED or marker in _RESTARTS:
            at += 2
        else:
            (length,) = unpack_from(">H", data, at + 2)
            at += 2 + length


def _orientation(exif: bytes) -> int | None:
    """Read which way up a picture is from an Exif segment; None where it does not tell."""
    if not exif.startswith(_EXIF):
        return None
    tiff = exif[len(_EXIF) :]
    order = {b"II": "<", b"MM": ">"}.get(tiff[:2])
    if order is None:
        return None
    try:
        (first,) = unpack_from(f"{order}I", tiff, 4)
        (count,) = unpack_from(f"{order}H", tiff, first)
        for number in range(count):
            tag, _, _, value = unpack_from(f"{order}HHIH", tiff, first + 2 + 12 * number)
            if tag == _ORIENTATION:
                return value if value in _ORIENTATIONS else None
    except struct_error:
        return None
    return None


def _turned(way: int) -> bytes:
    """Write an Exif segment that tells which way up a picture is, and nothing else."""
    tiff = b"MM\x00*" + pack(">IHHHIHHI", 8, 1, _ORIENTATION, 3, 1, way, 0, 0)
    body = _EXIF + tiff
    return pack(">BBH", 0xFF, _APP1, len(body) + 2) + body


def _bare_png(data: bytes) -> bytes:
    """Keep the chunks that draw."""
    kept = [data[:8]]
    at = 8
    while True:
        length, name = unpack_from(">I4s", data, at)
        end = at + 12 + length
        if end > len(data):
            raise IndexError
        if name in _PNG_KEPT:
            kept.append(data[at:end])
        at = end
        if name == b"IEND":
            return b"".join(kept)


def _bare_webp(data: bytes) -> bytes:
    """Keep all chunks but EXIF and XMP, and say in the header that there is neither."""
    (size,) = unpack("<I", data[4:8])
    end = size + 8
    if end > len(data):
        raise IndexError
    kept = []
    at = 12
    while at < end:
        name, length = unpack_from("<4sI", data, at)
        following = at + 8 + length + length % 2
        if at + 8 + length > end:
            raise IndexError
        chunk = data[at:following]
        if name == b"VP8X":
            chunk = chunk[:8] + bytes([chunk[8] & ~_WEBP_TOLD]) + chunk[9:]
        if name not in _WEBP_DROPPED:
            kept.append(chunk)
        at = following
    body = b"WEBP" + b"".join(kept)
    return b"RIFF" + pack("<I", len(body)) + body
