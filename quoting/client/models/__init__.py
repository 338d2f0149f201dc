from quoting.client.models.client_links import ClientLink, LinkOpening, QuoteMail
from quoting.client.models.received import PaymentReceived

__all__ = ["ClientLink", "LinkOpening", "PaymentReceived", "QuoteMail"]
