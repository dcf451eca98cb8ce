"""The symbols that rules are written in: what each means, its unit, and which way is good."""

from dataclasses import dataclass
from enum import IntEnum


class Good(IntEnum):
    """Which end of a symbol makes a margin larger."""

    HIGH = 0  # bad at its low end
    LOW = 1  # bad at its high end


@dataclass(frozen=True, kw_only=True)
class SymbolKind:
    """A symbol of the rule table.

    Parameters
    ----------
    good
        Which of its ends is the good one, in every formula that it stands in.
    """

    symbol: str
    meaning: str
    unit: str
    good: Good


def _up(symbol: str, meaning: str, unit: str) -> SymbolKind:
    return SymbolKind(symbol=symbol, meaning=meaning, unit=unit, good=Good.HIGH)


def _down(symbol: str, meaning: str, unit: str) -> SymbolKind:
    return SymbolKind(symbol=symbol, meaning=meaning, unit=unit, good=Good.LOW)


SYMBOLS: dict[str, SymbolKind] = {
    kind.symbol: kind
    for kind in (
        _up("V_harm", "volts above which the device is harmed", "V"),
        _down("V_feed_high", "highest volts at the inlet, device off", "V"),
        _up("V_feed_low", "lowest volts of the last source before the inlet", "V"),
        _down("I_in", "current into the inlet at its peak", "A"),
        _down("R_feed", "resistance from that source to the pins", "Ω"),
        _down("V_run", "least volts at which the device runs", "V"),
        _down("P_load", "power that the device takes at its peak", "W"),
        _up("I_offer", "current that the port offers in this contract", "A"),
        _down("I_port", "current out of the port at the device's peak", "A"),
        _up("I_rated", "rating of the weakest part on the load side", "A"),
        _down("I_steady", "steady current into the inlet", "A"),
        _up("I_rated_port", "rating of the weakest part on the port side", "A"),
        _down("I_port_steady", "steady current out of the port", "A"),
        _up("I_weakest", "what lead, plug and jack carry", "A"),
        _down("I_fault", "largest current that can flow for long in a fault", "A"),
        _up("I_fuse", "current that the fuse carries for good", "A"),
        _down("I_through", "steady current through the fuse", "A"),
        _up("V_rated", "volts that the part nearest to its limit stands", "V"),
        _down("V_at_part", "highest volts at that part", "V"),
        _down("V_port_high", "highest volts of the port", "V"),
        _up("V_port_low", "lowest volts of the port", "V"),
        _down("R_front", "resistance from the port to the converter", "Ω"),
        _down("I_conv", "current out of the port while the converter holds its output", "A"),
        _down("V_needs", "volts before the converter below which it cannot hold its output", "V"),
        _up("I_trip", "current at which the port trips", "A"),
        _down("C_in", "capacitance behind the inlet", "F"),
        _down("S_rise", "how fast the volts rise at the inlet", "V/s"),
        _up("I_conv_rated", "rated current of the converter", "A"),
        _down("K_up", "amps of the port for one amp behind a converter", "1"),
        _up("P_allow", "power that the regulator may burn", "W"),
        _up("V_out", "volts behind the regulator", "V"),
        _down("I_q", "the regulator's own current", "A"),
        _up("V_cool", "volts up to which the device is known to run cool enough", "V"),
        _down("V_press", "highest volts that a press of the button reaches", "V"),
        _down(
            "I_start", "current into the inlet as it starts, at the least volts it wakes at", "A"
        ),
        _up("K_long", "share of its offer that the charger keeps up for hours", "1"),
        _up("I_idle", "current out of the port while the device idles", "A"),
        _down("I_cut", "current under which the charger takes the port to be empty", "A"),
        _up("J_fuse", "I²t of a pulse that the fuse stands 10 000 times", "A²s"),
        _down("J_rush", "I²t of the pulse that charges the input capacitor", "A²s"),
        _up("T_ride", "how long the device rides through a gap", "s"),
        _down("T_gap", "how long the contract is gone", "s"),
    )
}
