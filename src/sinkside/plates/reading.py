"""What a rating plate says: ratings, polarity, shared power, and whatever cannot be told."""

from dataclasses import dataclass
from typing import Literal

type_of_kind = Literal["dc", "ac", "unknown"]
type_of_centre = Literal["positive", "negative", "unknown"]
type_of_profile = Literal["fixed", "pps", "avs"]
type_of_json = None | bool | float | str | list["type_of_json"] | dict[str, "type_of_json"]


@dataclass(frozen=True, kw_only=True)
class Rating:
    """One voltage of a plate with what belongs to it.

    Parameters
    ----------
    voltage_low_v, voltage_high_v
        The range in V; equal if one voltage is printed; negative for a negative rail.
    kind
        Direct or alternating; `unknown` if the plate does not say or contradicts itself.
    current_a, peak_current_a
        Current in A, and the current that is marked as a peak.
    power_w
        Power that is printed for this rating alone, in W or VA.
    port
        The port as printed, without "USB" and "Type": `C1`, `A`; `C1/C2` for each of two ports,
        and `C1+C2` for two ports together, in `SharedPower` alone.
    profile
        Fixed supply, or one of the two adjustable kinds of USB Power Delivery.
    line, column
        Where the voltage stands in the text as given, from 1.
    """

    voltage_low_v: float
    voltage_high_v: float
    kind: type_of_kind
    current_a: float | None
    peak_current_a: float | None
    power_w: float | None
    port: str | None
    profile: type_of_profile = "fixed"
    line: int
    column: int

    def as_json(self) -> dict[str, type_of_json]:
        """The rating without its place, as JSON takes it."""
        return {
            "voltage_low_v": self.voltage_low_v,
            "voltage_high_v": self.voltage_high_v,
            "kind": self.kind,
            "current_a": self.current_a,
            "peak_current_a": self.peak_current_a,
            "power_w": self.power_w,
            "port": self.port,
            "profile": self.profile,
        }


@dataclass(frozen=True, kw_only=True)
class SharedPower:
    """What one port, or several ports that are used together, may give.

    Parameters
    ----------
    ports
        The ports that are occupied.
    power_w
        Power in W port by port; a single figure for several ports is their sum; empty if only
        ratings are printed.
    ratings
        Ratings that these ports have together: `C1+A: 5V⎓3A`.
    line, column
        Where the first port stands in the text as given, from 1.
    """

    ports: tuple[str, ...]
    power_w: tuple[float, ...]
    ratings: tuple[Rating, ...] = ()
    line: int
    column: int

    def as_json(self) -> dict[str, type_of_json]:
        """The ports with their power and ratings, as JSON takes it."""
        return {
            "ports": list(self.ports),
            "power_w": list(self.power_w),
            "ratings": [rating.as_json() for rating in self.ratings],
        }


@dataclass(frozen=True, kw_only=True, order=True)
class Ambiguity:
    """A piece of the text that can be read in more than one way, or that fits nowhere."""

    line: int
    column: int
    text: str
    why: str

    def as_json(self) -> dict[str, type_of_json]:
        """The piece, its place and the reason, as JSON takes it."""
        return {"text": self.text, "line": self.line, "column": self.column, "why": self.why}


@dataclass(frozen=True, kw_only=True, order=True)
class Ignored:
    """A piece of the text that says nothing about ratings: model codes, dates, marks."""

    line: int
    column: int
    text: str

    def as_json(self) -> dict[str, type_of_json]:
        """The piece and its place, as JSON takes it."""
        return {"text": self.text, "line": self.line, "column": self.column}


@dataclass(frozen=True, kw_only=True)
class PlateReading:
    """All that a plate says, in the order of the text.

    Parameters
    ----------
    input, output
        Ratings of the two sides. A rating without a label counts as output, an unlabelled mains
        rating as input.
    centre
        Polarity of the centre contact of a coaxial plug.
    shared
        Power port by port and for sets of ports.
    total_power_w
        Power in W over all outputs, if printed.
    ambiguities
        Everything that cannot be told for certain.
    ignored
        Everything else that is printed.
    """

    input: tuple[Rating, ...]
    output: tuple[Rating, ...]
    centre: type_of_centre
    shared: tuple[SharedPower, ...]
    total_power_w: float | None
    ambiguities: tuple[Ambiguity, ...]
    ignored: tuple[Ignored, ...]

    def as_json(self) -> dict[str, type_of_json]:
        """The reading as JSON takes it."""
        return {
            "input": [rating.as_json() for rating in self.input],
            "output": [rating.as_json() for rating in self.output],
            "centre": self.centre,
            "shared": [shared.as_json() for shared in self.shared],
            "total_power_w": self.total_power_w,
            "ambiguities": [ambiguity.as_json() for ambiguity in self.ambiguities],
            "ignored": [ignored.as_json() for ignored in self.ignored],
        }
