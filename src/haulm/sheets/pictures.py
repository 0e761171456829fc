"""Pictures of a plan's sheets, for pages that cannot show a PDF."""

from pathlib import Path

from haulm.sheets.bed_sheet import draw_bed_sheets
from haulm.sheets.bed_strips import bed_strip_sheets
from haulm.sheets.bundle import Paper, SheetBundle, check_labels
from haulm.sheets.larder_tide import larder_tide_sheets
from haulm.sheets.paper import to_png

# The first width at which a picture is light enough is taken.
WIDTHS_PX = (1400, 1300, 1200, 1100)
MOST_BYTES = 300_000
_MM_AN_INCH = 25.4
_CORNERS_OF_AN_L = 6


def draw_pictures(bundle: SheetBundle, folder: Path) -> tuple[Path, ...]:
    """Write three pictures of a plan into a folder, which is made if it is not there.

    ``bed-sheet.png`` is the sheet that tells most of a bed shaped like an L, or of any bed if none
    is; ``larder-tide.png`` and ``bed-strips.png`` are the first sheets of their kind. All are drawn
    for A4, 1400 pixels wide, or a little less where that brings a picture under 300 kB. The same
    bundle gives the same bytes.

    Returns
    -------
    The files written; a plan in which nothing is to be planted has no bed sheet.

    Raises
    ------
    LabelsDifferError
        If a label of the plan points at nothing.
    """
    check_labels(bundle)
    sheets = {
        "bed-sheet.png": _fullest_bed_sheet(bundle),
        "larder-tide.png": larder_tide_sheets(bundle, Paper.A4)[0],
        "bed-strips.png": bed_strip_sheets(bundle, Paper.A4)[0],
    }
    pictures = {name: _picture(name, svg) for name, svg in sheets.items() if svg}
    folder.mkdir(parents=True, exist_ok=True)
    for name, picture in pictures.items():
        (folder / name).write_bytes(picture)
    return tuple(folder / name for name in pictures)


def _fullest_bed_sheet(bundle: SheetBundle) -> str:
    angled = [bed for bed in bundle.beds if len(bed.outline.corners_m) == _CORNERS_OF_AN_L]
    of_angled = [svg for bed in angled for svg in draw_bed_sheets(bundle, bed.id, Paper.A4)]
    sheets = of_angled or [
        svg for bed in bundle.beds for svg in draw_bed_sheets(bundle, bed.id, Paper.A4)
    ]
    # What a sheet tells, it tells in words.
    return max(sheets, key=lambda svg: svg.count("<text "), default="")


def _picture(name: str, svg: str) -> bytes:
    width_mm = Paper.A4.upright[0] if name == "bed-sheet.png" else Paper.A4.lying[0]
    picture = b""
    for width_px in WIDTHS_PX:
        picture = to_png(svg, width_px / width_mm * _MM_AN_INCH)
        if len(picture) < MOST_BYTES:
            break
    return picture
