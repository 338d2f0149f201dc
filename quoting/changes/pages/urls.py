from django.urls import path

from quoting.changes.pages import drafts, page

urlpatterns = [
    path("jobs/<int:job_id>/", page.change_list, name="change_list"),
    path("jobs/<int:job_id>/add/", drafts.change_add, name="change_add"),
    path("jobs/<int:job_id>/from-walls/", drafts.change_from_walls, name="change_from_walls"),
    path("jobs/<int:job_id>/from-allowance/", drafts.change_from_allowance, name="change_from_allowance"),
    path("drafts/<int:draft_id>/", drafts.change_draft, name="change_draft"),
    path("drafts/<int:draft_id>/remove/", drafts.change_draft_remove, name="change_draft_remove"),
    path("drafts/<int:draft_id>/issue/", drafts.change_issue, name="change_issue"),
]
