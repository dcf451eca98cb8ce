"""Residual risks of a path: what one fault upstream can do, in words."""

from functools import lru_cache

from sinkside.parts.elements import Converter
from sinkside.parts.part import TriggerTraits
from sinkside.paths.judge import Judged
from sinkside.rules.verdict import Verdict

# What no figure here covers where a converter gives the rails of a supply that was built in.
OF_RAILS = (
    "a fault in the converter puts the port's volts on a rail",
    "a converter may want a least load on each rail, and lose its volts below it: read them idle",
    "the order in which its rails rise, and any line that says that they are good, were the old "
    "supply's: see its service manual",
    "a tick of the mains that the old supply handed on is gone",
)


def residual_risks(judged: Judged, index: int) -> tuple[str, ...]:
    """Residual risks of a path, in words: what one fault upstream can do."""
    front = judged.paths[index].front
    return risks_of(
        front.trigger,
        front.converter,
        fused=any(part.fuse for part in front.parts),
        shorts=front.converter is not None and judged.code("single-fault", index) != Verdict.FITS,
        rails=front.rails is not None,
    )


@lru_cache(maxsize=10_000)
def risks_of(
    trigger: TriggerTraits, converter: Converter | None, fused: bool, shorts: bool, rails: bool
) -> tuple[str, ...]:
    """Residual risks of a chain, in words.

    Parameters
    ----------
    fused
        Whether any part of it is a fuse.
    shorts
        Whether a short in the converter may do harm.
    rails
        Whether it ends in a converter that gives a device its rails.
    """
    if rails:
        return (*risks_of(trigger, None, fused, shorts=False, rails=False), *OF_RAILS)
    found = []
    if shorts:
        found.append(
            "a short in the converter puts the port's volts on the device: "
            "fit a crowbar and fuse, or a fixed converter from a lower contract"
        )
    if converter is not None and converter.direction != "step-down":
        found.append("a fault in the converter's feedback makes it give more than it is set to")
    if converter is not None and converter.adjustable:
        found.append("a drifted or turned trimmer changes the volts: seal it after setting")
    if not fused:
        found.append("no fuse of its own: the port's protection is all there is")
    if trigger.programmable_v is not None:
        found.append(
            "a programmable contract lives on the trigger's requests: let it run for an hour under "
            "your eyes before it runs alone"
        )
    if trigger.presses_v:
        found.append("a press of the trigger's button changes the volts")
    if "highest" in trigger.falls_back:
        found.append(
            f"on a charger without {trigger.asks_v:g} V the trigger may take the highest "
            "that is offered: tie it to this charger"
        )
    return tuple(found)
