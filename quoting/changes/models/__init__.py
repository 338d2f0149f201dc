from quoting.changes.models.changes import (
    ChangeAnswer,
    ChangeDraft,
    ChangeDraftLine,
    ChangeNote,
    ChangeNoteLine,
    ChangeState,
)
from quoting.changes.models.substitutions import Substitution

__all__ = [
    "ChangeAnswer",
    "ChangeDraft",
    "ChangeDraftLine",
    "ChangeNote",
    "ChangeNoteLine",
    "ChangeState",
    "Substitution",
]
