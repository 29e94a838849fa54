"""A comparison of two logs as a plain JSON document."""

from __future__ import annotations

import re
from typing import Any

from voicelog.domain.comparison import Comparison, Difference, Rate, Standing
from voicelog.export.document import NOTICE
from voicelog.export.values import clean, known, rounded, texts
from voicelog.export.version import CONTRACT

_NAME = re.compile(r"[a-z]+(-[a-z]+)*")
_SIDES = ("left", "right", "both", "centre")
_NOWHERE = "unplaced"


def comparison_document(comparison: Comparison) -> dict[str, Any]:
    """What ``compare --json`` prints: what became of every finding, and what to know before.

    Returns:
        Plain JSON values in the shape of :class:`voicelog.export.comparison_shapes.ComparisonDocument`; what
        is not known is left out.
    """
    return {
        "contract": CONTRACT,
        "older": _log(comparison.older, comparison.older_at, comparison.then),
        "newer": _log(comparison.newer, comparison.newer_at, comparison.now),
        "warnings": texts(comparison.warnings),
        "differences": [difference_to_json(one) for one in comparison.differences],
        "counts": comparison.counts(),
        "places": dict(comparison.places or {}),
        "notice": NOTICE,
    }


def difference_to_json(difference: Difference) -> dict[str, Any]:
    """What became of one finding or place; a zone that is no name of the contract's is ``unplaced``."""
    zone = difference.zone if _NAME.fullmatch(difference.zone) else _NOWHERE
    told: dict[str, Any] = {
        "change": difference.change,
        "zone": zone,
        "side": difference.side if difference.side in _SIDES else None,
        "then": None if difference.then is None else str(difference.then),
        "now": None if difference.now is None else str(difference.now),
        "older": texts(difference.older),
        "newer": texts(difference.newer),
        "rate": None if difference.rate is None else rate_to_json(difference.rate),
        "text": clean(difference.text),
    }
    return known(told)


def rate_to_json(rate: Rate) -> dict[str, Any]:
    """The rate of wall loss; ``loss`` is false while the gauge's uncertainty explains it."""
    told: dict[str, Any] = {
        "older_mm": rounded(rate.older_mm),
        "newer_mm": rounded(rate.newer_mm),
        "years": rounded(rate.years),
        "mm_per_year": rounded(rate.mm_per_year),
        "uncertainty_mm_per_year": rounded(rate.uncertainty_mm_per_year),
        "loss": rate.is_loss,
        "years_left": rounded(rate.years_left),
        "years_left_least": rounded(rate.years_left_least),
    }
    return known(told)


def _log(name: str, at: str, standing: Standing) -> dict[str, Any]:
    told = {
        "id": name,
        "began": at,
        "subject": standing.subject,
        "vin": standing.vin,
        "map": standing.map,
        "drive": standing.drive,
        "work": standing.work,
        "tier": standing.tier,
    }
    return {key: clean(value) for key, value in told.items() if value}
