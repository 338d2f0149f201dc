"""What of a job each role sees: the field sees no money and no supplier."""

from rest_framework.request import Request

from quoting.platform.api.base import Document, sees_costs, without


def job_for(request: Request, job: Document) -> Document:
    """A plan that was chosen says what its sheets and sticks cost, what is set aside what it is charged at."""
    if sees_costs(request):
        return job
    about = job["job"]
    return job | {
        "job": about
        | {
            "plans": None,
            "on_hand": [without(row, "unit_cost") for row in about["on_hand"]],
            "dates": [without(row, "supplier") for row in about["dates"]],
        }
    }
