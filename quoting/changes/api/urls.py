from quoting.changes.api import change_notes, changes, substitutions
from quoting.platform.people.access import DESK, PRICERS, route

urlpatterns = [
    route("jobs/<str:key>/contract", changes.JobContract, GET=DESK),
    route("jobs/<str:key>/changes", changes.ChangeDrafts, GET=DESK, POST=PRICERS),
    route("jobs/<str:key>/changes/<int:draft_id>/issue", changes.IssueChange, POST=PRICERS),
    route("jobs/<str:key>/change-notes/<int:note>", change_notes.OneNote, GET=DESK),
    route("jobs/<str:key>/change-notes/<int:note>/answer", change_notes.AnswerNote, POST=DESK),
    route("jobs/<str:key>/change-notes/<int:note>/withdraw", change_notes.WithdrawNote, POST=PRICERS),
    route("jobs/<str:key>/stand-ins/<str:code>", substitutions.StandIns, GET=DESK),
    route("jobs/<str:key>/substitutions", substitutions.Substitutions, GET=DESK, POST=DESK),
]
