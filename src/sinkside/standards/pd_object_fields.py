"""Fields that several kinds of power data object share, and the bits that tell the kinds apart.

Tables 6.8 to 6.17 of USB Power Delivery R3.2; read in open-source headers, see `pd_objects`.
"""

from sinkside.standards.pd_fields import Field

TYPE_MASK = 0xC000_0000
APDO_MASK = 0xF000_0000

VOLTAGE = Field(name="voltage_mv", low=10, high=19, step=50, unit="mV")
MINIMUM = Field(name="minimum_mv", low=10, high=19, step=50, unit="mV")
MAXIMUM = Field(name="maximum_mv", low=20, high=29, step=50, unit="mV")
APDO_MINIMUM = Field(name="minimum_mv", low=8, high=15, step=100, unit="mV")
PPS_MAXIMUM = Field(name="maximum_mv", low=17, high=24, step=100, unit="mV")
PPS_CURRENT = Field(name="current_ma", low=0, high=6, step=50, unit="mA")
AVS_MAXIMUM = Field(name="maximum_mv", low=17, high=25, step=100, unit="mV")
PDP = Field(name="pdp_w", low=0, high=7, unit="W")
AVS_HIGH = Field(name="current_15_to_20_v_ma", low=0, high=9, step=10, unit="mA")
AVS_LOW = Field(name="current_9_to_15_v_ma", low=10, high=19, step=10, unit="mA")
AVS_PEAK = Field(name="peak_current", low=26, high=27)


def low_ten(name: str, step: int, unit: str) -> Field:
    """A field of the ten lowest bits: a current or a power."""
    return Field(name=name, low=0, high=9, step=step, unit=unit)
