"""Every table of this app, for Django to find. Rooms import from the models of rooms."""

import quoting.alerts.models
import quoting.changes.models
import quoting.client.models
import quoting.job_money.models
import quoting.life.models
import quoting.month.models
import quoting.payment_requests.models
import quoting.platform.errands.models
import quoting.platform.papers.models
import quoting.platform.people.models
import quoting.pricing.models
import quoting.quotes.models
import quoting.record.models
import quoting.texts.models

__all__ = ["quoting"]
