"""Lists of objects: what breaks the rules is told, not refused."""

import pytest

from sinkside.standards.pd_lists import avs_limit_ma, list_faults, request_faults
from sinkside.standards.pd_objects import (
    BatterySource,
    EprAvsSource,
    FixedSource,
    PpsSource,
    SourceObject,
    SprAvsSource,
    UnknownObject,
    VariableSource,
)
from sinkside.standards.pd_requests import (
    AvsRequest,
    BatteryRequest,
    FixedRequest,
    PpsRequest,
    Request,
)


def fixed(volts: int, current_ma: int = 3000) -> FixedSource:
    return FixedSource(voltage_mv=volts * 1000, current_ma=current_ma)


FIVE, NINE, FIFTEEN, TWENTY = fixed(5), fixed(9), fixed(15), fixed(20)
ZERO = fixed(0, 0)
PPS = PpsSource(minimum_mv=3300, maximum_mv=11_000, current_ma=3000)
WIDE_PPS = PpsSource(minimum_mv=3300, maximum_mv=21_000, current_ma=3000)
SPR_AVS = SprAvsSource(current_9_to_15_v_ma=4000, current_15_to_20_v_ma=3350)
NARROW_AVS = SprAvsSource(current_9_to_15_v_ma=3000, current_15_to_20_v_ma=0)
EPR_AVS = EprAvsSource(minimum_mv=15_000, maximum_mv=28_000, pdp_w=140)
BATTERY = BatterySource(minimum_mv=5000, maximum_mv=12_000, power_mw=27_000)
VARIABLE = VariableSource(minimum_mv=9000, maximum_mv=15_000, current_ma=3000)
SPR_HALF: tuple[SourceObject, ...] = (FIVE, NINE, FIFTEEN, TWENTY, ZERO, ZERO, ZERO)


@pytest.mark.parametrize(
    ("offers", "epr"),
    [
        ((FIVE,), False),
        ((FIVE, NINE, FIFTEEN, TWENTY, BATTERY, VARIABLE, PPS), False),
        ((FIVE, NINE, PPS, SPR_AVS), False),
        ((*SPR_HALF, fixed(28), EPR_AVS), True),
        ((FIVE, NINE, FIFTEEN, TWENTY, PPS, WIDE_PPS, SPR_AVS, fixed(28), EPR_AVS), True),
    ],
)
def test_lists_that_keep_the_rules(offers: tuple[SourceObject, ...], epr: bool) -> None:
    assert list_faults(offers, epr=epr) == ()


@pytest.mark.parametrize(
    ("offers", "epr", "texts"),
    [
        ((), False, ["the list is empty; it has 5 V at least"]),
        (
            (NINE,),
            False,
            ["object 1 is a fixed supply (source) of 9000 mV; it must be a fixed supply of 5 V"],
        ),
        (
            (FIVE, FIFTEEN, NINE),
            False,
            [
                "object 3, a fixed supply (source) of 9000 mV, follows object 2, a fixed supply "
                "(source) of 15000 mV; fixed, battery, variable, augmented; each rising"
            ],
        ),
        (
            (FIVE, PPS, NINE),
            False,
            [
                "object 3, a fixed supply (source) of 9000 mV, follows object 2, a programmable "
                "supply (source) of 3300 to 11000 mV; fixed, battery, variable, augmented; "
                "each rising"
            ],
        ),
        (
            tuple(fixed(v) for v in (5, 6, 7, 8, 9, 12, 15, 20)),
            False,
            ["the list has 8 objects; it may have 7"],
        ),
        (
            (FIVE, FixedSource(voltage_mv=9000, current_ma=3000, usb_suspend=True)),
            False,
            ["object 2 sets usb_suspend; only object 1 may"],
        ),
        (
            (FIVE, fixed(28)),
            False,
            [
                "object 2 is a fixed supply (source) of 28000 mV; "
                "it belongs at position 8 or after, in an EPR message"
            ],
        ),
        ((FIVE, ZERO), False, ["object 2 is all zero; only an EPR list is padded"]),
        (
            (*SPR_HALF, NINE),
            True,
            ["object 8 is a fixed supply (source) of 9000 mV; it belongs at position 7 or before"],
        ),
        (
            (FIVE, UnknownObject(reserved=0xF0000000)),
            False,
            ["object 2: object 0xf0000000 is of an unknown type"],
        ),
    ],
)
def test_lists_that_break_the_rules(
    offers: tuple[SourceObject, ...], epr: bool, texts: list[str]
) -> None:
    assert [str(fault) for fault in list_faults(offers, epr=epr)] == texts


