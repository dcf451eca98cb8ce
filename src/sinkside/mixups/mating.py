"""Which plug goes into which inlet, from their names.

A barrel is known by its outer and inner diameter. The two largest sizes of JEITA RC-5320A have
a pin of their own inside the barrel and are told by their diameters. Every other plug mates with
its like and with nothing else: it is keyed by its form.
"""

from functools import lru_cache

from sinkside.standards.barrel import JEITA_SIZES, Fit, Plug, jack_for, mates

# One source has 3.4 mm where the others have 3.3 mm: both are meant for number 4.
_PINNED = {
    (5.5, 3.4): JEITA_SIZES[3].plug,
    **{(s.plug.outer_mm, s.plug.inner_mm): s.plug for s in JEITA_SIZES if s.plug.centre_pin_mm},
}


@lru_cache(maxsize=1000)
def barrel(name: str) -> Plug | None:
    """The sizes behind a name such as `5.5x2.1`; None of what is no barrel."""
    outer, times, inner = name.partition("x")
    try:
        size = (float(outer), float(inner)) if times else None
    except ValueError:
        return None
    if size is None:
        return None
    return _PINNED.get(size, Plug(outer_mm=size[0], inner_mm=size[1]))


@lru_cache(maxsize=10_000)
def fit(plug: str, inlet: str) -> Fit:
    """What happens when a plug is pushed at an inlet.

    Parameters
    ----------
    plug, inlet
        By name: a barrel as `outer x inner` in mm, or a form such as `micro-usb`.

    Notes
    -----
    It is not symmetric: a 2.5 mm plug goes over a 2.1 mm pin, loosely, and a 2.1 mm plug does not
    go over a 2.5 mm pin. Two plugs that nobody has named (`other`) may be the same, so they go on.
    A ring that locks keeps a plug in its own jack and out of no other: it is not looked at.

    References
    ----------
    `sinkside.standards.barrel.mates`; that forms differ enough is common practice, no source.
    """
    if plug == inlet:
        return Fit.GOES_ON
    one, other = barrel(plug), barrel(inlet)
    if one is None or other is None:
        return Fit.DOES_NOT_GO_ON
    return mates(one, jack_for(other))
