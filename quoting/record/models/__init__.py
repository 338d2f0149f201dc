from quoting.record.models.closed_jobs import LeftOut, LeftOver
from quoting.record.models.learnt import LearntStandard

__all__ = ["LearntStandard", "LeftOut", "LeftOver"]
