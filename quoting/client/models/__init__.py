from quoting.client.models.client_links import ClientLink, LinkOpening, QuoteMail

__all__ = ["ClientLink", "LinkOpening", "QuoteMail"]
