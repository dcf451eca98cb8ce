"""What `plate` shows: how one rating plate was read."""

from sinkside import plates


def lines(name: str, text: str) -> list[str]:
    """How a plate was read, for people."""
    reading = plates.read(text)
    said = []
    for side, ratings in (("in", reading.input), ("out", reading.output)):
        for r in ratings:
            volts = f"{r.voltage_low_v:g}" + (
                f"..{r.voltage_high_v:g}" if r.voltage_high_v != r.voltage_low_v else ""
            )
            amps = f" {r.current_a:g} A" if r.current_a is not None else ""
            kind = {"dc": "d.c.", "ac": "a.c.", "unknown": "d.c. or a.c. not said"}[r.kind]
            said.append(f"{side} {volts} V {kind}{amps}")
    if reading.centre != "unknown":
        said.append(f"centre {reading.centre}")
    shown = " ".join(text.split())
    found = [f"{name} {shown!r} reads: {'; '.join(said) or 'nothing'}"]
    found += [f"  unclear: {a.text!r}: {a.why}" for a in reading.ambiguities]
    return found
