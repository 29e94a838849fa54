"""A shop's own additions, laid over the shipped grammar: lists append, single values replace."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence

from pydantic import ConfigDict, Field

from voicelog.config.document import Sheet, Table
from voicelog.config.maps import FamilyTable, MapFile, ZoneTable, family_faults, named_phrases
from voicelog.config.positions import Loc
from voicelog.config.rules import RulesFile
from voicelog.config.shape import unknown
from voicelog.config.words import Confusion, Meaning, meaning_faults, meaning_phrases
from voicelog.domain.reading import Phrase


class ZoneAddition(Table):
    """More about a place that the map has."""

    id: str = Field(description="the place")
    say: list[str] = Field(default=[], description="further spoken names")
    misheard: list[str] = Field(default=[], description="further mishearings of its names")
    title: str | None = Field(default=None, description="another name to show", min_length=1)
    nominal_mm: float | None = Field(
        default=None, description="sheet thickness as built, in millimetres", gt=0
    )
    replace: bool = Field(
        default=False, description="take these names over from another, shipped meaning"
    )


class OverlayFile(Sheet):
    """A shop's own file."""

    model_config = ConfigDict(defer_build=True)

    meaning: list[Meaning] = Field(default=[], description="further meanings, or ways to say them")
    confusion: list[Confusion] = Field(
        default=[], description="further words that sound alike to your recogniser"
    )
    zone: list[ZoneAddition] = Field(default=[], description="more about places of the map")
    family: list[FamilyTable] = Field(default=[], description="further shared names")
    forget_names: bool = Field(
        default=False,
        description="true: the map's own spoken names are not understood, only those of overlays; "
        "for another language",
    )
    limits: dict[str, float] = Field(
        default={}, description="other numbers for the limits of the severity table"
    )


def overlay_faults(
    sheet: OverlayFile, zones: Collection[str], limits: Collection[str]
) -> Iterator[tuple[Loc, str]]:
    """What is wrong against the grammar below: unknown places, limits and values."""
    for number, meaning in enumerate(sheet.meaning):
        for loc, message in meaning_faults(meaning, zones):
            yield ("meaning", number, *loc), message
    for number, zone in enumerate(sheet.zone):
        if zones and zone.id not in zones:
            yield ("zone", number, "id"), unknown(zone.id, zones, "zone of this map")
    for number, family in enumerate(sheet.family):
        for loc, message in family_faults(family, zones):
            yield ("family", number, *loc), message
    for limit in sheet.limits:
        if limits and limit not in limits:
            yield ("limits", limit), unknown(limit, limits, "limit of the severity table")


def overlay_phrases(sheet: OverlayFile) -> Iterator[tuple[Loc, Phrase, bool]]:
    """Its phrases as written: the way to each, and whether it may take over another's."""
    for number, meaning in enumerate(sheet.meaning):
        for loc, phrase in meaning_phrases(meaning):
            yield ("meaning", number, *loc), phrase, meaning.replace
    for number, zone in enumerate(sheet.zone):
        for loc, phrase in named_phrases(zone, "zone", zone.id):
            yield ("zone", number, *loc), phrase, zone.replace
    for number, family in enumerate(sheet.family):
        for loc, phrase in named_phrases(family, "family", "+".join(family.zones)):
            yield ("family", number, *loc), phrase, False


def layered_map(sheet: MapFile, overlays: Sequence[OverlayFile]) -> MapFile:
    """The map with the overlays' titles and thicknesses, and their families behind its own."""
    changes = [(zone.id, zone) for overlay in overlays for zone in overlay.zone]
    families = [family for overlay in overlays for family in overlay.family]
    rows = [_changed(row, [zone for name, zone in changes if name == row.id]) for row in sheet.zone]
    return sheet.model_copy(update={"zone": rows, "family": [*sheet.family, *families]})


def _changed(row: ZoneTable, additions: Iterable[ZoneAddition]) -> ZoneTable:
    """A place with the single values of its additions; spoken names are gathered elsewhere."""
    for addition in additions:
        row = row.model_copy(
            update=addition.model_dump(include={"title", "nominal_mm"}, exclude_none=True)
        )
    return row


def layered_rules(sheet: RulesFile, overlays: Sequence[OverlayFile]) -> RulesFile:
    """The severity table with the overlays' limits."""
    limits = dict(sheet.limits)
    for overlay in overlays:
        limits.update(overlay.limits)
    return sheet.model_copy(update={"limits": limits})
