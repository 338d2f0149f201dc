from jobs.stock.models.stock import Stock

__all__ = ["Stock"]
