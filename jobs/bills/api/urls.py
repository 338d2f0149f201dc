from jobs.bills.api import bills
from quoting.platform.people.access import DESK, STAFF, route

urlpatterns = [
    route("bills", bills.Bills, both=DESK),
    route("bills/drafts", bills.BillDrafts, POST=STAFF),
    route("bills/goods", bills.OpenGoodsList, GET=DESK),
    route("bills/photos/<int:photo_id>", bills.BillPhotoFile, GET=DESK),
    route("bills/<int:bill_id>", bills.OneBill, GET=DESK),
    route("bills/<int:bill_id>/enter", bills.EnterDraft, POST=DESK),
    route("bills/<int:bill_id>/void", bills.VoidBill, POST=DESK),
]
