from jobs.finish.models.items import FinishItem, FinishPhoto

__all__ = ["FinishItem", "FinishPhoto"]
