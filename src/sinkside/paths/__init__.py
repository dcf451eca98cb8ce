"""Chains of parts from a charger's port to an inlet: search, states, judgement, ranking."""
