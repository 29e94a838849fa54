"""The contract's smallest parts: closed lists, names, times and numbers with their units."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, BeforeValidator, ConfigDict, Field

from voicelog.domain.fact import FORMAT
from voicelog.export.values import LARGEST

CLOSED = ConfigDict(extra="forbid", strict=True, allow_inf_nan=False)
"""An object whose keys are all known and whose values are never converted."""

OPEN = ConfigDict(extra="allow", strict=True, allow_inf_nan=False)
"""An object that may hold keys this version does not know."""

Kind = Literal["finding", "clear", "not-seen", "photo", "remark"]
Grade = Literal["cosmetic", "treat", "repair", "unsafe"]
Side = Literal["left", "right", "both", "centre"]
Face = Literal["inboard", "outboard", "top", "bottom", "front", "rear", "interior"]
Layer = Literal["coating", "metal"]
Part = Literal["web", "flange", "seam", "weld", "edge"]
Probe = Literal["firm", "dull", "dents", "moves", "soft", "through"]
Method = Literal["seen", "tapped", "scraped", "probed", "scoped", "gauged"]
Surround = Literal["firm", "none"]
Certainty = Literal["stated", "tentative"]
Rails = Literal["boxed", "open", "mixed"]
Drive = Literal["do-not-drive", "no-danger-found-where-examined", "not-enough-seen"]
Work = Literal["none", "surface", "local", "major", "replacement-or-specialist"]
Tier = Literal["sound", "fair", "repairable", "beyond-repair", "unknown"]
Urgency = Literal["now", "repair", "treat", "look"]
Role = Literal["load-path", "critical", "support", "crush", "panel", "fluid-line", "attached"]
GapReason = Literal["not-seen", "cavity-not-seen", "unproven", "not-probed", "doubtful"]


def _real_date(text: str) -> str:
    """Refuses a well-written time on a day that no calendar has."""
    try:
        datetime.fromisoformat(text)
    except ValueError:
        raise ValueError("not a day of the calendar") from None
    return text


def _whole(value: Any) -> Any:
    """2.0 is a whole number to JSON Schema, so it is one here."""
    return int(value) if isinstance(value, float) and value.is_integer() else value


_SECOND = r"^[0-9]{4}-(0[1-9]|1[0-2])-[0-9]{2}T([01][0-9]|2[0-3]):[0-5][0-9]:[0-5][0-9](\.[0-9]+)?"
_OFFSET = r"(Z|[+-]([01][0-9]|2[0-3]):[0-5][0-9])$"

Time = Annotated[
    str,
    Field(pattern=_SECOND + _OFFSET, json_schema_extra={"format": "date-time"}),
    AfterValidator(_real_date),
]
"""RFC 3339 with its offset, seconds from 00 to 59."""

Utc = Annotated[
    str,
    Field(pattern=_SECOND + "Z$", json_schema_extra={"format": "date-time"}),
    AfterValidator(_real_date),
]
"""RFC 3339 in UTC, written with a Z."""

Name = Annotated[str, Field(pattern=r"^[a-z]+(-[a-z]+)*$")]
"""Id of a zone, condition or map."""

EntryId = Annotated[str, Field(pattern=r"^e[0-9]+\.[0-9]+$")]
UtteranceId = Annotated[str, Field(pattern=r"^u[0-9]+$")]
LogId = Annotated[
    str, Field(pattern=r"^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$")
]
Sha256 = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]

Length = Annotated[float, Field(ge=0, le=LARGEST)]
"""Millimetres."""

Percent = Annotated[float, Field(ge=-LARGEST, le=LARGEST)]
Ends = Annotated[list[Percent], Field(min_length=2, max_length=2)]
"""Lower and upper end of a range, in the unit of its slot."""

Seconds = Annotated[float, Field(ge=0)]
Count = Annotated[int, Field(ge=0, le=LARGEST), BeforeValidator(_whole)]
Whole = Annotated[int, Field(ge=0), BeforeValidator(_whole)]
Positive = Annotated[int, Field(ge=1), BeforeValidator(_whole)]

LineVersion = Annotated[int, Field(ge=0, le=FORMAT), BeforeValidator(_whole)]
"""A range: a literal 0 would let false through. Lines of version 0 have the keys of version 1."""
