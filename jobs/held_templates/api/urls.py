from jobs.held_templates.api import templates
from quoting.platform.people.access import STAFF, route

urlpatterns = [
    route("jobs/<str:key>/templates", templates.Templates, both=STAFF),
    route("jobs/<str:key>/templates/<int:template_id>", templates.OneTemplate, "api_template", GET=STAFF, PATCH=STAFF),
    route("jobs/<str:key>/templates/<int:template_id>/moves", templates.TemplateMoves, POST=STAFF),
]
