"""The rails of a supply that is built into a device: what each gives, and the most it is asked for.

Written `{3.3 V: 1.2 A, 5 V: 2 A (measured), 12 V: 0.8..1.5 A}`; a word behind the volts tells
two rails of the same volts apart.
"""

import re
from dataclasses import dataclass
from typing import Annotated, Any, TypeAlias

from pydantic import BeforeValidator, WithJsonSchema

from sinkside import quantity
from sinkside.faults import NotUnderstood
from sinkside.frozen import hash_once
from sinkside.quantity import Basis, Quantity, unknown

# A current that rests on nothing, and what the rail may really be asked for (common practice,
# no source: as for the plates of whole devices).
OF_A_BARE_CURRENT = (0.3, 2.0)
HIGHEST_V = 60.0
_RAIL = re.compile(r"^\s*(?P<sign>[-−–+]?)\s*(?P<volts>\d[\d.,]*)\s*V\b\s*(?P<word>.*)$")
_EXAMPLE = "write it like rails: {3.3 V: 1.2 A, 5 V: 2 A (measured)}"


@hash_once
@dataclass(frozen=True, kw_only=True)
class RailNeed:
    """One rail that a device is fed with from inside.

    Parameters
    ----------
    volts_v
        Nominal; below nought for a negative rail.
    current_a
        The most that it is asked for; None if nobody knows.
    """

    name: str
    volts_v: float
    current_a: Quantity | None

    @property
    def measured(self) -> bool:
        """Whether a meter has told its current."""
        return self.current_a is not None and self.current_a.basis is Basis.MEASURED


def _rails(value: Any) -> Any:
    if value is None or value == "unknown":
        return ()
    if isinstance(value, tuple):
        return value
    if not isinstance(value, dict) or not value:
        raise NotUnderstood("the rails are a mapping of volts to current", _EXAMPLE)
    return tuple(_rail(str(key), current) for key, current in value.items())


def _rail(name: str, current: Any) -> RailNeed:
    found = _RAIL.match(name)
    if found is None:
        raise NotUnderstood(f"{name!r} is no rail", _EXAMPLE)
    volts = quantity.read(f"{found['volts']} V", "V", basis=Basis.DATASHEET).value
    if not 0.0 < volts <= HIGHEST_V:
        raise NotUnderstood(f"{name!r} is no rail of low voltage", _EXAMPLE)
    signed = volts if found["sign"] in ("", "+") else -volts
    return RailNeed(name=name.strip(), volts_v=signed, current_a=_current(name, current))


def _current(name: str, value: Any) -> Quantity | None:
    if value is None or value == "unknown":
        return None
    if not isinstance(value, str):
        raise NotUnderstood(f"the current of {name!r} is not understood", _EXAMPLE)
    found = quantity.read(value, "A", at_least=0.0)
    if found.low == found.high and found.basis is Basis.ASSUMED:
        low, high = (share * found.low for share in OF_A_BARE_CURRENT)
        return unknown(low, high, "A")
    return found


Rails: TypeAlias = Annotated[
    tuple[RailNeed, ...],
    BeforeValidator(_rails),
    WithJsonSchema(
        {
            "type": ["object", "string", "null"],
            "additionalProperties": {"type": ["string", "null"], "examples": ["2 A (measured)"]},
            "description": "for each rail the most that it is asked for",
        }
    ),
]
