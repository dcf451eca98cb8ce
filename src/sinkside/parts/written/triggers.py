"""Triggers: what asks a port for volts."""

from typing import Annotated, Literal

from pydantic import Field

from sinkside.faults import NotUnderstood
from sinkside.parts.elements import Resistance
from sinkside.parts.fields import Plug, Said, StrapVolts, VoltRange, said
from sinkside.parts.part import FALLBACKS, End, Fallback, Part, TriggerTraits
from sinkside.parts.written.entry import PartWritten, end_of
from sinkside.quantity import Basis, Quantity, point

TRIGGER_OHM = (0.020, 0.080)
# Programmable volts of any revision: 3.0 V at the least, 21 V at the most (USB PD 10.3, read in
# a vendor's table; the 3.0 V in source code).
PROGRAMMABLE_V = (3.0, 21.0)
# On what a word about a trigger's behaviour counts.
COUNTED = (Basis.MEASURED, Basis.LIVED_ON, Basis.DATASHEET)


class TriggerWritten(PartWritten):
    """A part that asks for a contract and hands it on."""

    is_: Literal["trigger"] = Field(alias="is")
    straps: tuple[StrapVolts, ...] = ()
    button: tuple[StrapVolts, ...] = ()
    programmable: VoltRange | None = None
    keeps_alive: Annotated[Said | None, said("yes", "no", "unknown")] = None
    epr: Annotated[Said | None, said("yes", "no", "unknown")] = None
    by: Literal["negotiation", "resistors"] = "negotiation"
    falls_back: Annotated[Said | None, said(*FALLBACKS, "unknown")] = None
    output_switch: Annotated[Said | None, said("yes", "no", "unknown")] = None
    gives: Plug = "wires"
    centre: Literal["positive", "negative"] | None = None

    def parts(self) -> tuple[Part, ...]:
        """One part for each strap setting; a programmable one is set by whoever builds with it."""
        settings = self._settings()
        given = None if self.falls_back in (None, "unknown") else self.falls_back
        fallbacks = FALLBACKS if given is None else (_fallback(given),)
        if self.by == "resistors":
            fallbacks = ("5 V",)  # they ask for nothing, and get nothing else
        end = end_of(self.gives, self.centre)
        asks = self.programmable
        ends = (asks.low, asks.high) if asks is not None else None
        stands = 1.05 * ends[1] if ends else 21.0
        return tuple(
            Part(
                **self.common(),
                kind="trigger",
                takes=End(kind="usb-c"),
                gives=end,
                elements=(Resistance(ohm=self.ohm(*TRIGGER_OHM)),),
                carries_a=self.carries.low if self.carries else 3.0,
                withstands_v=self.withstands.low if self.withstands else stands,
                joints=2 if end.kind == "wires" else 0,
                setting=_setting(asked.value, len(settings) > 1, bool(self.button)),
                trigger=TriggerTraits(
                    asks_v=asked.value,
                    falls_back=fallbacks,
                    gated=self.output_switch == "yes",
                    presses_v=tuple(v.value for v in self.button),
                    by_resistors=self.by == "resistors",
                    programmable_v=ends,
                    keeps_alive=_known(self.keeps_alive),
                    epr=_known(self.epr) is True,
                ),
            )
            for asked in settings
        )

    def _settings(self) -> tuple[Quantity, ...]:
        """What it can be set to ask for; of a programmable one the highest volts."""
        settings = self.straps or self.button
        if self.programmable is not None:
            return (self._programmable(self.programmable),)
        if self.by == "resistors" and not settings:
            settings = (point(5.0, "V", Basis.STANDARD),)
        if self.by == "resistors" and [v.value for v in settings] != [5.0]:
            raise NotUnderstood(
                f"trigger {self.id!r}: two resistors get 5 V and nothing else",
                "leave straps: out, or say by: negotiation",
            )
        if not settings:
            raise NotUnderstood(f"trigger {self.id!r} asks for nothing", "add straps: [9 V, 12 V]")
        return settings

    def _programmable(self, asked: Quantity) -> Quantity:
        if self.straps or self.button or self.by == "resistors":
            raise NotUnderstood(
                f"trigger {self.id!r} asks for programmable volts, and for fixed ones",
                "keep programmable:, or straps: or button:",
            )
        low, high = PROGRAMMABLE_V
        if not low <= asked.low < asked.high <= high:
            raise NotUnderstood(
                f"trigger {self.id!r}: {asked.low:g}..{asked.high:g} V is no programmable range",
                f"it lies within {low:g}..{high:g} V",
            )
        return point(asked.high, "V", Basis.STANDARD)


def _known(word: Said | None) -> bool | None:
    """Yes, on a good basis; no, on any; else nobody knows."""
    if word == "yes" and word.basis in COUNTED:
        return True
    return False if word == "no" else None


def _fallback(word: str) -> Fallback:
    return next(f for f in FALLBACKS if f == word)


def _setting(volts: float, several: bool, button: bool) -> str:
    if button:
        return f"button pressed to {volts:g} V"
    return f"strapped to {volts:g} V" if several else ""
