"""Which integrator follows an outage through a path, beside a general circuit simulator."""
