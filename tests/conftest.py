"""What all tests share."""

from __future__ import annotations

import os

from hypothesis import settings

# A check of a submission tries the same examples each time; by hand, new ones are tried with every run.
settings.register_profile("ci", derandomize=True)
if os.environ.get("CI"):
    settings.load_profile("ci")
