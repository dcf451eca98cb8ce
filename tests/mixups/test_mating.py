"""Names of plugs and what goes on what; the rule itself is tested with the sizes.

Common practice, no source, but for the sizes of JEITA RC-5320A (secondary text).
"""

import pytest

from sinkside.mixups.mating import barrel, fit
from sinkside.standards.barrel import JEITA_SIZES, Fit


@pytest.mark.parametrize(
    ("plug", "inlet", "found"),
    [
        ("5.5x2.1", "5.5x2.1", Fit.GOES_ON),
        ("5.5x2.5", "5.5x2.1", Fit.LOOSE),
        ("5.5x2.1", "5.5x2.5", Fit.DOES_NOT_GO_ON),
        ("6.5x3", "5.5x2.1", Fit.DOES_NOT_GO_ON),
        ("5.5x3.3", "5.5x2.1", Fit.DOES_NOT_GO_ON),
        ("5.5x3.4", "5.5x3.3", Fit.GOES_ON),
        ("6.5x4.4", "6.5x3", Fit.DOES_NOT_GO_ON),
        ("micro-usb", "micro-usb", Fit.GOES_ON),
        ("micro-usb", "mini-usb", Fit.DOES_NOT_GO_ON),
        ("micro-usb", "5.5x2.1", Fit.DOES_NOT_GO_ON),
        ("other", "other", Fit.GOES_ON),
        ("other", "5.5x2.1", Fit.DOES_NOT_GO_ON),
        ("keyed-2", "keyed-2", Fit.GOES_ON),
        ("keyed-2", "keyed-3", Fit.DOES_NOT_GO_ON),
        ("wires", "wires", Fit.GOES_ON),
    ],
)
def test_a_plug_at_an_inlet(plug: str, inlet: str, found: Fit) -> None:
    assert fit(plug, inlet) is found


def test_the_large_sizes_have_a_pin_of_their_own() -> None:
    assert barrel("5.5x3.3") == JEITA_SIZES[3].plug
    assert barrel("6.5x4.4") == JEITA_SIZES[4].plug


@pytest.mark.parametrize("name", ["micro-usb", "other", "usb-c", "5.5xmini", "x"])
def test_what_is_no_barrel(name: str) -> None:
    assert barrel(name) is None
