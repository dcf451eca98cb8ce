"""Spike: which formulation assigns devices to charger ports exactly, and at which size."""
