"""Power data objects that a sink sends: what it wants."""

from dataclasses import dataclass
from typing import ClassVar

from sinkside.standards.pd_fields import Field, Layout, Revision, Word, flag
from sinkside.standards.pd_object_fields import (
    APDO_MASK,
    APDO_MINIMUM,
    AVS_HIGH,
    AVS_LOW,
    AVS_MAXIMUM,
    MAXIMUM,
    MINIMUM,
    PDP,
    PPS_CURRENT,
    PPS_MAXIMUM,
    TYPE_MASK,
    VOLTAGE,
    low_ten,
)


@dataclass(frozen=True, kw_only=True)
class FixedSink(Word):
    """A fixed supply that a sink wants.

    Parameters
    ----------
    voltage_mv, operating_current_ma
        mV in steps of 50, mA in steps of 10.
    fast_role_swap
        Since R3.0: 0 none, 1 default, 2 1.5 A, 3 3.0 A.
    dual_role_data, usb_communications, unconstrained, higher_capability, dual_role_power
        Count in the first object only.
    """

    LAYOUT: ClassVar[Layout] = Layout(
        name="fixed supply (sink)",
        tag_mask=TYPE_MASK,
        entries=(
            low_ten("operating_current_ma", 10, "mA"),
            VOLTAGE,
            Field(name="fast_role_swap", low=23, high=24, since=Revision.R3_0),
            flag("dual_role_data", 25),
            flag("usb_communications", 26),
            flag("unconstrained", 27),
            flag("higher_capability", 28),
            flag("dual_role_power", 29),
        ),
    )

    voltage_mv: int
    operating_current_ma: int
    fast_role_swap: int = 0
    dual_role_data: bool = False
    usb_communications: bool = False
    unconstrained: bool = False
    higher_capability: bool = False
    dual_role_power: bool = False


@dataclass(frozen=True, kw_only=True)
class VariableSink(Word):
    """A variable supply that a sink wants; mV in steps of 50, mA of 10."""

    LAYOUT: ClassVar[Layout] = Layout(
        name="variable supply (sink)",
        tag=0x8000_0000,
        tag_mask=TYPE_MASK,
        entries=(low_ten("operating_current_ma", 10, "mA"), MINIMUM, MAXIMUM),
    )

    minimum_mv: int
    maximum_mv: int
    operating_current_ma: int


@dataclass(frozen=True, kw_only=True)
class BatterySink(Word):
    """A battery supply that a sink wants; mV in steps of 50, mW of 250."""

    LAYOUT: ClassVar[Layout] = Layout(
        name="battery supply (sink)",
        tag=0x4000_0000,
        tag_mask=TYPE_MASK,
        entries=(low_ten("operating_power_mw", 250, "mW"), MINIMUM, MAXIMUM),
    )

    minimum_mv: int
    maximum_mv: int
    operating_power_mw: int


@dataclass(frozen=True, kw_only=True)
class PpsSink(Word):
    """A programmable supply (PPS) that a sink wants; mV in steps of 100, mA of 50."""

    LAYOUT: ClassVar[Layout] = Layout(
        name="programmable supply (sink)",
        tag=0xC000_0000,
        since=Revision.R3_0,
        tag_mask=APDO_MASK,
        entries=(PPS_CURRENT, APDO_MINIMUM, PPS_MAXIMUM),
    )

    minimum_mv: int
    maximum_mv: int
    current_ma: int


@dataclass(frozen=True, kw_only=True)
class EprAvsSink(Word):
    """An adjustable supply (AVS) above 100 W that a sink wants; mV in steps of 100."""

    LAYOUT: ClassVar[Layout] = Layout(
        name="EPR adjustable supply (sink)",
        tag=0xD000_0000,
        since=Revision.R3_1,
        tag_mask=APDO_MASK,
        entries=(PDP, APDO_MINIMUM, AVS_MAXIMUM),
    )

    minimum_mv: int
    maximum_mv: int
    pdp_w: int


@dataclass(frozen=True, kw_only=True)
class SprAvsSink(Word):
    """An adjustable supply (AVS) up to 100 W that a sink wants; mA in steps of 10."""

    LAYOUT: ClassVar[Layout] = Layout(
        name="SPR adjustable supply (sink)",
        tag=0xE000_0000,
        since=Revision.R3_2,
        tag_mask=APDO_MASK,
        entries=(AVS_HIGH, AVS_LOW),
    )

    current_9_to_15_v_ma: int
    current_15_to_20_v_ma: int
