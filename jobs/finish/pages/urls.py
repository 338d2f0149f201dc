from jobs.finish.pages import finish
from quoting.platform.people.access import STAFF, route

urlpatterns = [
    route("jobs/<int:job_id>/site/finish/", finish.finish_list, both=STAFF),
    route("site/finish/<int:item_id>/", finish.finish_item, both=STAFF),
    route("site/finish/<int:item_id>/mended/", finish.finish_mended, POST=STAFF),
    route("site/finish/photos/<int:photo_id>/", finish.finish_photo, GET=STAFF),
]
