from quoting.platform.people.access import OWNER, PRICERS, STAFF, route
from quoting.record.pages import page

urlpatterns = [
    route("firm/record/", page.learnt_page, "learnt", GET=PRICERS),
    route("firm/record/accept/", page.learnt_accept, POST=OWNER),
    route("firm/record/leave-out/", page.learnt_leave_out, both=PRICERS),
    route("firm/record/take-in/", page.learnt_take_in, POST=PRICERS),
    route("jobs/<int:job_id>/left-over/", page.left_over, both=STAFF),
]
