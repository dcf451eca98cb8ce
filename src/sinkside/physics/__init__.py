"""Electrical models on arrays: one published model is one plain function."""
