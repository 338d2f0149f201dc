from quoting.texts.models.firm_texts import NoticePack, NoticePlace, StandardText, TextLeftOut

__all__ = [
    "NoticePack",
    "NoticePlace",
    "StandardText",
    "TextLeftOut",
]
