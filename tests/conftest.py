"""Shared settings of all tests."""

from hypothesis import settings

settings.register_profile("steady", deadline=None, print_blob=True)
settings.load_profile("steady")
