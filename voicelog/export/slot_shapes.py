"""The contract's slots: what is known of a place and its metal, and what should be asked of it."""

from __future__ import annotations

from typing import Annotated, NotRequired

from pydantic import Field, with_config
from typing_extensions import TypedDict  # pydantic refuses typing's own before Python 3.12

from voicelog.export import scalars as s


@with_config(s.CLOSED)
class Slots(TypedDict):
    """What is known of a place and its metal; a slot that is not known is not there."""

    zone: NotRequired[Annotated[s.Name, Field(description="Place, an id of the zone map.")]]
    ordinal: NotRequired[
        Annotated[s.Count, Field(description="Which of several alike, as the inspector counts.")]
    ]
    side: NotRequired[
        Annotated[s.Side, Field(description="As seen when sitting in the vehicle, facing forward.")]
    ]
    face: NotRequired[
        Annotated[s.Face, Field(description="Face of the member; interior: inside of its cavity.")]
    ]
    part: NotRequired[Annotated[s.Part, Field(description="Part of the member.")]]
    condition: NotRequired[Annotated[s.Name, Field(description="What is the matter with it.")]]
    layer: NotRequired[Annotated[s.Layer, Field(description="What the condition is in.")]]
    probe: NotRequired[
        Annotated[s.Probe, Field(description="What the metal did under tool or hand.")]
    ]
    method: NotRequired[Annotated[s.Method, Field(description="The strongest look it was given.")]]
    surround: NotRequired[
        Annotated[s.Surround, Field(description="Solid metal left around it, or none.")]
    ]
    count: NotRequired[Annotated[s.Count, Field(description="How many.")]]
    size_mm: NotRequired[
        Annotated[s.Length, Field(description="Largest extent, of the biggest of several, in mm.")]
    ]
    width_mm: NotRequired[Annotated[s.Length, Field(description="Extent across, in mm.")]]
    depth_mm: NotRequired[Annotated[s.Length, Field(description="Depth below the surface, in mm.")]]
    thickness_mm: NotRequired[Annotated[s.Length, Field(description="Metal measured, in mm.")]]
    nominal_mm: NotRequired[Annotated[s.Length, Field(description="Metal when new, in mm.")]]
    loss_percent: NotRequired[
        Annotated[
            s.Percent,
            Field(description="Thickness lost, in percent of nominal; negative: thicker than new."),
        ]
    ]
    area_percent: NotRequired[
        Annotated[s.Percent, Field(description="Share of the visible area, in percent.")]
    ]
    mount_distance_mm: NotRequired[
        Annotated[s.Length, Field(description="Distance to the next critical mounting, in mm.")]
    ]
    certainty: NotRequired[
        Annotated[s.Certainty, Field(description="Whether the inspector hedged.")]
    ]
    spoken_grade: NotRequired[
        Annotated[s.Grade, Field(description="What the inspector called it.")]
    ]
    landmark: NotRequired[Annotated[str, Field(description="Where, in the inspector's own words.")]]
    vin: NotRequired[Annotated[str, Field(description="Identification number, as spelled.")]]
    plate: NotRequired[Annotated[str, Field(description="Plate or tag, as spelled.")]]
    paint_code: NotRequired[Annotated[str, Field(description="Paint code, as spelled.")]]
    spelt: NotRequired[Annotated[str, Field(description="Spelled, and nobody said what it is.")]]
    odometer: NotRequired[
        Annotated[str, Field(description="A number and its unit (km, mi); no unit: none was said.")]
    ]
    inspector: NotRequired[Annotated[str, Field(description="Who inspects, as said.")]]


@with_config(s.CLOSED)
class Question(TypedDict):
    """What should be asked."""

    slot: Annotated[str, Field(description="The slot in doubt.")]
    options: Annotated[list[str], Field(description="Values it could take.")]
