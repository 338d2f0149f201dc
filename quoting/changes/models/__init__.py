from quoting.changes.models.changes import (
    ChangeAnswer,
    ChangeDraft,
    ChangeDraftCost,
    ChangeDraftLine,
    ChangeNote,
    ChangeNoteCost,
    ChangeNoteLine,
    ChangeState,
)
from quoting.changes.models.substitutions import Substitution

__all__ = [
    "ChangeAnswer",
    "ChangeDraft",
    "ChangeDraftCost",
    "ChangeDraftLine",
    "ChangeNote",
    "ChangeNoteCost",
    "ChangeNoteLine",
    "ChangeState",
    "Substitution",
]
