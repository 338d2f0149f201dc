from jobs.plans.models.plans import ChosenPlan, FoundPlan, PlanOf, StickOnHand

__all__ = [
    "ChosenPlan",
    "FoundPlan",
    "PlanOf",
    "StickOnHand",
]
