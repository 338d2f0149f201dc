from quoting.alerts.pages import feeds, job_calendar, mail_preferences
from quoting.platform.people.access import BUYERS, EVERYONE, STAFF, route

urlpatterns = [
    route("account/mail/times/", mail_preferences.times_change, "alert_times", both=BUYERS),
    route("account/calendar/", feeds.feed_make, POST=STAFF),
    route("account/calendar/withdraw/", feeds.feed_withdraw, POST=STAFF),
    # Whoever holds the secret address, which is asked for in feeds.py.
    route("calendar/<str:secret>.ics", feeds.calendar_feed, GET=EVERYONE),
    route("jobs/<int:job_id>/buying/dates.ics", job_calendar.order_dates_calendar, GET=STAFF),
]
