"""Moments as text, RFC 3339."""

from __future__ import annotations

import re
from datetime import datetime


def is_moment(value: object, pattern: re.Pattern[str]) -> bool:
    """Whether a value is a text of that pattern, and a day that a calendar has.

    Args:
        value: anything.
        pattern: the form of RFC 3339 that is wanted; all of the text has to fit.
    """
    if not (isinstance(value, str) and pattern.fullmatch(value)):
        return False
    try:
        datetime.fromisoformat(value)
    except ValueError:
        return False
    return True
