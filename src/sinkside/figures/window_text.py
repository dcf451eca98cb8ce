"""The window as lines of text, for a terminal."""

from sinkside.figures.window import Bar, Window, ticks

WONT_RUN, MAY_NOT_RUN, OPEN, MAY_HARM, HARMS = "·", ":", " ", "/", "#"
LEGEND = f"{WONT_RUN} won't run  {MAY_NOT_RUN} may not run  {MAY_HARM} may harm  {HARMS} harms"


def window_text(drawn: Window, width: int = 64) -> list[str]:
    """Draw a window.

    Parameters
    ----------
    width
        Columns of the scale; the labels of the bars stand to its right.
    """
    return [
        *(_bar(bar, drawn, width) for bar in drawn.bars),
        _band(drawn, width),
        _scale(drawn, width),
    ]


def _column(volts: float, drawn: Window, width: int) -> int:
    share = (volts - drawn.left_v) / (drawn.right_v - drawn.left_v)
    return max(0, min(width - 1, round(share * (width - 1))))


def _bar(bar: Bar, drawn: Window, width: int) -> str:
    low, middle, high = (_column(v, drawn, width) for v in (bar.low_v, bar.nominal_v, bar.high_v))
    line = [" "] * width
    line[low : high + 1] = ("═" if bar.match else "─") * (high + 1 - low)
    if high > low:
        line[low], line[high] = ("╞", "╡") if bar.match else ("├", "┤")
    line[middle] = "╪" if bar.match else "┼"
    return f"{''.join(line)}  {bar.label}"


def _band(drawn: Window, width: int) -> str:
    line = []
    for column in range(width):
        volts = drawn.left_v + column / (width - 1) * (drawn.right_v - drawn.left_v)
        if volts > drawn.harmed_v:
            line.append(HARMS)
        elif volts > drawn.stands_v:
            line.append(MAY_HARM)
        elif volts < drawn.wont_run_v:
            line.append(WONT_RUN)
        elif volts < drawn.runs_v:
            line.append(MAY_NOT_RUN)
        else:
            line.append(OPEN)
    return f"{''.join(line)}  the device"


def _scale(drawn: Window, width: int) -> str:
    line = [" "] * (width + 4)
    for volts in ticks(drawn):
        text = f"{volts:g}"
        at = max(0, _column(volts, drawn, width) - len(text) // 2)
        if all(c == " " for c in line[max(0, at - 1) : at + len(text) + 1]):
            line[at : at + len(text)] = text
    return f"{''.join(line).rstrip()} V"
