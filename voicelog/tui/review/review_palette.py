"""The palette of the review screen."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from voicelog.tui.actions import Deed
from voicelog.tui.palette import Deeds
from voicelog.tui.review.deeds import DEEDS, READING


class ReviewDeeds(Deeds):
    """Every deed but the one that needs a digit."""

    deeds: ClassVar[Sequence[Deed]] = tuple(deed for deed in DEEDS if deed.id != READING)
