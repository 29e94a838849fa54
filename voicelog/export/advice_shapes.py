"""The contract's shapes for what follows from an inspection: why, what if, what to do, places."""

from __future__ import annotations

from typing import Annotated, Literal, NotRequired

from pydantic import Field, with_config
from typing_extensions import TypedDict  # pydantic refuses typing's own before Python 3.12

from voicelog.export import scalars as s
from voicelog.export.gap_shapes import Gap


@with_config(s.CLOSED)
class FiredRule(TypedDict):
    """A rule that fired for a finding."""

    id: Annotated[str, Field(description="Its name in the log's rules.")]
    text: Annotated[str, Field(description="The rule in a plain sentence.")]
    source: Annotated[str, Field(description="Where it comes from.")]
    did: Annotated[str, Field(description="What it did to the grade, in words.")]


@with_config(s.CLOSED)
class WhatIf(TypedDict):
    """Something that was not said, and the grade it would have given."""

    said: Annotated[str, Field(description="What would have been said, in words.")]
    grade: s.Grade
    unproven: bool
    rules: Annotated[list[str], Field(description="Ids of the rules that would fire.")]


@with_config(s.CLOSED)
class WallLoss(TypedDict):
    """How much of a wall is gone, in percent of the nominal thickness, and how well that is known."""

    percent: s.Percent
    low_percent: Annotated[s.Percent, Field(description="Least within the gauge's uncertainty.")]
    high_percent: Annotated[s.Percent, Field(description="Most within the gauge's uncertainty.")]
    measured_mm: NotRequired[s.Length]
    nominal_mm: NotRequired[s.Length]
    nominal_from: NotRequired[Literal["said", "map"]]
    uncertainty_mm: NotRequired[Annotated[s.Length, Field(description="Plus or minus.")]]
    straddles: NotRequired[
        Annotated[list[str], Field(description="Limits of the rules that lie within it.")]
    ]


@with_config(s.CLOSED)
class Explanation(TypedDict):
    """Why a finding has its grade, and what would have changed it."""

    rules: list[FiredRule]
    what_ifs: NotRequired[Annotated[list[WhatIf], Field(description="The worst first.")]]
    wall_loss: NotRequired[WallLoss]


@with_config(s.CLOSED)
class Answers(TypedDict):
    """The three answers of a verdict."""

    drive: s.Drive
    work: s.Work
    tier: s.Tier


@with_config(s.CLOSED)
class Swing(TypedDict):
    """An open place or entry that could change the verdict by itself."""

    gap: Gap
    supposed: Annotated[str, Field(description="The worst that is supposed of it.")]
    if_bad: Annotated[Answers, Field(description="The verdict if it is as bad as supposed.")]
    if_good: Annotated[Answers, Field(description="The verdict if nothing is the matter there.")]
    text: Annotated[str, Field(description="The same as a sentence.")]


@with_config(s.CLOSED)
class Work(TypedDict):
    """Something to be done; the list is in the order in which it should be done."""

    urgency: s.Urgency
    zone: Annotated[s.Name, Field(description="Place, an id of the zone map, or unplaced.")]
    side: NotRequired[s.Side]
    entry: NotRequired[Annotated[s.EntryId, Field(description="The finding it is for.")]]
    place: Annotated[str, Field(description="The place in words.")]
    what: Annotated[str, Field(description="What is the matter, or what to look for.")]
    steps: Annotated[list[str], Field(description="In order.")]
    cautions: NotRequired[Annotated[list[str], Field(description="To be heeded meanwhile.")]]
    source: Annotated[str, Field(description="Where the steps come from.")]


@with_config(s.CLOSED)
class Coating(TypedDict):
    """A coating on published scales. It says nothing of the steel: never show it with a verdict."""

    astm_d610: Annotated[int, Field(ge=0, le=10, description="Rust grade, 10 is best.")]
    iso_4628_3_ri: Annotated[int, Field(ge=0, le=5, description="Nearest degree of rusting.")]
    imo_circ_1330: Annotated[
        Literal["GOOD", "FAIR", "POOR"], Field(description="IMO MSC.1/Circ.1330, section 4.1.")
    ]
    approximate: Annotated[bool, Field(description="Told by eye.")]


@with_config(s.CLOSED)
class Coverage(TypedDict):
    """What was looked at in one place, and what was found there together."""

    zone: s.Name
    side: NotRequired[Annotated[s.Side, Field(description="Left out where the zone comes once.")]]
    looked: Annotated[bool, Field(description="At least one finding or clear.")]
    probed: Annotated[bool, Field(description="One of them with a probe, scrape or gauge.")]
    inside: NotRequired[
        Annotated[bool, Field(description="Its cavity was seen; left out where it has none.")]
    ]
    photo: Annotated[bool, Field(description="A picture was claimed.")]
    grade: NotRequired[Annotated[s.Grade, Field(description="The worst of its findings.")]]
    entries: NotRequired[
        Annotated[list[s.EntryId], Field(description="Its findings, the worst first.")]
    ]
    unproven: NotRequired[Annotated[bool, Field(description="That grade may still get worse.")]]
    refused: NotRequired[Annotated[bool, Field(description="It could not be looked at.")]]
    coating: NotRequired[Coating]


@with_config(s.CLOSED)
class Zone(TypedDict):
    """A place of the map."""

    id: s.Name
    title: Annotated[str, Field(description="Name shown to people.")]
    role: s.Role
    layout: Annotated[Literal["pair", "one", "ends"], Field(description="How often it occurs.")]
    cavity: Annotated[
        Literal["never", "always", "if-boxed"], Field(description="Whether it hides metal.")
    ]
    main: NotRequired[Annotated[bool, Field(description="It carries the whole vehicle.")]]
    carries: NotRequired[Annotated[str, Field(description="What hangs on it.")]]
    nominal_mm: NotRequired[Annotated[s.Length, Field(description="Metal when new, in mm.")]]
    plan: NotRequired[
        Annotated[
            list[s.Percent],
            Field(
                min_length=4,
                max_length=4,
                description="Box on the plan: x, y, width, height in percent, x from the vehicle's "
                "left side, y from its front; of a pair, the left one.",
            ),
        ]
    ]
