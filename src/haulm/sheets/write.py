"""Everything that is printed or exported of a plan, written into one folder."""

import json
from pathlib import Path

from haulm.sheets.bed_sheet import draw_bed_sheets
from haulm.sheets.bed_strips import bed_strip_sheets, draw_bed_strips
from haulm.sheets.bundle import Paper, SheetBundle, check_labels
from haulm.sheets.calendar import calendar_ics
from haulm.sheets.larder_tide import draw_larder_tide, larder_tide_sheets
from haulm.sheets.paper import to_pdf
from haulm.sheets.plan_json import plan_json
from haulm.sheets.shopping_list import shopping_csv, shopping_sheets
from haulm.sheets.tables import lots_csv, plantings_csv, weeks_csv


def write_sheets(bundle: SheetBundle, folder: Path, paper: Paper) -> tuple[Path, ...]:
    """Write every sheet and table of a plan under a folder, which is made if it is not there.

    Everything is made before anything is written, so that a fault leaves the folder as it was. The
    same bundle gives the same bytes. A bed in which nothing is to be planted has no sheet.

    Returns
    -------
    The files written, in the order of their use.

    Raises
    ------
    LabelsDifferError
        If a label of the plan points at nothing.
    """
    check_labels(bundle)
    made = _all_files(bundle, paper)
    written = []
    for name, content in made.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
        written.append(path)
    return tuple(written)


def _all_files(bundle: SheetBundle, paper: Paper) -> dict[str, bytes]:
    beds = {bed.id: draw_bed_sheets(bundle, bed.id, paper) for bed in bundle.beds}
    files = {f"beds/{bed}.pdf": to_pdf(sheets) for bed, sheets in beds.items() if sheets}
    joined = [sheet for sheets in beds.values() for sheet in sheets]
    if joined:
        files["bed-sheets.pdf"] = to_pdf(joined)
    files |= {
        "bed-strips.pdf": to_pdf(bed_strip_sheets(bundle, paper)),
        "bed-strips.svg": draw_bed_strips(bundle).encode(),
        "larder-tide.pdf": to_pdf(larder_tide_sheets(bundle, paper)),
        "larder-tide.svg": draw_larder_tide(bundle).encode(),
        "shopping-list.pdf": to_pdf(shopping_sheets(bundle, paper)),
        "shopping-list.csv": shopping_csv(bundle).encode(),
        "calendar.ics": calendar_ics(bundle),
        "plan.json": _json_text(bundle).encode(),
        "plantings.csv": plantings_csv(bundle).encode(),
        "weeks.csv": weeks_csv(bundle).encode(),
        "lots.csv": lots_csv(bundle).encode(),
    }
    return files


def _json_text(bundle: SheetBundle) -> str:
    return json.dumps(plan_json(bundle), indent=1, ensure_ascii=False) + "\n"
