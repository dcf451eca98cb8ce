"""The dossier of a site: what was decided, who sits where, what to buy, and what to heed.

What it says is gathered here as plain data, for paper and for the page of the web alike.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from sinkside.figures.parts_list import UNKNOWN_PRICE, totals
from sinkside.figures.power_tree import Tree, margin_words, power_trees
from sinkside.figures.power_tree_svg import description as tree_words
from sinkside.figures.power_tree_svg import power_tree_svg
from sinkside.making.of_plan import code
from sinkside.making.open_points import OpenPoints, open_points
from sinkside.making.words import CAUTIONS, charger_name, doing, taken
from sinkside.papers.apart import Apart, apart
from sinkside.papers.drawn import Spell, as_written, drawing, respelled
from sinkside.papers.issue import Issue, Json
from sinkside.plan.blinks import Blinks, Cause, Cell, Outcome, blinks
from sinkside.plan.model import Action, DevicePlan, Plan
from sinkside.plan.parts_list import Line, PartsList, parts_list
from sinkside.quantity import Quantity, number, rounded

TITLE = "Dossier"
BLINKS_NOT = "Nothing puts another out: each device keeps what it has."
_IDLE = (Outcome.ITSELF, Outcome.APART, Outcome.KEEPS)


def dossier(plan: Plan, kept: Apart, issue: Issue, *, spell: Spell = as_written) -> dict[str, Json]:
    """All that the dossier says, in the order in which it says it.

    Parameters
    ----------
    kept
        What is to be kept apart in the same plan.
    spell
        How the words of drawings are to be spelled.
    """
    found = open_points(plan)
    parts = parts_list(plan)
    trees = power_trees(plan)
    codes = {device.id: code(device) for device in plan.devices}
    return {
        **issue.head(TITLE),
        "summary": summary(plan),
        "devices": [
            _device(k, device, plan, codes[device.id]) for k, device in enumerate(plan.devices, 1)
        ],
        "trees": _trees(respelled(trees, spell)),
        "seats": list(_seats(plan, trees, codes)),
        "parts": _parts(parts),
        "apart": apart(kept, spell),
        "blinks": list(_blinks(blinks(plan))),
        "blinks_not": BLINKS_NOT,
        "measurements": _measurements(found),
        "minutes": found.minutes,
        "risks": _by_words((risk.words, risk.device) for risk in found.risks),
        "warnings": list(_beside_the_matrix(found.warnings, kept)),
        "cautions": list(CAUTIONS),
    }


def summary(plan: Plan) -> str:
    """How many devices come to which action."""
    counts = Counter(d.action for d in plan.devices)
    many = f"{len(plan.devices)} device{'s' if len(plan.devices) != 1 else ''}"
    return f"{many}: " + ", ".join(f"{counts[a]} {a.value}" for a in Action if counts[a])


def _device(place: int, device: DevicePlan, plan: Plan, mark: str) -> dict[str, Json]:
    what = doing(device, plan)
    seat = device.chosen
    return {
        "number": place,
        "name": device.id,
        "action": what.action,
        "detail": what.detail or device.why,
        "verdict": device.verdict.word if device.verdict is not None else "",
        "seat": f"{charger_name(seat)}, {seat.seat.port}" if seat else "",
        "code": mark,
        "taken": taken(device, plan),
        "ask": [said.ask for said in (*device.appliance.refusals, *device.appliance.cautions)],
    }


def _trees(trees: Sequence[Tree]) -> list[Json]:
    """A few units of one kind of charger in each drawing, so that a page can end between them."""
    drawn: list[Json] = []
    for _, units in groupby(trees, key=lambda tree: tree.charger):
        alike = list(units)
        for first in range(0, len(alike), _TREES):
            some = alike[first : first + _TREES]
            drawn.append(drawing(power_tree_svg(some, title="Power tree"), tree_words(some)))
    return drawn


_TREES = 4
"""So many units of a charger in one drawing."""


def _seats(
    plan: Plan, trees: Sequence[Tree], codes: Mapping[str, str]
) -> Iterator[dict[str, Json]]:
    """Every port of every charger, with who sits there, what it asks for, and what is left."""
    by_seat = {
        (d.chosen.seat.kind, d.chosen.seat.unit, d.chosen.seat.port): (k, d)
        for k, d in enumerate(plan.devices, 1)
        if d.chosen
    }
    loads = {load.device: load for tree in trees for load in tree.loads}
    empty = "keep blocked" if plan.site.rules.spare_ports == "blocked" else "free"
    for charger in plan.site.chargers:
        for unit in range(1, charger.count + 1):
            for port in charger.names:
                seat = by_seat.get((charger.id, unit, port))
                load = loads.get(seat[1].id) if seat else None
                yield {
                    "charger": f"{charger.id} no. {unit}" if charger.count > 1 else charger.id,
                    "at": charger.at,
                    "port": port,
                    "contract": load.contract if load else "",
                    "left": margin_words(load) if load else "",
                    "device": seat[1].id if seat else empty,
                    "number": str(seat[0]) if seat else "",
                    "code": codes[seat[1].id] if seat else "",
                }


def _parts(found: PartsList) -> dict[str, Json]:
    rows = [_part(line) for line in found.lines if line.needed]
    return {"currency": found.currency, "rows": rows, "totals": list(totals(found))}


def _part(line: Line) -> dict[str, Json]:
    each = dict.fromkeys(u.device + (f" ({u.setting})" if u.setting else "") for u in line.uses)
    return {
        "words": line.words or line.part,
        "needed": line.needed,
        "shelf": line.from_shelf,
        "buy": line.to_buy,
        "waits": line.waits,
        "each": _money(line.price_cents),
        "sum": _money(line.cents) if line.to_buy else "–",
        "for": ", ".join(each),
    }


def _money(cents: int | None) -> str:
    return UNKNOWN_PRICE if cents is None else f"{cents / 100:.2f}"


def _blinks(found: Blinks) -> Iterator[dict[str, Json]]:
    """Whatever one device does to another one, unless it is nothing."""
    for cell in found.cells:
        if cell.outcome in _IDLE:
            continue
        yield {
            "cause": _cause(cell.cause),
            "device": cell.device,
            "outcome": cell.outcome.value,
            "gap": _seconds(cell.gap_s),
            "rides": _seconds(cell.ride_s),
            "verdict": _verdict(cell),
        }


def _cause(cause: Cause) -> str:
    if cause.device is None:
        return f"anything plugged into spare port {cause.port} of {cause.charger} no. {cause.unit}"
    if cause.how == "switched":
        return f"{cause.device} switched on or off"
    return f"{cause.device} plugged or pulled" + (", at every use" if cause.every_use else "")


def _verdict(cell: Cell) -> str:
    if cell.verdict is None or cell.stakes is None:
        return "does not matter to it"
    return f"{cell.verdict.word}, {cell.stakes.value}"


def _seconds(value: Quantity | None) -> str:
    if value is None:
        return "–"
    if value.low == value.high:
        return rounded(value.low, "s")
    low = "up to " if value.low == 0.0 else f"{number(round(value.low, 2), 's')} to "
    return low + rounded(value.high, "s")


def _measurements(found: OpenPoints) -> list[Json]:
    return [
        {
            "title": m.title,
            "at": m.at,
            "kit": m.kit,
            "minutes": m.minutes,
            "how": m.how,
            "decides": m.decides,
            "opens_case": m.opens_case,
            "expect": _by_words((d.expect, d.device) for d in m.devices),
            "settles": _by_words((", ".join(d.rules), d.device) for d in m.devices),
        }
        for m in found.measurements
    ]


def _by_words(pairs: Iterator[tuple[str, str]]) -> list[Json]:
    """The same words once, with all the devices that they are said of."""
    of: dict[str, list[str]] = {}
    for words, device in pairs:
        of.setdefault(words, []).append(device)
    return [{"words": words, "devices": ", ".join(dict.fromkeys(of[words]))} for words in of]


def _beside_the_matrix(warnings: Sequence[str], kept: Apart) -> Iterator[str]:
    """What is warned of, but for what the matrix shows."""
    shown = tuple(
        dict.fromkeys(f"the plug for {cell.lead} also goes into others" for cell in kept.cells)
    )
    return (warning for warning in warnings if not warning.startswith(shown))
