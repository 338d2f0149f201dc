from quoting.changes.pages import drafts, page, substituting
from quoting.platform.people.access import DESK, PRICERS, route

urlpatterns = [
    route("jobs/<int:job_id>/buying/substitutions/", substituting.substitutions, both=DESK),
    route("jobs/<int:job_id>/price/changes/", page.change_list, GET=DESK),
    route("jobs/<int:job_id>/price/changes/add/", drafts.change_add, both=PRICERS),
    route("jobs/<int:job_id>/price/changes/from-walls/", drafts.change_from_walls, POST=PRICERS),
    route("jobs/<int:job_id>/price/changes/from-allowance/", drafts.change_from_allowance, POST=PRICERS),
    route("changes/drafts/<int:draft_id>/", drafts.change_draft, GET=DESK, POST=PRICERS),
    route("changes/drafts/<int:draft_id>/remove/", drafts.change_draft_remove, POST=PRICERS),
    route("changes/drafts/<int:draft_id>/issue/", drafts.change_issue, POST=PRICERS),
]
