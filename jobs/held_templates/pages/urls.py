from django.urls import path

from jobs.held_templates.pages import pages

urlpatterns = [
    path("jobs/<int:job_id>/templates/", pages.templates, name="templates"),
    path("jobs/<int:job_id>/templates/<int:template_id>/", pages.template, name="template"),
    path("jobs/<int:job_id>/templates/<int:template_id>/change/", pages.template_change, name="template_change"),
]
