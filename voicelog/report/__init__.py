"""Reports: what an inspection comes to, in plain words, put together from several packages."""

from __future__ import annotations

from voicelog.report.compose import compose
from voicelog.report.material import Material

__all__ = ["Material", "compose"]
