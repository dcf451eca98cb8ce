"""How what was planned is made: what the papers say, as plain data, and nothing of their look."""
