"""Made-up cases are the same on every run and on every machine, and none is timed."""

from hypothesis import settings

settings.register_profile("same", derandomize=True, deadline=None, print_blob=True)
settings.load_profile("same")
