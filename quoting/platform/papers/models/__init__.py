from quoting.platform.papers.models.marks import FirmMark
from quoting.platform.papers.models.papers import Paper, PaperKind

__all__ = [
    "FirmMark",
    "Paper",
    "PaperKind",
]
