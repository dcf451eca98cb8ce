"""Triggers: what asks a port for volts."""

from typing import Annotated, Literal

from pydantic import Field

from sinkside.faults import NotUnderstood
from sinkside.parts.elements import Resistance
from sinkside.parts.fields import Plug, Said, StrapVolts, said
from sinkside.parts.part import FALLBACKS, End, Fallback, Part, TriggerTraits
from sinkside.parts.written.entry import PartWritten, end_of
from sinkside.quantity import Basis, point

TRIGGER_OHM = (0.020, 0.080)


class TriggerWritten(PartWritten):
    """A part that asks for a contract and hands it on."""

    is_: Literal["trigger"] = Field(alias="is")
    straps: tuple[StrapVolts, ...] = ()
    button: tuple[StrapVolts, ...] = ()
    by: Literal["negotiation", "resistors"] = "negotiation"
    falls_back: Annotated[Said | None, said(*FALLBACKS, "unknown")] = None
    output_switch: Annotated[Said | None, said("yes", "no", "unknown")] = None
    gives: Plug = "wires"
    centre: Literal["positive", "negative"] | None = None

    def parts(self) -> tuple[Part, ...]:
        """One part for each strap setting."""
        settings = self.straps or self.button
        if self.by == "resistors" and not settings:
            settings = (point(5.0, "V", Basis.STANDARD),)
        if self.by == "resistors" and [v.value for v in settings] != [5.0]:
            raise NotUnderstood(
                f"trigger {self.id!r}: two resistors get 5 V and nothing else",
                "leave straps: out, or say by: negotiation",
            )
        if not settings:
            raise NotUnderstood(f"trigger {self.id!r} asks for nothing", "add straps: [9 V, 12 V]")
        given = None if self.falls_back in (None, "unknown") else self.falls_back
        fallbacks = FALLBACKS if given is None else (_fallback(given),)
        end = end_of(self.gives, self.centre)
        return tuple(
            Part(
                **self.common(),
                kind="trigger",
                takes=End(kind="usb-c"),
                gives=end,
                elements=(Resistance(ohm=self.ohm(*TRIGGER_OHM)),),
                carries_a=self.carries.low if self.carries else 3.0,
                withstands_v=self.withstands.low if self.withstands else 21.0,
                joints=2 if end.kind == "wires" else 0,
                setting=_setting(asked.value, len(settings) > 1, bool(self.button)),
                trigger=TriggerTraits(
                    asks_v=asked.value,
                    falls_back=fallbacks,
                    gated=self.output_switch == "yes",
                    presses_v=tuple(v.value for v in self.button),
                    by_resistors=self.by == "resistors",
                ),
            )
            for asked in settings
        )


def _fallback(word: str) -> Fallback:
    return next(f for f in FALLBACKS if f == word)


def _setting(volts: float, several: bool, button: bool) -> str:
    if button:
        return f"button pressed to {volts:g} V"
    return f"strapped to {volts:g} V" if several else ""
