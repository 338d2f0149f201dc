from quoting.platform.papers.models.papers import Paper, PaperKind

__all__ = [
    "Paper",
    "PaperKind",
]
