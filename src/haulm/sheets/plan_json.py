"""The plan as JSON: a contract with a published schema."""

from functools import lru_cache
from importlib.resources import files
from json import loads
from typing import Any

from haulm.measure.findings import Finding
from haulm.measure.weeks import Horizon
from haulm.plan.records import (
    BrokenRule,
    Certainty,
    HoursWeek,
    Lot,
    Planting,
    Serves,
    Shortage,
    TableWeek,
)
from haulm.sheets.bundle import SheetBundle

VERSION = 1
# Grams are beyond what a garden can be planned to.
_KG_DECIMALS = 3

JsonObject = dict[str, Any]


@lru_cache(maxsize=1)
def plan_schema() -> JsonObject:
    """Give the published schema of the plan's JSON (JSON Schema, draft 2020-12)."""
    text = (files("haulm.sheets") / "schema" / "plan.schema.json").read_text(encoding="utf-8")
    schema: JsonObject = loads(text)
    return schema


def plan_json(bundle: SheetBundle) -> JsonObject:
    """Write a bundle's plan as plain data, ready for JSON.

    Weeks are named by ISO 8601 (``2027-W14``), days by ISO 8601 (``2027-04-05``). Weights are in
    kilograms, areas in square metres, whatever units the garden displays. Nothing is left out:
    what the plan does not know is ``null``.
    """
    plan = bundle.plan
    horizon = plan.horizon
    return {
        "haulm_plan": VERSION,
        "garden": plan.garden,
        "invented": bundle.invented,
        "made_on": plan.made_on.isoformat(),
        "horizon": {
            "first_day": horizon.first_day.isoformat(),
            "last_day": horizon.last_day.isoformat(),
            "weeks": horizon.weeks,
        },
        "lines": dict(bundle.lines),
        "beds": [
            {
                "id": bed.id,
                "name": bed.name,
                "area_m2": bed.area_m2,
                "under_cover": bed.under_cover,
            }
            for bed in plan.beds
        ],
        "plantings": [_planting(planting, horizon) for planting in plan.plantings],
        "weeks": [_week(row, horizon) for row in plan.table],
        "lots": [_lot(lot, horizon) for lot in plan.lots],
        "hours": [_hours(row, horizon) for row in plan.hours],
        "shortages": [_shortage(row, horizon) for row in plan.shortages],
        "broken": [_broken(rule) for rule in plan.broken],
        "solver": {
            "bound": plan.solver.bound,
            "objective": plan.solver.objective,
            "gap": plan.solver.gap,
            "net_gap": plan.solver.net_gap,
            "seconds": plan.solver.seconds,
            "rounds": plan.solver.rounds,
            "effort": plan.solver.effort,
            "seed": plan.solver.seed,
        },
        "certainty": None if plan.certainty is None else _certainty(plan.certainty),
        "findings": [_finding(finding) for finding in plan.findings],
    }


def _certainty(certainty: Certainty) -> JsonObject:
    return {
        "lines": dict(certainty.lines),
        "counted": [
            {"food": food, "year": year, "share": share} for food, year, share in certainty.counted
        ],
        "held": [
            {"line": one.line, "year": one.year, "share": one.share, "error": one.error}
            for one in certainty.held
        ],
        "seasons": certainty.seasons,
    }


def _kg(value: float) -> float:
    # Adding 0 turns a solver's −0.0 into 0.0.
    return round(value, _KG_DECIMALS) + 0.0


def _planting(planting: Planting, horizon: Horizon) -> JsonObject:
    return {
        "id": planting.id,
        "sowing": planting.sowing,
        "crop": planting.crop,
        "kind": planting.kind,
        "family": planting.family,
        "method": planting.method,
        "bed": planting.bed,
        "under_cover": planting.under_cover,
        "standing": planting.standing,
        "area_m2": planting.area_m2,
        "plants": planting.plants,
        "stock": planting.stock,
        "stock_unit": planting.stock_unit,
        "tray_cells": planting.tray_cells,
        "sow_on": planting.sow_on.isoformat(),
        "set_on": planting.set_on.isoformat(),
        "in_ground_from": planting.in_ground_from.isoformat(),
        "clear_by": planting.clear_by.isoformat(),
        "window": {
            "earliest_sowing": planting.earliest_sowing.isoformat(),
            "latest_sowing": planting.latest_sowing.isoformat(),
            "earliest_rule": planting.earliest_rule,
            "latest_rule": planting.latest_rule,
        },
        "ready": [
            {
                "food": ready.food,
                "early": ready.early.isoformat(),
                "middle": ready.middle.isoformat(),
                "late": ready.late.isoformat(),
            }
            for ready in planting.ready
        ],
        "expected_kg": {expects.food: _kg(expects.kg) for expects in planting.expects},
        "expected_kg_8_in_10": {
            expects.food: [_kg(expects.low_kg), _kg(expects.high_kg)]
            for expects in planting.expects
        },
        "serves": [_serves(serves, horizon) for serves in planting.serves],
        "sum": list(planting.sum),
        "bound": [
            {
                "rule": bound.rule,
                "sentence": bound.sentence,
                "unit": bound.unit,
                "worth_kg": bound.worth_kg,
            }
            for bound in planting.bounds
        ],
    }


def _serves(serves: Serves, horizon: Horizon) -> JsonObject:
    return {
        "line": serves.line,
        "food": serves.food,
        "kg": _kg(serves.kg),
        "from_week": horizon.label(serves.first_week),
        "to_week": horizon.label(serves.last_week),
    }


def _week(row: TableWeek, horizon: Horizon) -> JsonObject:
    return {
        "food": row.line,
        "week": horizon.label(row.week),
        "wanted_kg": _kg(row.wanted_kg),
        "fresh_kg": _kg(row.fresh_kg),
        "stored_kg": _kg(row.stored_kg),
        "short_kg": _kg(row.short_kg),
    }


def _lot(lot: Lot, horizon: Horizon) -> JsonObject:
    return {
        "id": lot.id,
        "food": lot.food,
        "kind": lot.kind,
        "form": lot.form,
        "place": lot.place,
        "put_by_week": horizon.label(lot.put_by_week),
        "in_hand": lot.in_hand,
        "age_weeks": lot.age_weeks,
        "kg_in": _kg(lot.kg_in),
        "eaten": [{"week": horizon.label(week), "kg": _kg(kg)} for week, kg in lot.eaten],
        "seed_kg": _kg(lot.seed_kg),
        "seed_week": None if lot.seed_week is None else horizon.label(lot.seed_week),
        "left_kg": _kg(lot.left_kg),
        "lost_kg": _kg(lot.lost_kg),
    }


def _hours(row: HoursWeek, horizon: Horizon) -> JsonObject:
    return {
        "week": horizon.label(row.week),
        "asked_h": round(row.asked_h, 2) + 0.0,
        "given_h": row.given_h,
    }


def _shortage(row: Shortage, horizon: Horizon) -> JsonObject:
    return {
        "food": row.line,
        "from_week": horizon.label(row.first_week),
        "to_week": horizon.label(row.last_week),
        "kg": _kg(row.kg),
        "sentence": row.sentence,
    }


def _broken(rule: BrokenRule) -> JsonObject:
    return {
        "rule": rule.rule,
        "where": rule.where,
        "amount": rule.amount,
        "unit": rule.unit,
        "price": rule.price,
        "sentence": rule.sentence,
    }


def _finding(finding: Finding) -> JsonObject:
    return {
        "grade": finding.grade.value,
        "where": finding.where,
        "what": finding.what,
        "remedy": finding.remedy,
    }
