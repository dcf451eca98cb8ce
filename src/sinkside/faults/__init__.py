"""What is wrong with the input, where, and what would be right."""

from sinkside.faults.fault import Fault, Faulty, NotUnderstood, Place

__all__ = ["Fault", "Faulty", "NotUnderstood", "Place"]
