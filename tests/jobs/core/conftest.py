from hypothesis import settings

# Nothing is timed here: on a shared machine a slow example says nothing about the code.
settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")
