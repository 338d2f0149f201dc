"""What of a takeoff, a schedule or a job each role sees: the field sees no money and no supplier."""

from rest_framework.request import Request

from quoting.platform.api.base import Document, sees_costs, without


def takeoff_for(request: Request, takeoff: Document) -> Document:
    if sees_costs(request):
        return takeoff
    purchases = [_purchase_without_money(purchase) for purchase in takeoff["purchases"]]
    return without(takeoff, "material_cost") | {"purchases": purchases}


def _purchase_without_money(purchase: Document) -> Document:
    return without(purchase, "cost", "stock_cost") | {
        "packs": [without(pack, "unit_price", "amount") for pack in purchase["packs"]],
        "shares": [without(share, "cost") for share in purchase["shares"]],
    }


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


def schedule_for(request: Request, schedule: Document) -> Document:
    if sees_costs(request):
        return schedule
    # A lead term's source says who was asked.
    return schedule | {"items": [without(item, "supplier", "lead_term") for item in schedule["items"]]}
