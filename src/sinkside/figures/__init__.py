"""Drawings of a plan, as text and as SVG; the data of a drawing is one, its renderings several."""
