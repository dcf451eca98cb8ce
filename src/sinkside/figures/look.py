"""The look that every drawing shares: black on paper, one accent, weight and hatching."""

INK = "#141414"
PAPER = "#ffffff"
ACCENT = "#0a5560"

# Equal advances, so that what a label needs is known without asking a font: 0.602 of the size
# in the first of them, less in the others.
TYPEFACE = "DejaVu Sans Mono, Menlo, Consolas, monospace"
