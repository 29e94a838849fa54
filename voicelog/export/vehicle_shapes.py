"""The contract's shapes for the vehicle and for pictures."""

from __future__ import annotations

from typing import Annotated, Literal, NotRequired

from pydantic import Field, with_config
from typing_extensions import TypedDict  # pydantic refuses typing's own before Python 3.12

from voicelog.export import scalars as s


@with_config(s.CLOSED)
class Odometer(TypedDict):
    """A reading in its own unit, and in kilometres."""

    value: Annotated[float, Field(ge=0)]
    unit: Literal["km", "mi"]
    km: Annotated[float, Field(ge=0)]


@with_config(s.CLOSED)
class Refusal(TypedDict):
    """Something that could not be done to the vehicle."""

    what: Annotated[s.Name, Field(description="scraping, probing, cleaning, covers or lifting.")]
    why: NotRequired[Annotated[str, Field(description="The reason given.")]]


@with_config(s.CLOSED)
class Vehicle(TypedDict):
    """What is known of the vehicle."""

    described: NotRequired[Annotated[str, Field(description="What it is, as named.")]]
    vin: NotRequired[Annotated[str, Field(description="Identification number, as spelled.")]]
    vin_problem: NotRequired[
        Annotated[str, Field(description="Why the number's check fails (49 CFR 565.15(c)).")]
    ]
    plate: NotRequired[str]
    paint_code: NotRequired[str]
    odometer: NotRequired[Odometer]
    inspected_on: NotRequired[Annotated[s.Time, Field(description="When the log was opened.")]]
    inspector: NotRequired[Annotated[str, Field(description="Who inspected, as named.")]]
    stood: NotRequired[Annotated[s.Name, Field(description="lift, stands, ramp, pit or floor.")]]
    surface: NotRequired[Annotated[list[s.Name], Field(description="Of dirty, wet, iced, coated.")]]
    refusals: NotRequired[Annotated[list[Refusal], Field(description="What could not be done.")]]
    contradictions: NotRequired[
        Annotated[list[str], Field(description="Where two sources disagree, as sentences.")]
    ]
    doubts: NotRequired[Annotated[list[str], Field(description="What may be misheard.")]]


@with_config(s.CLOSED)
class Photo(TypedDict):
    """A picture in the log's folder, and what it shows."""

    file: Annotated[str, Field(description="Path inside the log's folder.")]
    sha256: Annotated[s.Sha256, Field(description="Of that file.")]
    original: Annotated[str, Field(description="Name of the file it was copied from.")]
    entries: Annotated[list[s.EntryId], Field(description="What it shows, the likeliest first.")]
    taken: NotRequired[Annotated[s.Time, Field(description="When, by the corrected clock.")]]
    confidence: Annotated[float, Field(ge=0, le=1, description="1: a person said so.")]
    because: NotRequired[Annotated[list[str], Field(description="Why it was matched so.")]]
    location: Annotated[
        Literal["none", "stripped", "kept"],
        Field(description="What became of the place of taking in the file."),
    ]
    by: NotRequired[Annotated[str, Field(description="Who matched it, as named.")]]
