from jobs.held_templates.pages import pages
from quoting.platform.people.access import STAFF, route

urlpatterns = [
    route("jobs/<int:job_id>/templates/", pages.templates, both=STAFF),
    route("jobs/<int:job_id>/templates/<int:template_id>/", pages.template, both=STAFF),
    route("jobs/<int:job_id>/templates/<int:template_id>/change/", pages.template_change, both=STAFF),
]
