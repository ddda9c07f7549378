"""What holds for every test."""

import os

from hypothesis import settings

# The same examples in every run, and no failure because a machine is busy.
settings.register_profile("steady", derandomize=True, deadline=None)
settings.load_profile("steady")

# What whoever runs the tests has chosen for own projects must not change what is tested.
for variable in ("PROPOSAL_LIBRARY", "PROPOSAL_DOT"):
    os.environ.pop(variable, None)
