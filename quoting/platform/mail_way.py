"""By which way mail goes as the service is set up: by a mail server it leaves, otherwise it stays on this machine."""

from django.conf import settings

from quoting.platform.models.mail_ways import MailWay

STAYING = {"mail_folder": MailWay.FOLDER, "console": MailWay.LOG}
STAYS = {
    MailWay.FOLDER: "Mail is off: it stays in the mail folder of this machine.",
    MailWay.LOG: "Mail is off: it is written to the log only.",
}


def mail_way() -> MailWay:
    return STAYING.get(settings.EMAIL_BACKEND.split(".")[-2], MailWay.SERVER)


def mail_stays() -> str:
    """Why mail reaches nobody, as a sentence; empty where it leaves."""
    return STAYS.get(mail_way(), "")


def on_its_way(what: object, address: str) -> str:
    stays = mail_stays()
    return f"{what} is not sent to {address}. {stays}" if stays else f"{what} is on its way to {address}."
