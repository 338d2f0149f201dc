from jobs.plans.models.plans import ChosenPlan, FoundPlan, PlanOf

__all__ = [
    "ChosenPlan",
    "FoundPlan",
    "PlanOf",
]
