from jobs.bills.models.bills import AcceptedDifference, Bill, BillKind, BillLine, BillPhoto, Category

__all__ = ["AcceptedDifference", "Bill", "BillKind", "BillLine", "BillPhoto", "Category"]
