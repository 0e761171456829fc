"""The plan as tables: one row a planting, a week of a line, a lot."""

import csv
import io
from collections.abc import Iterable, Mapping, Sequence

from haulm.plan.records import Planting
from haulm.sheets.bundle import SheetBundle
from haulm.sheets.plan_json import plan_json

Row = Mapping[str, object]


def csv_text(columns: Sequence[str], rows: Iterable[Row]) -> str:
    """Write rows under their columns as CSV (RFC 4180 quoting, line feeds)."""
    sheet = io.StringIO()
    writer = csv.DictWriter(sheet, fieldnames=columns, lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return sheet.getvalue()


_PLANTING_COLUMNS = (
    "id", "bed", "crop", "kind", "method", "standing", "area_m2", "plants", "stock", "stock_unit",
    "sow_on", "set_on", "in_ground_from", "clear_by", "ready_early", "ready_middle", "ready_late",
    "food", "expected_kg", "low_kg", "high_kg",
)  # fmt: skip


def plantings_csv(bundle: SheetBundle) -> str:
    """Write one row for every planting and food it gives; figures are empty where it gives none."""
    rows = (row for planting in bundle.plan.plantings for row in _planting_rows(planting))
    return csv_text(_PLANTING_COLUMNS, rows)


def _planting_rows(planting: Planting) -> Iterable[Row]:
    what = {
        "id": planting.id,
        "bed": planting.bed,
        "crop": planting.crop,
        "kind": planting.kind,
        "method": planting.method,
        "standing": "yes" if planting.standing else "no",
        "area_m2": round(planting.area_m2, 3),
        "plants": planting.plants,
        "stock": round(planting.stock, 3),
        "stock_unit": planting.stock_unit,
        "sow_on": planting.sow_on.isoformat(),
        "set_on": planting.set_on.isoformat(),
        "in_ground_from": planting.in_ground_from.isoformat(),
        "clear_by": planting.clear_by.isoformat(),
    }
    if not planting.expects:
        yield what
    ready_by_food = {ready.food: ready for ready in planting.ready}
    for expects in planting.expects:
        row: dict[str, object] = dict(what)
        row |= {
            "food": expects.food,
            "expected_kg": round(expects.kg, 3),
            "low_kg": round(expects.low_kg, 3),
            "high_kg": round(expects.high_kg, 3),
        }
        ready = ready_by_food.get(expects.food)
        if ready is not None:
            row |= {
                "ready_early": ready.early.isoformat(),
                "ready_middle": ready.middle.isoformat(),
                "ready_late": ready.late.isoformat(),
            }
        yield row


def weeks_csv(bundle: SheetBundle) -> str:
    """Write one row for every line of the table and week [kg]."""
    columns = ("food", "week", "wanted_kg", "fresh_kg", "stored_kg", "short_kg")
    return csv_text(columns, plan_json(bundle)["weeks"])


def lots_csv(bundle: SheetBundle) -> str:
    """Write one row for every lot and week it is eaten in; a lot nobody eats has one row."""
    columns = (
        "id", "food", "kind", "form", "place", "put_by_week", "in_hand", "kg_in", "seed_kg",
        "left_kg", "lost_kg", "eaten_week", "eaten_kg",
    )  # fmt: skip
    rows: list[Row] = []
    for lot in plan_json(bundle)["lots"]:
        what = {column: lot[column] for column in columns if column in lot}
        what["in_hand"] = "yes" if lot["in_hand"] else "no"
        meals = [{"eaten_week": meal["week"], "eaten_kg": meal["kg"]} for meal in lot["eaten"]]
        rows += [what | meal for meal in meals or [{}]]
    return csv_text(columns, rows)
