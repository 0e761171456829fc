"""Everything that is printed or exported of a plan, written into one folder."""

from pathlib import Path

from haulm.sheets.bundle import Paper, SheetBundle, check_labels
from haulm.sheets.sheet_set import files_of


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
    made = {file.name: file.make() for file in files_of(bundle, paper)}
    written = []
    for name, content in made.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
        written.append(path)
    return tuple(written)
