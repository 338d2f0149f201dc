from jobs.finish.api import finish
from quoting.platform.people.access import STAFF, route

urlpatterns = [
    route("jobs/<str:key>/finish", finish.FinishList, both=STAFF),
    route("finish/photos/<int:photo_id>", finish.FinishPhotoFile, GET=STAFF),
    route("finish/<int:item_id>", finish.OneFinishItem, GET=STAFF, PUT=STAFF),
    route("finish/<int:item_id>/photos", finish.FinishPhotos, POST=STAFF),
    route("finish/<int:item_id>/mended", finish.MendedFinishItem, POST=STAFF, DELETE=STAFF),
]
