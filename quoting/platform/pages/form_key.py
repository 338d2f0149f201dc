"""The key every form carries: the same form sent twice does its work once."""

import hashlib
import re

from django.http import HttpRequest

KEY = re.compile(r"[0-9a-f]{32}")
# What is issued or ordered is kept once by its own service, which computes for seconds before it writes.
GUARDED_OTHERWISE = ("request_key", "seen_mark")
SAVING = ("save", "save-over")


def mark_of(request: HttpRequest) -> str:
    """Tells one sending from another by its key and all it says; empty where nothing has to be kept once.

    What somebody went back to and changed says something else, and is a new form.
    """
    sent = request.POST
    if not KEY.fullmatch(sent.get("form_key", "")) or any(name in sent for name in GUARDED_OTHERWISE):
        return ""
    if sent.get("do", "save") not in SAVING:
        return ""
    pairs = [(name, values) for name, values in sorted(request.POST.lists()) if name != "csrfmiddlewaretoken"]
    files = [
        (name, [(entry.name, entry.size) for entry in request.FILES.getlist(name)]) for name in sorted(request.FILES)
    ]
    return hashlib.sha256(repr((request.path, pairs, files)).encode("utf-8", "surrogatepass")).hexdigest()
