"""What to look at before a draft is issued, for the office alone: nothing of it stands on a paper."""

from catalog.models import Material
from quoting.changes.models import ChangeDraft
from quoting.changes.services.manual_change_overlap import overlaps_of
from quoting.core.changes.swaps import is_named

UNCHECKED = (
    "nobody has checked whether it bends here, what it costs and when it comes. "
    "Choose it under Substitutions instead, or check it yourself."
)
ENTER_THEM = "How many days the end moves could not be worked out: enter them."


def cautions_of(draft: ChangeDraft) -> tuple[str, ...]:
    open_days = (hours_sentence(draft),) if is_days_open(draft) else ()
    return (*overlaps_of(draft), *open_days, *_unchecked(draft))


def _unchecked(draft: ChangeDraft) -> tuple[str, ...]:
    """What nobody has looked at of a substitution that was typed and not chosen from the catalog."""
    if draft.kind != "substitution" or draft.walls_mark:
        return ()
    names = Material.objects.filter(active=True).values_list("name", flat=True)
    if any(is_named(name, draft.replacement) for name in names):
        return (f"Typed by hand, so {UNCHECKED}",)
    return (f"“{draft.replacement[:100]}” is not in the catalog, so {UNCHECKED}",)


def is_days_open(draft: ChangeDraft) -> bool:
    """Days are proposed, or cannot be, and nobody has entered any."""
    return bool(draft.walls_mark) and draft.days_proposed != 0 and draft.days_moved == 0


def hours_sentence(draft: ChangeDraft) -> str:
    """The hours of a change of the walls and the days they come to; empty for any other change."""
    hours, days = draft.hours_moved, draft.days_proposed
    if not draft.walls_mark:
        return ""
    if hours is None:
        return ENTER_THEM
    more = f"{abs(hours)} h {'less' if hours < 0 else 'more'} work"
    if days is None:
        return f"{more}. {ENTER_THEM}"
    if not days:
        return f"{more}: too little to move the end."
    count = f"{abs(days)} working day{'' if abs(days) == 1 else 's'}"
    return f"{more}: {count} {'sooner' if days < 0 else 'later'} proposed. Nothing moves until you enter days."
