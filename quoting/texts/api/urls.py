from quoting.platform.people.access import DESK, PRICERS, route
from quoting.texts.api import texts

urlpatterns = [
    route("texts", texts.Texts, GET=DESK),
    route("texts/sentences/<str:key>", texts.Sentence, PUT=PRICERS),
    route("texts/sentences/<str:key>/end", texts.EndSentence, POST=PRICERS),
    route("texts/wordings/<int:text_id>", texts.Wording, DELETE=PRICERS),
    route("texts/notices", texts.Notices, POST=PRICERS),
    route("texts/notices/<int:notice_id>", texts.Notice, DELETE=PRICERS),
    route("texts/places", texts.Places, POST=PRICERS),
    route("texts/places/<int:place_id>", texts.Place, DELETE=PRICERS),
]
