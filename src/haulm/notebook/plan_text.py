"""A plan as JSON text and back, nothing lost."""

import json
from functools import cache

from pydantic import TypeAdapter

from haulm.plan.records import Plan


@cache
def _adapter() -> TypeAdapter[Plan]:
    """Make the adapter on first use: it takes a moment."""
    return TypeAdapter(Plan)


def plan_to_text(plan: Plan) -> str:
    """Write a plan as JSON; not-a-number and the infinities stand as JavaScript names them."""
    return json.dumps(_adapter().dump_python(plan, mode="json"), ensure_ascii=False)


def plan_from_text(text: str) -> Plan:
    """Read a plan back; it equals the one written."""
    return _adapter().validate_python(json.loads(text))
