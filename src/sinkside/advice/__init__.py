"""What to measure next, and what it decides."""

from sinkside.advice.catalogue import CATALOGUE, Measurement
from sinkside.advice.choosing import GRAVE_WEIGHT, SLIGHT_WEIGHT, Advice, advise

__all__ = ["CATALOGUE", "GRAVE_WEIGHT", "SLIGHT_WEIGHT", "Advice", "Measurement", "advise"]
