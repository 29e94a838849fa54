"""What all tests share: nothing of the tester's own folders is read or written.

Properties try the same inputs in every run, so that a change is judged by what it changes. To look
for new ones: ``python -m pytest tests/properties --hypothesis-profile=explore``.
"""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator

import pytest
from hypothesis import HealthCheck, settings

UNHURRIED = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow]}
"""A slow or busy machine proves nothing wrong."""
settings.register_profile("fixed", derandomize=True, **UNHURRIED)
settings.register_profile("explore", derandomize=False, **UNHURRIED)
settings.load_profile("fixed")


@pytest.fixture(autouse=True, scope="session")
def _one_ear() -> Iterator[None]:
    """A second ear that happens to be installed hears nothing here: the tests bring their own."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("voicelog.recognise.lookup.has_second_ear", lambda: False)
        yield


@pytest.fixture(autouse=True, scope="session")
def _own_folders() -> Iterator[None]:
    """Checked grammars are cached, and settings looked for and remembered, in a folder of this run,
    on every system platformdirs knows.
    """
    with tempfile.TemporaryDirectory() as folder, pytest.MonkeyPatch.context() as patch:
        for name in ("XDG_CACHE_HOME", "XDG_CONFIG_HOME", "LOCALAPPDATA", "APPDATA"):
            patch.setitem(os.environ, name, folder)
        yield
