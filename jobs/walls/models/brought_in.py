from jobs.core.measure.brought_in import BroughtIn
from quoting.platform.models.brought_in import ConfirmedColumns


def brought_in_of(row: ConfirmedColumns) -> BroughtIn | None:
    if row.brought_on is None:
        return None
    return BroughtIn(row.brought_by, row.brought_on, row.confirmed_by, row.confirmed_on)
