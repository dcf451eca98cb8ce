"""Power data objects that a source sends: what it offers."""

from dataclasses import dataclass
from typing import ClassVar

from sinkside.standards.pd_fields import Field, Layout, Revision, Word, flag
from sinkside.standards.pd_object_fields import (
    APDO_MASK,
    APDO_MINIMUM,
    AVS_HIGH,
    AVS_LOW,
    AVS_MAXIMUM,
    AVS_PEAK,
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
class FixedSource(Word):
    """A fixed supply that a source offers.

    Parameters
    ----------
    voltage_mv, current_ma
        Nominal voltage and most current, mV in steps of 50, mA in steps of 10.
    peak_current
        Code of the overload that it stands, 0 to 3; see `pd_overload`.
    epr_capable
        R3.1 and later. This flag and the following count in the first object only.
    unchunked, dual_role_data, usb_communications, unconstrained, usb_suspend, dual_role_power
        `unchunked` since R3.0.
    """

    LAYOUT: ClassVar[Layout] = Layout(
        name="fixed supply (source)",
        tag_mask=TYPE_MASK,
        entries=(
            low_ten("current_ma", 10, "mA"),
            VOLTAGE,
            Field(name="peak_current", low=20, high=21),
            flag("epr_capable", 23, since=Revision.R3_1),
            flag("unchunked", 24, since=Revision.R3_0),
            flag("dual_role_data", 25),
            flag("usb_communications", 26),
            flag("unconstrained", 27),
            flag("usb_suspend", 28),
            flag("dual_role_power", 29),
        ),
    )

    voltage_mv: int
    current_ma: int
    peak_current: int = 0
    epr_capable: bool = False
    unchunked: bool = False
    dual_role_data: bool = False
    usb_communications: bool = False
    unconstrained: bool = False
    usb_suspend: bool = False
    dual_role_power: bool = False


@dataclass(frozen=True, kw_only=True)
class VariableSource(Word):
    """A variable supply, not regulated, that a source offers; mV in steps of 50, mA of 10."""

    LAYOUT: ClassVar[Layout] = Layout(
        name="variable supply (source)",
        tag=0x8000_0000,
        tag_mask=TYPE_MASK,
        entries=(low_ten("current_ma", 10, "mA"), MINIMUM, MAXIMUM),
    )

    minimum_mv: int
    maximum_mv: int
    current_ma: int


@dataclass(frozen=True, kw_only=True)
class BatterySource(Word):
    """A battery that a source offers; mV in steps of 50, mW of 250."""

    LAYOUT: ClassVar[Layout] = Layout(
        name="battery supply (source)",
        tag=0x4000_0000,
        tag_mask=TYPE_MASK,
        entries=(low_ten("power_mw", 250, "mW"), MINIMUM, MAXIMUM),
    )

    minimum_mv: int
    maximum_mv: int
    power_mw: int


@dataclass(frozen=True, kw_only=True)
class PpsSource(Word):
    """A programmable supply (PPS) that a source offers; mV in steps of 100, mA of 50.

    Parameters
    ----------
    power_limited
        The source may fold its current back to stay within its rated power.
    """

    LAYOUT: ClassVar[Layout] = Layout(
        name="programmable supply (source)",
        tag=0xC000_0000,
        since=Revision.R3_0,
        tag_mask=APDO_MASK,
        entries=(PPS_CURRENT, APDO_MINIMUM, PPS_MAXIMUM, flag("power_limited", 27)),
    )

    minimum_mv: int
    maximum_mv: int
    current_ma: int
    power_limited: bool = False


@dataclass(frozen=True, kw_only=True)
class EprAvsSource(Word):
    """An adjustable supply (AVS) above 100 W that a source offers; mV in steps of 100.

    Parameters
    ----------
    pdp_w
        Rated power, W: the current is the lesser of 5 A and this over the voltage.
    """

    LAYOUT: ClassVar[Layout] = Layout(
        name="EPR adjustable supply (source)",
        tag=0xD000_0000,
        since=Revision.R3_1,
        tag_mask=APDO_MASK,
        entries=(PDP, APDO_MINIMUM, AVS_MAXIMUM, AVS_PEAK),
    )

    minimum_mv: int
    maximum_mv: int
    pdp_w: int
    peak_current: int = 0


@dataclass(frozen=True, kw_only=True)
class SprAvsSource(Word):
    """An adjustable supply (AVS) up to 100 W, 9 V to 15 or 20 V, that a source offers.

    Parameters
    ----------
    current_9_to_15_v_ma, current_15_to_20_v_ma
        mA in steps of 10; 0 where the range is not offered.
    peak_current
        Code of the overload that it stands, 0 to 3.
    """

    LAYOUT: ClassVar[Layout] = Layout(
        name="SPR adjustable supply (source)",
        tag=0xE000_0000,
        since=Revision.R3_2,
        tag_mask=APDO_MASK,
        entries=(AVS_HIGH, AVS_LOW, AVS_PEAK),
    )

    current_9_to_15_v_ma: int
    current_15_to_20_v_ma: int
    peak_current: int = 0
