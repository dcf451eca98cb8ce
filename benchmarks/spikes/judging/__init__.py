"""Which solver of the steady state is fastest, and what a straight diode costs."""
