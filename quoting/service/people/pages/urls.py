from quoting.platform.people.access import BUYERS, OWNER, STAFF, route
from quoting.service.people.pages import account, people

urlpatterns = [
    route("account/", account.account, GET=STAFF),
    route("account/password/", account.OwnPassword.as_view(), "account_password", both=STAFF),
    route("account/tokens/", account.token_make, POST=STAFF),
    route("account/tokens/<int:token_id>/withdraw/", account.token_withdraw, POST=STAFF),
    route("account/mail/", account.wish_set, "mail_wish_set", POST=BUYERS),
    route("firm/people/", people.people_list, "people", GET=OWNER),
    route("firm/people/add/", people.person_add, both=OWNER),
    route("firm/people/<int:person_id>/", people.person_change, both=OWNER),
    route("firm/people/<int:person_id>/new-password/", people.person_new_password, POST=OWNER),
    route("firm/people/<int:person_id>/log-out/", people.person_log_out, POST=OWNER),
]
