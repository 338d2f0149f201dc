"""What rooms below are given by rooms above them, as the service starts."""

from catalog.pages.panels import panels
from catalog.services.book import zone_of_the_firm
from catalog.services.known_sheets import SHEETS, Sheet
from jobs.bills.models import BillPhoto
from jobs.buying.services import deleted_drafts  # noqa: F401 - puts drafts back
from jobs.buying.services.kept_orders import orders_of_jobs_changed
from jobs.dates.services.late_goods import late_goods
from jobs.deliveries.models import ReceiptPhoto
from jobs.deliveries.pages.planned_sheet import planned_sheet
from jobs.deliveries.services.arrivals import arrivals_of
from jobs.deliveries.services.lead_record import score_of, scores
from jobs.deliveries.services.leads import record_sheet
from jobs.finish.models import FinishPhoto
from jobs.finish.services.finish_list import refuse_while_open
from jobs.hours.services.rates import read_labour_rates_with
from jobs.jobs.services.changes import after_fact
from jobs.jobs.services.lives import read_lives_with
from jobs.jobs.services.notes import read_notes_with
from jobs.jobs.services.signed import read_signed_with
from jobs.needs.services.stored_needs import after_counting, after_refresh
from jobs.orders.services.job_standings import read_agreements_with
from jobs.orders.services.order_changes import after_ordering
from jobs.schedule.services import (
    planned_days,  # noqa: F401 - keeps planned days beside stored needs
    renamed_people,  # noqa: F401 - follows the names of people
)
from jobs.schedule.services.actual_days import before_done
from jobs.schedule.services.late_goods import read_late_goods_with
from jobs.site.services.on_site import read_arrivals_with
from jobs.walls.services.kept_pictures import photo_models
from quoting.alerts.models import FeedAddress
from quoting.alerts.services import feed_sync  # noqa: F401 - follows the stored needs
from quoting.changes.services.change_notes import numbers_of_notes
from quoting.client.services.agreements import agreements_of
from quoting.job_money.services import (
    quoted_sides,  # noqa: F401 - keeps what an accepted quote costs
    quoted_steps,  # noqa: F401 - hours are entered on what is quoted too
)
from quoting.life.services import following  # noqa: F401 - keeps the lives of jobs
from quoting.life.services.reading import lives_as_read
from quoting.month.services.closing import first_open_month
from quoting.platform.firm_day import read_zone_with
from quoting.platform.people.services.people import ways_in
from quoting.platform.posting import read_first_open_month_with
from quoting.pricing.services.taxes import labour_rates_by_name
from quoting.quotes.services.signed import signed_jobs

photo_models += [ReceiptPhoto, BillPhoto, FinishPhoto]
before_done.append(refuse_while_open)
ways_in.append(FeedAddress)
SHEETS["lead-record"] = Sheet(
    "Lead-time record",
    "A row for each order that came: days quoted, days taken. The file is the whole record.",
    record_sheet.export,
    record_sheet.preview,
    record_sheet.apply,
)
panels |= {"planned": planned_sheet, "score": score_of, "scores": scores}
read_zone_with(zone_of_the_firm)
read_agreements_with(agreements_of)
read_arrivals_with(arrivals_of)
read_signed_with(signed_jobs)
read_late_goods_with(late_goods)
read_lives_with(lives_as_read)
read_first_open_month_with(first_open_month)
read_labour_rates_with(labour_rates_by_name)
read_notes_with(numbers_of_notes)
# After the lives, which whoever changes a job holds first.
for follow in (after_ordering, after_fact, after_counting):
    follow.append(orders_of_jobs_changed)
after_refresh.append(lambda job, result: orders_of_jobs_changed([job.pk]))
