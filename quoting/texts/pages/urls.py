from django.urls import path

from quoting.texts.pages import notices, page

urlpatterns = [
    path("", page.firm_texts, name="firm_texts"),
    path("sentences/add/", page.standard_text_add, name="standard_text_add"),
    path("sentences/<slug:key>/", page.standard_text, name="standard_text"),
    path("sentences/<slug:key>/end/", page.standard_text_end, name="standard_text_end"),
    path("wordings/<int:text_id>/remove/", page.standard_text_remove, name="standard_text_remove"),
    path("notices/add/", notices.notice_add, name="notice_add"),
    path("notices/<int:notice_id>/", notices.notice, name="notice"),
    path("notices/<int:notice_id>/remove/", notices.notice_remove, name="notice_remove"),
    path("places/", notices.notice_place_set, name="notice_place_set"),
    path("places/<int:place_id>/remove/", notices.notice_place_remove, name="notice_place_remove"),
]
