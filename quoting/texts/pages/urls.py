from quoting.platform.people.access import DESK, PRICERS, route
from quoting.texts.pages import notices, page

urlpatterns = [
    route("firm/words/", page.firm_texts, GET=DESK),
    route("firm/words/sentences/add/", page.standard_text_add, both=PRICERS),
    route("firm/words/sentences/<slug:key>/", page.standard_text, both=PRICERS),
    route("firm/words/sentences/<slug:key>/end/", page.standard_text_end, POST=PRICERS),
    route("firm/words/wordings/<int:text_id>/remove/", page.standard_text_remove, POST=PRICERS),
    route("firm/words/notices/", notices.notices, GET=DESK),
    route("firm/words/notices/add/", notices.notice_add, both=PRICERS),
    route("firm/words/notices/<int:notice_id>/", notices.notice, both=PRICERS),
    route("firm/words/notices/<int:notice_id>/remove/", notices.notice_remove, POST=PRICERS),
    route("firm/words/places/", notices.notice_place_set, POST=PRICERS),
    route("firm/words/places/<int:place_id>/remove/", notices.notice_place_remove, POST=PRICERS),
]
