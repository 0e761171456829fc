"""Draw the README's pictures from the newest plan of a notebook: ``make pictures``."""

import sys
from datetime import date
from pathlib import Path

from haulm.desk.plans import kept_plan
from haulm.desk.sheets import bundle_of
from haulm.sheets.pictures import draw_pictures


def main(notebook: str, folder: str, day: str) -> None:
    """Draw the pictures of a notebook's newest plan into a folder, as printed on a day."""
    made = kept_plan(Path(notebook))
    for path in draw_pictures(bundle_of(made, date.fromisoformat(day)), Path(folder)):
        sys.stdout.write(f"Drew {path}\n")


if __name__ == "__main__":
    main(*sys.argv[1:])
