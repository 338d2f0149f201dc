from jobs.bills.api import bills
from quoting.platform.people.access import DESK, STAFF, route

urlpatterns = [
    route("bills", bills.Bills.as_view(), "api_bills", both=DESK),
    route("bills/drafts", bills.BillDrafts.as_view(), "api_bill_drafts", POST=STAFF),
    route("bills/goods", bills.OpenGoodsList.as_view(), "api_bill_goods", GET=DESK),
    route("bills/photos/<int:photo_id>", bills.BillPhotoFile.as_view(), "api_bill_photo", GET=DESK),
    route("bills/<int:bill_id>", bills.OneBill.as_view(), "api_bill", GET=DESK),
    route("bills/<int:bill_id>/enter", bills.EnterDraft.as_view(), "api_bill_enter", POST=DESK),
    route("bills/<int:bill_id>/void", bills.VoidBill.as_view(), "api_bill_void", POST=DESK),
]
