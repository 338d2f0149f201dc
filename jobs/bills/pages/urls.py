from jobs.bills.pages import acts, bills, sheets
from quoting.platform.people.access import DESK, STAFF, route

urlpatterns = [
    route("buying/bills/", bills.bill_list, GET=DESK),
    route("buying/bills/new/", bills.bill_add, both=DESK),
    route("buying/bills/file/", sheets.bills_in, both=DESK),
    route("buying/bills/file/apply/", sheets.bills_apply, POST=DESK),
    route("buying/bills/file/columns/", sheets.bills_columns, GET=DESK),
    route("buying/bills/photos/<int:photo_id>/", bills.bill_photo, GET=DESK),
    route("buying/bills/<int:bill_id>/", bills.bill, GET=DESK),
    route("buying/bills/<int:bill_id>/enter/", bills.bill_enter, both=DESK),
    route("buying/bills/<int:bill_id>/void/", acts.bill_void, both=DESK),
    route("receiving/slip/", acts.bill_slip, both=STAFF),
]
