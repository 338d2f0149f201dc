from quoting.job_money.models.quoted_sides import QuotedSide
from quoting.job_money.models.said_to_go import How, SaidLeft

__all__ = ["How", "QuotedSide", "SaidLeft"]
