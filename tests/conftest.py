"""One profile for all property tests: the same cases in every run, on fast and slow machines."""

from hypothesis import settings

settings.register_profile("steady", derandomize=True, deadline=None, max_examples=60)
settings.load_profile("steady")
