from quoting.client.models.client_links import ClientLink, QuoteMail
from quoting.client.models.received import PaymentReceived

__all__ = ["ClientLink", "PaymentReceived", "QuoteMail"]
