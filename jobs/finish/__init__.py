"""The finish list: what is still to be mended on a job, by wall, with a photo, who mends it and by when.

The lead enters and ticks it on site; the client adds to it from their own page once work has begun there, and reads
what was mended. While an item is open the last activity cannot be ended, so the job is not done. Items are never
deleted: one that is no fault is closed with words, which the client reads.
"""
