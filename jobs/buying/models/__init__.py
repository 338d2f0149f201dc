from jobs.buying.models.kept_orders import KeptOrder

__all__ = ["KeptOrder"]
