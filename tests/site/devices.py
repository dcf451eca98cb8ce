"""One device in a site of its own, surveyed."""

from textwrap import indent

from sinkside import quantity
from sinkside.quantity import Basis, Quantity, Spread
from sinkside.site.appliance import Appliance
from sinkside.site.read import read
from sinkside.site.survey import survey

NINE_V = 'plate: "DC IN 9V⎓ 500mA ⊕–C–⊖"'
BARREL = "inlet: {plug: 5.5x2.1}"
USB_C = "inlet: {plug: usb-c}"
HEADER = "site: {name: T}\ndevices:\n  d:\n    use: ordinary\n"


def surveyed(*lines: str, ambient: str = "15..35 °C") -> Appliance:
    """A device named `d` of ordinary use, from the lines of its entry.

    The ambient may be one that no site file may have.
    """
    site = read(HEADER + indent("\n".join(lines), "    ") + "\n", "s.yaml")
    around = quantity.read(ambient, "°C", basis=Basis.DATASHEET, spread=Spread.VARIES)
    return survey(site.devices[0], around)


def ends(quantity: Quantity | None) -> tuple[float, float]:
    """Low and high, to the nanovolt or nanoamp."""
    assert quantity is not None
    return round(quantity.low, 9), round(quantity.high, 9)


def told(appliance: Appliance) -> str:
    """All its conflicts as one text."""
    return "\n".join(appliance.conflicts)
