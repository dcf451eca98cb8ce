"""How exact an integration is, and how long it tries."""

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Effort:
    """How exact, and how long to try.

    Parameters
    ----------
    relative, absolute
        Local error allowed, in parts of the state and in V or A.
    outage_limit
        A run ends once its device has gone out that often: it motorboats.
    trip_limit
        A run ends once the port has tripped that often: it hiccups.
    switch_limit
        Most changes of mode of one run.
    step_limit
        Most rounds of steps.
    wait_limit_s
        How long a port waits for its receptacle to fall to vSafe0V.
    """

    relative: float = 3e-4
    absolute: float = 3e-5
    outage_limit: int = 20
    trip_limit: int = 3
    switch_limit: int = 150
    step_limit: int = 100_000
    wait_limit_s: float = 60.0


USUAL = Effort()
"""A thousandth of the state: crossings within 10 µs on all that was compared."""
