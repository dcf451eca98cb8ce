"""Why volts are not as expected, and how a chain is opened for amps: of what is in it alone."""

from sinkside.parts.part import Part
from sinkside.paths.front import Front
from sinkside.paths.states import State

# Of a common meter on its 10 A range, and of a USB power meter: a share, and two counts of 10 mA
# (common practice, no source).
AMPS_SHARE, AMPS_COUNTS_A = 0.02, 0.02


def state_words(state: State, front: Front) -> str:
    """A state for people; two resistors make no contract, so none is named."""
    label = state.label(front)
    if front.trigger.by_resistors and label.startswith("contract "):
        return f"{label.removeprefix('contract ')} by two resistors, no contract"
    return label


def no_volts(front: Front) -> str:
    """Why nothing, or too little, comes without a load."""
    made = "the port gives no volts" if front.trigger.by_resistors else "the contract was not made"
    return f"{made}, or something on the way is not joined: read the point before it"


def other_volts(front: Front, after: int) -> str:
    """Why more volts come than were meant, behind so many parts."""
    trigger = front.head_parts[-1]
    found = ["the port gives other volts" if front.trigger.by_resistors else "another contract"]
    if trigger.setting and not front.trigger.by_resistors:
        found.append(f"the {_name(trigger)} is set otherwise")
    if front.converter is not None and after > front.split:
        found.append(
            "the converter is not set"
            if front.converter.adjustable
            else "it is another converter, or a broken one"
        )
    return f"STOP, pull the USB-C end: {' or '.join(found)}"


def opened(front: Front, *, closed: bool, usb_does: bool) -> str:
    """How a meter comes into the positive conductor before the load, and is taken out again.

    Parameters
    ----------
    closed
        Whether joints are shrunk and the case is closed by then: nothing in it is opened again.
    usb_does
        Whether a meter in the port shows the same, for no converter stands between.
    """
    point = _point(front, closed=closed)
    usb = "the USB power meter in the port shows the same here, for no converter stands between"
    if not point:
        return f"no joint can be opened here{': ' + usb if usb_does else ''}"
    how = (
        f"USB-C out; open the + {point}, red to the side of the charger, black to the side of the "
        "load; USB-C in; read; USB-C out; leads back to V"
    )
    return f"{how}. Or leave it closed: {usb}" if usb_does else how


def _point(front: Front, *, closed: bool) -> str:
    end = front.parts[-1]
    if front.rails is not None:
        return "" if closed else f"at the positive input of the {_name(front.rails)}"
    if closed:
        return (
            "at the plug, with a break-in lead of a jack and a plug of its kind between it and the "
            "device"
        )
    if end.takes.kind != "wires":
        return ""
    before = front.parts[-2]
    inline = before.fuse is not None or before.kind == "diode"
    where = "load end" if inline else "positive output"
    return f"at the {where} of the {_name(before)} with a break-in lead"


def _name(part: Part) -> str:
    return part.words or part.id
