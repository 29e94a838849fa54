"""The contract's shapes for a comparison of two logs."""

from __future__ import annotations

from typing import Annotated, Literal, NotRequired

from pydantic import Field, with_config
from typing_extensions import TypedDict  # pydantic refuses typing's own before Python 3.12

from voicelog.export import scalars as s

Change = Literal[
    "appeared", "worse", "grew", "same", "better", "repaired", "gone", "not-looked-at-again"
]


@with_config(s.CLOSED)
class ComparedLog(TypedDict):
    """One of the two logs, and its verdict by its own rules."""

    id: s.LogId
    began: Annotated[
        s.Time, Field(description="When it was opened, or what it heard was recorded, RFC 3339.")
    ]
    subject: NotRequired[Annotated[str, Field(description="What was inspected, as named.")]]
    vin: NotRequired[Annotated[str, Field(description="As spelled.")]]
    map: NotRequired[Annotated[s.Name, Field(description="Id of its zone map.")]]
    drive: s.Drive
    work: s.Work
    tier: s.Tier


@with_config(s.CLOSED)
class Rate(TypedDict):
    """Wall loss between two readings of one place; rates are not constant."""

    older_mm: s.Length
    newer_mm: s.Length
    years: Annotated[s.Seconds, Field(description="Between the readings, of 365.25 days.")]
    mm_per_year: Annotated[
        s.Percent, Field(description="Lost a year, mm; negative: reads thicker now.")
    ]
    uncertainty_mm_per_year: Annotated[
        s.Length, Field(description="From the gauge's uncertainty at both readings, plus or minus.")
    ]
    loss: Annotated[bool, Field(description="More than the gauge's uncertainty explains.")]
    years_left: NotRequired[
        Annotated[s.Seconds, Field(description="Until the newer rules' limit at this rate.")]
    ]
    years_left_least: NotRequired[
        Annotated[s.Seconds, Field(description="The same at the worst that the gauge leaves open.")]
    ]


@with_config(s.CLOSED)
class Difference(TypedDict):
    """What became of one finding, or of a place that only the older log saw."""

    change: Change
    zone: Annotated[s.Name, Field(description="Place, an id of a zone map, or unplaced.")]
    side: NotRequired[s.Side]
    then: NotRequired[Annotated[s.Grade, Field(description="Worst grade then.")]]
    now: NotRequired[Annotated[s.Grade, Field(description="Worst grade now.")]]
    older: Annotated[list[s.EntryId], Field(description="Entries of the older log.")]
    newer: Annotated[list[s.EntryId], Field(description="Entries of the newer log.")]
    rate: NotRequired[Rate]
    text: Annotated[str, Field(description="The same as a sentence that names the place.")]


@with_config(s.CLOSED)
class Places(TypedDict):
    """How many places of both maps were looked at, and when."""

    both: s.Whole
    then: s.Whole
    now: s.Whole
    never: s.Whole


@with_config(s.CLOSED)
class ComparisonDocument(TypedDict):
    """What ``compare --json`` prints: what changed from an older log to a newer one."""

    contract: Annotated[Literal["1.0"], Field(description="Version of this document.")]
    older: ComparedLog
    newer: ComparedLog
    warnings: Annotated[list[str], Field(description="To be read before the differences.")]
    differences: Annotated[list[Difference], Field(description="The worst first.")]
    counts: Annotated[dict[Change, s.Positive], Field(description="Differences of each kind.")]
    places: Annotated[Places, Field(description="Places looked at, of those on both maps.")]
    notice: Annotated[str, Field(description="What this document is, and is not.")]
