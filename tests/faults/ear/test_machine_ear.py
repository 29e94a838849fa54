"""What befalls the ear of a real process: told by tone, words and screen, and nothing said is lost."""

from __future__ import annotations

import sys
from typing import Any

import pytest

PART = "ear"

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="it has no such terminals")


def test_a_person_is_told_and_the_log_is_in_order(befallen: Any) -> None:
    """Heard, seen, exit status, sound kept, log closed and ready to be gone on with."""
    assert befallen.faults == ()
