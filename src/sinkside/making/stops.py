"""At which sign and size of volts nothing goes on, as the meter shows it, and how it is said."""

from dataclasses import dataclass

from sinkside.quantity import rounded

# A meter that hangs on nothing shows some millivolts of either sign; a reversed supply shows
# volts (common practice, no source).
SIGN_V = 0.1
NOT_EXPECTED = "Outside what is expected: do not go on."


@dataclass(frozen=True, kw_only=True)
class Stops:
    """Stop limits as the meter shows them, with their sign, and in words.

    Parameters
    ----------
    below, above
        A reading under the one or over the other is a stop.
    """

    below: float | None
    above: float | None
    words: str


def stops_of(
    most_v: float | None, least_v: float | None, *, minus: bool, harm: str, lack: str
) -> Stops:
    """The stop limits of a place where volts of one sign are read.

    Parameters
    ----------
    most_v, least_v
        What is too much and too little, both as a size without a sign; None where nothing is.
    minus
        Whether the meter is to show a minus, for its red probe is on the negative pole.
    harm, lack
        What happens beyond the one and under the other.

    Notes
    -----
    Where nothing is too little a reading of the wrong sign still is a stop, from `SIGN_V` on.
    """
    nearest = -SIGN_V if least_v is None else least_v
    size = "the size" if minus else "it"
    over = "" if most_v is None else f"over {rounded(most_v, 'V', 4)} ({harm})"
    under = "" if least_v is None else f"under {rounded(least_v, 'V', 4)} ({lack})"
    ends = " or ".join(end for end in (over, under) if end)
    words = [
        f"STOP if {_wrong(minus, dark=least_v is None)} shown.",
        f"Stop if {size} is {ends}." if ends else "",
        NOT_EXPECTED,
    ]
    told = " ".join(word for word in words if word)
    if not minus:
        return Stops(below=nearest, above=most_v, words=told)
    return Stops(below=None if most_v is None else -most_v, above=-nearest, words=told)


def _wrong(minus: bool, *, dark: bool) -> str:
    """The wrong sign; where no volts at all may be right, too, no sign is not wrong by itself."""
    if not minus:
        return "a minus is"
    return "volts without a minus are" if dark else "no minus is"
