"""sinkside plans how old low-voltage gear runs from shared USB Power Delivery chargers."""

__version__ = "0.1.0"
