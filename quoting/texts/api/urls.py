from quoting.platform.people.access import DESK, PRICERS, route
from quoting.texts.api import texts

urlpatterns = [
    route("texts", texts.Texts.as_view(), "api_texts", GET=DESK),
    route("texts/sentences/<str:key>", texts.Sentence.as_view(), "api_sentence", PUT=PRICERS),
    route("texts/sentences/<str:key>/end", texts.EndSentence.as_view(), "api_sentence_end", POST=PRICERS),
    route("texts/wordings/<int:text_id>", texts.Wording.as_view(), "api_wording", DELETE=PRICERS),
    route("texts/notices", texts.Notices.as_view(), "api_notices", POST=PRICERS),
    route("texts/notices/<int:notice_id>", texts.Notice.as_view(), "api_notice", DELETE=PRICERS),
    route("texts/places", texts.Places.as_view(), "api_notice_places", POST=PRICERS),
    route("texts/places/<int:place_id>", texts.Place.as_view(), "api_notice_place", DELETE=PRICERS),
]
