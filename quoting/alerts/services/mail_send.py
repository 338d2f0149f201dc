"""Mails of alerts and lists are begun once: that is committed before the mail server is spoken to."""

from datetime import datetime

from django.db import transaction

from catalog.core.ground.refusal import Refused
from quoting.alerts.models import AlertMail, WeeklyMail


@transaction.atomic
def begin(kind: type[AlertMail] | type[WeeklyMail], mail_id: int, now: datetime) -> AlertMail | WeeklyMail:
    """Raises Refused when it had begun before."""
    begun = kind._default_manager.filter(pk=mail_id, began_at=None).update(began_at=now)
    mail = kind._default_manager.select_related("person__mail_wish").get(pk=mail_id)
    if not begun:
        raise Refused(
            f"The service stopped while sending the mail to {mail.person}, so it may not have left. It is not sent "
            "again: all it says is on Today."
        )
    return mail
