"""One device in a site of its own, surveyed."""

from textwrap import indent

from sinkside.quantity import Quantity
from sinkside.site.appliance import Appliance
from sinkside.site.read import read
from sinkside.site.survey import survey

NINE_V = 'plate: "DC IN 9V⎓ 500mA ⊕–C–⊖"'
BARREL = "inlet: {plug: 5.5x2.1}"
USB_C = "inlet: {plug: usb-c}"
HEADER = "site: {{name: T, ambient: {ambient}}}\ndevices:\n  d:\n    use: ordinary\n"


def surveyed(*lines: str, ambient: str = "15..35 °C") -> Appliance:
    """A device named `d` of ordinary use, from the lines of its entry."""
    text = HEADER.format(ambient=ambient) + indent("\n".join(lines), "    ") + "\n"
    site = read(text, "s.yaml")
    return survey(site.devices[0], site.ambient)


def ends(quantity: Quantity | None) -> tuple[float, float]:
    """Low and high, to the nanovolt or nanoamp."""
    assert quantity is not None
    return round(quantity.low, 9), round(quantity.high, 9)


def told(appliance: Appliance) -> str:
    """All its conflicts as one text."""
    return "\n".join(appliance.conflicts)
