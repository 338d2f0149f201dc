"""What the tick does each minute, registered as this module is loaded at start-up."""

from datetime import datetime

from jobs.buying.services.kept_orders import catch_up_orders
from jobs.deleted.services.deleted import forget_deleted
from jobs.needs.services.schedule_refresh import catch_up
from quoting.alerts.services.due_alerts import look_for_alerts
from quoting.alerts.services.feed_events import cancel_orphans
from quoting.alerts.services.weekly import ask_for_lists
from quoting.life.services.following import catch_up_lives
from quoting.platform.errands.services.chores import every_minute
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people.services.log_in_limits import forget_what_is_over
from quoting.platform.people.services.sent_forms import forget_sent_forms
from quoting.quotes.services.revisions import mark_lapsed


@every_minute("lapse quotes whose last day is over")
def lapse_quotes(now: datetime) -> None:
    mark_lapsed(now, day_at_the_firm(now))


@every_minute("date the jobs whose rows are older than they are, and all of them on a new day")
def catch_up_on_dates(now: datetime) -> None:
    catch_up(now, day_at_the_firm(now))


@every_minute("lives of jobs that are missing, or that a new day turned")
def lives(now: datetime) -> None:
    catch_up_lives(now)


@every_minute("orders whose rows are missing, or older than the catalog")
def orders(now: datetime) -> None:
    catch_up_orders(now)


@every_minute("alerts that came up")
def alerts(now: datetime) -> None:
    look_for_alerts(now)


@every_minute("the weekly list")
def weekly_lists(now: datetime) -> None:
    ask_for_lists(now)


@every_minute("events of jobs that were deleted")
def orphaned_events(now: datetime) -> None:
    cancel_orphans(now)


@every_minute("counts of guesses and known places that are over")
def over_log_ins(now: datetime) -> None:
    forget_what_is_over(now)


@every_minute("forms sent a week ago")
def old_sent_forms(now: datetime) -> None:
    forget_sent_forms(now)


@every_minute("what was deleted thirty days ago")
def old_deleted(now: datetime) -> None:
    forget_deleted(now)
