"""Pictures of the sheets, for pages that cannot show a PDF."""

import struct
from pathlib import Path

from haulm.sheets.bundle import SheetBundle
from haulm.sheets.pictures import draw_pictures


def test_three_pictures_are_written_light_and_equally_wide(
    schoolhouse: SheetBundle, tmp_path: Path
) -> None:
    """The bed sheet, the tide and the strips are 1400 pixels wide and under 300 kB each."""
    written = draw_pictures(schoolhouse, tmp_path / "pictures")
    assert [path.name for path in written] == ["bed-sheet.png", "larder-tide.png", "bed-strips.png"]
    for path in written:
        picture = path.read_bytes()
        # The width stands in the header chunk, 16 bytes in (PNG, ISO/IEC 15948, 11.2.2).
        assert abs(struct.unpack(">I", picture[16:20])[0] - 1400) <= 1
        assert len(picture) < 300_000
