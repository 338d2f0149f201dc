from quoting.changes.api import change_notes, changes, substitutions
from quoting.platform.people.access import DESK, PRICERS, route

urlpatterns = [
    route("jobs/<str:key>/contract", changes.JobContract.as_view(), "api_contract", GET=DESK),
    route("jobs/<str:key>/changes", changes.ChangeDrafts.as_view(), "api_change_drafts", GET=DESK, POST=PRICERS),
    route(
        "jobs/<str:key>/changes/<int:draft_id>/issue", changes.IssueChange.as_view(), "api_change_issue", POST=PRICERS
    ),
    route("jobs/<str:key>/change-notes/<int:note>", change_notes.OneNote.as_view(), "api_change_note", GET=DESK),
    route(
        "jobs/<str:key>/change-notes/<int:note>/answer",
        change_notes.AnswerNote.as_view(),
        "api_change_note_answer",
        POST=DESK,
    ),
    route(
        "jobs/<str:key>/change-notes/<int:note>/withdraw",
        change_notes.WithdrawNote.as_view(),
        "api_change_note_withdraw",
        POST=PRICERS,
    ),
    route("jobs/<str:key>/stand-ins/<str:code>", substitutions.StandIns.as_view(), "api_stand_ins", GET=DESK),
    route(
        "jobs/<str:key>/substitutions",
        substitutions.Substitutions.as_view(),
        "api_substitutions",
        GET=DESK,
        POST=DESK,
    ),
]
