"""Every table of this app, for Django to find. Rooms import from the models of rooms."""

import jobs.bills.models
import jobs.buying.models
import jobs.deleted.models
import jobs.deliveries.models
import jobs.finish.models
import jobs.held_templates.models
import jobs.hours.models
import jobs.items.models
import jobs.jobs.models
import jobs.needs.models
import jobs.orders.models
import jobs.plans.models
import jobs.schedule.models
import jobs.stock.models
import jobs.walls.models

__all__ = ["jobs"]
