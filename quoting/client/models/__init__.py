from quoting.client.models.client_links import ClientLink, LinkOpening, QuoteMail
from quoting.client.models.questions import ClientQuestion

__all__ = ["ClientLink", "ClientQuestion", "LinkOpening", "QuoteMail"]
