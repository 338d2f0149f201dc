from django.urls import path

from jobs.schedule.pages import activities, chance, crews, page

urlpatterns = [
    path("jobs/<int:job_id>/dates/", page.job_dates, name="job_dates"),
    path("jobs/<int:job_id>/dates/preview/", page.job_dates_preview, name="job_dates_preview"),
    path("jobs/<int:job_id>/activities/", activities.job_activities, name="job_activities"),
    path("jobs/<int:job_id>/chance/", chance.job_chance, name="job_chance"),
    path("crew-clashes/", crews.crew_clashes, name="crew_clashes"),
]
