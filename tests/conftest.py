"""What all tests share."""

from __future__ import annotations

import os
from collections.abc import Iterator

import pytest
from hypothesis import settings

# A check of a submission tries the same examples each time; by hand, new ones are tried with every run.
settings.register_profile("ci", derandomize=True)
if os.environ.get("CI"):
    settings.load_profile("ci")


@pytest.fixture(autouse=True, scope="session")
def _own_cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Keep the cache folder of whoever runs the tests out of them."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("cache")))
        yield
