"""What devices mean to each other, as plain data for JSON: ports, blinks, parts and levels."""

from typing import Any

from sinkside.cli.shapes import COUNT, MAYBE_TEXT, NUMBER, TEXT, VERDICTS, finite, listed, object_of
from sinkside.figures.power_tree import Load, power_trees
from sinkside.plan.blinks import Cell, Outcome, blinks
from sinkside.plan.model import Plan
from sinkside.plan.parts_list import parts_list
from sinkside.quantity import Quantity

_LOAD = object_of(
    device=TEXT,
    contract_v=NUMBER,
    offer_a=NUMBER,
    steady_a=NUMBER,
    peak_a=NUMBER,
    margin_a=NUMBER,
    state=TEXT,
)
_PORT = object_of(
    charger=TEXT,
    unit={"type": "integer", "minimum": 1},
    port=TEXT,
    load={"anyOf": [_LOAD, {"type": "null"}]},
)
_GAP = {"anyOf": [object_of(low=NUMBER, high=NUMBER), {"type": "null"}]}
_BLINK = object_of(
    charger=TEXT,
    unit={"type": "integer", "minimum": 1},
    port=TEXT,
    cause=MAYBE_TEXT,
    how={"enum": ["plugged", "switched"]},
    device=TEXT,
    outcome={"enum": [outcome.value for outcome in Outcome]},
    gap_s=_GAP,
    ride_through_s=_GAP,
    verdict={"enum": [*VERDICTS, None]},
)
_PART = object_of(
    part=TEXT,
    words=TEXT,
    needed=COUNT,
    owned=COUNT,
    buy=COUNT,
    waits=COUNT,
    spare=COUNT,
    price_cents={"type": ["integer", "null"], "minimum": 0},
    devices=listed(object_of(device=TEXT, setting=MAYBE_TEXT)),
)
_LEVEL = object_of(
    name=TEXT, value={"type": "integer"}, bound={"type": "integer"}, proven={"type": "boolean"}
)
PROPERTIES: dict[str, Any] = {
    "levels": listed(_LEVEL),
    "ports": listed(_PORT),
    "blinks": listed(_BLINK),
    "parts": listed(_PART),
}
"""The schemas of what `company` gives."""


def company(plan: Plan) -> dict[str, Any]:
    """Levels of the sharing, every port with its load, who blinks whom, and the parts."""
    return {
        "levels": [
            {
                "name": level.name,
                "value": level.value,
                "bound": level.bound,
                "proven": level.proven,
            }
            for level in plan.levels
        ],
        "ports": [
            {
                "charger": tree.charger,
                "unit": tree.unit,
                "port": branch.port,
                "load": _load(branch.load) if branch.load else None,
            }
            for tree in power_trees(plan)
            for branch in tree.branches
        ],
        "blinks": [_blink(cell) for cell in blinks(plan).cells if cell.outcome not in _NOT_TOLD],
        "parts": [
            {
                "part": line.part,
                "words": line.words,
                "needed": line.needed,
                "owned": line.owned,
                "buy": line.to_buy,
                "waits": line.waits,
                "spare": line.spare,
                "price_cents": line.price_cents,
                "devices": [
                    {"device": use.device, "setting": use.setting or None} for use in line.uses
                ],
            }
            for line in parts_list(plan).lines
        ],
    }


# Devices on different chargers do nothing to each other: with many, that is most of the matrix.
_NOT_TOLD = (Outcome.ITSELF, Outcome.APART)


def _load(load: Load) -> dict[str, Any]:
    return {
        "device": load.device,
        "contract_v": load.contract_v,
        "offer_a": load.offer_a,
        "steady_a": finite(load.steady_a),
        "peak_a": finite(load.peak_a),
        "margin_a": finite(load.margin_a),
        "state": load.state,
    }


def _blink(cell: Cell) -> dict[str, Any]:
    return {
        "charger": cell.cause.charger,
        "unit": cell.cause.unit,
        "port": cell.cause.port,
        "cause": cell.cause.device,
        "how": cell.cause.how,
        "device": cell.device,
        "outcome": cell.outcome.value,
        "gap_s": _ends(cell.gap_s),
        "ride_through_s": _ends(cell.ride_s),
        "verdict": cell.verdict.word if cell.verdict is not None else None,
    }


def _ends(value: Quantity | None) -> dict[str, Any] | None:
    return None if value is None else {"low": finite(value.low), "high": finite(value.high)}
