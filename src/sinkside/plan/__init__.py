"""The conductor: reads nothing, asks every room in one fixed order, and knows all the answers."""

from sinkside.plan.conductor import plan
from sinkside.plan.model import Action, Chosen, DevicePlan, Plan, Reject

__all__ = ["Action", "Chosen", "DevicePlan", "Plan", "Reject", "plan"]
