from quoting.platform.people.access import DESK, PRICERS, route
from quoting.texts.pages import notices, page, starter

urlpatterns = [
    route("catalog/start/", starter.catalog_start, "catalog_start", both=PRICERS),
    route("texts/", page.firm_texts, "firm_texts", GET=DESK),
    route("texts/sentences/add/", page.standard_text_add, "standard_text_add", both=PRICERS),
    route("texts/sentences/<slug:key>/", page.standard_text, "standard_text", both=PRICERS),
    route("texts/sentences/<slug:key>/end/", page.standard_text_end, "standard_text_end", POST=PRICERS),
    route("texts/wordings/<int:text_id>/remove/", page.standard_text_remove, "standard_text_remove", POST=PRICERS),
    route("texts/notices/add/", notices.notice_add, "notice_add", both=PRICERS),
    route("texts/notices/<int:notice_id>/", notices.notice, "notice", both=PRICERS),
    route("texts/notices/<int:notice_id>/remove/", notices.notice_remove, "notice_remove", POST=PRICERS),
    route("texts/places/", notices.notice_place_set, "notice_place_set", POST=PRICERS),
    route("texts/places/<int:place_id>/remove/", notices.notice_place_remove, "notice_place_remove", POST=PRICERS),
]