OFFERS = (FIVE, VARIABLE, BATTERY, PPS, SPR_AVS, EPR_AVS, NARROW_AVS)


@pytest.mark.parametrize(
    ("request_", "text"),
    [
        (FixedRequest(position=1, operating_current_ma=3000, limit_current_ma=3000), None),
        (
            FixedRequest(position=1, operating_current_ma=3010, limit_current_ma=3000),
            "the request is for 3010 mA; position 1 has 0 to 3000 mA",
        ),
        (
            FixedRequest(position=2, operating_current_ma=3000, limit_current_ma=3500),
            "the request is for 3500 mA; position 2 has 0 to 3000 mA",
        ),
        (
            FixedRequest(
                position=2,
                operating_current_ma=3000,
                limit_current_ma=3500,
                capability_mismatch=True,
            ),
            None,
        ),
        (
            BatteryRequest(position=3, operating_power_mw=27_250, limit_power_mw=27_000),
            "the request is for 27250 mW; position 3 has 0 to 27000 mW",
        ),
        (
            PpsRequest(position=4, voltage_mv=11_020, current_ma=1000),
            "the request is for 11020 mV; position 4 has 3300 to 11000 mV",
        ),
        (AvsRequest(position=5, voltage_mv=15_000, current_ma=4000), None),
        (
            AvsRequest(position=5, voltage_mv=15_100, current_ma=4000),
            "the request is for 4000 mA; position 5 has 0 to 3350 mA",
        ),
        (
            AvsRequest(position=7, voltage_mv=15_100, current_ma=1000),
            "the request is for 15100 mV; position 7 has 9000 to 15000 mV",
        ),
        (AvsRequest(position=5, voltage_mv=9000, current_ma=4000), None),
        (AvsRequest(position=5, voltage_mv=20_000, current_ma=3350), None),
        (
            AvsRequest(position=5, voltage_mv=20_100, current_ma=1000),
            "the request is for 20100 mV; position 5 has 9000 to 20000 mV",
        ),
        (
            AvsRequest(position=5, voltage_mv=8900, current_ma=1000),
            "the request is for 8900 mV; position 5 has 9000 to 20000 mV",
        ),
        (
            AvsRequest(position=6, voltage_mv=20_000, current_ma=5050),
            "the request is for 5050 mA; position 6 has 0 to 5000 mA",
        ),
        (
            PpsRequest(position=4, voltage_mv=3280, current_ma=1000),
            "the request is for 3280 mV; position 4 has 3300 to 11000 mV",
        ),
        (
            PpsRequest(position=4, voltage_mv=3300, current_ma=3050),
            "the request is for 3050 mA; position 4 has 0 to 3000 mA",
        ),
        (
            BatteryRequest(position=3, operating_power_mw=27_000, limit_power_mw=27_250),
            "the request is for 27250 mW; position 3 has 0 to 27000 mW",
        ),
        (
            FixedRequest(position=0, operating_current_ma=0, limit_current_ma=0),
            "the request is for position 0; the list has 1 to 7",
        ),
        (AvsRequest(position=6, voltage_mv=28_000, current_ma=5000), None),
        (
            AvsRequest(position=6, voltage_mv=28_100, current_ma=5000),
            "the request is for 28100 mV; position 6 has 15000 to 28000 mV",
        ),
        (
            AvsRequest(position=8, voltage_mv=15_000, current_ma=1000),
            "the request is for position 8; the list has 1 to 7",
        ),
        (
            PpsRequest(position=1, voltage_mv=5000, current_ma=1000),
            "a request for a programmable supply is for position 1; "
            "there is a fixed supply (source) of 5000 mV",
        ),
    ],
)
def test_requests_against_the_list(request_: Request, text: str | None) -> None:
    assert [str(fault) for fault in request_faults(request_, OFFERS)] == ([text] if text else [])


def test_an_adjustable_offer_limits_by_power() -> None:
    # 144 W gives 5 A up to 28.8 V, then 144 W over the voltage (arithmetic).
    wide = EprAvsSource(minimum_mv=15_000, maximum_mv=36_000, pdp_w=144)
    assert avs_limit_ma(wide, 28_800) == 5000
    assert avs_limit_ma(wide, 36_000) == 4000
    assert avs_limit_ma(SPR_AVS, 8900) == 0
