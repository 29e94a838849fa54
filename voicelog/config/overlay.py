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
from voicelog.tongue import to_word, worded

_SINGLE = {"title", "nominal_mm", "main", "routine", "cabin", "carries"}
"""Keys of an addition whose value takes the place of the map's."""
_UNSAID = to_word("is missing: give a way to say it, or what it is misheard as")


class ZoneAddition(Table):
    """More about a place that the map has."""

    id: str = Field(description="the place")
    say: list[str] = Field(default=[], description="further spoken names")
    misheard: list[str] = Field(default=[], description="further mishearings of its names")
    title: str | None = Field(default=None, description="another name to show", min_length=1)
    nominal_mm: float | None = Field(
        default=None, description="sheet thickness as built, in millimetres", gt=0
    )
    main: bool | None = Field(
        default=None, description="a station of the members that carry the whole vehicle, or not"
    )
    routine: bool | None = Field(
        default=None, description="replaced as a matter of routine, or not"
    )
    cabin: bool | None = Field(default=None, description="it closes the cabin, or not")
    carries: str | None = Field(
        default=None, description="what hangs on it, in other words", min_length=1
    )
    replace: bool = Field(
        default=False, description="take these names over from another, shipped meaning"
    )


class MeaningAddition(Meaning):
    """A meaning of its own, or more ways to say or mishear one that is there."""

    say: list[str] = Field(
        default=[], description="the ways people say it; needed unless `misheard` has some"
    )


class FamilyAddition(FamilyTable):
    """A shared name of its own, or more ways to say or mishear one that is there."""

    say: list[str] = Field(
        default=[], description="the shared names; needed unless `misheard` has some"
    )


class OverlayFile(Sheet):
    """A shop's own file."""

    model_config = ConfigDict(defer_build=True)

    learned: bool = Field(
        default=False,
        description="true: learned from corrections (`voicelog words learned`); what people say "
        "holds over it, and what is about places that the map has not is passed over",
    )
    meaning: list[MeaningAddition] = Field(
        default=[], description="further meanings, or ways to say them"
    )
    confusion: list[Confusion] = Field(
        default=[], description="further words that sound alike to your recogniser"
    )
    zone: list[ZoneAddition] = Field(default=[], description="more about places of the map")
    family: list[FamilyAddition] = Field(default=[], description="further shared names")
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
    zones = () if sheet.learned else zones
    for number, meaning in enumerate(sheet.meaning):
        for loc, message in (*_unsaid(meaning), *meaning_faults(meaning, zones)):
            yield ("meaning", number, *loc), message
    for number, zone in enumerate(sheet.zone):
        if zones and zone.id not in zones:
            yield ("zone", number, "id"), unknown(zone.id, zones, to_word("zone of this map"))
    for number, family in enumerate(sheet.family):
        for loc, message in (*_unsaid(family), *family_faults(family, zones)):
            yield ("family", number, *loc), message
    for limit in sheet.limits:
        if limits and limit not in limits:
            yield ("limits", limit), unknown(limit, limits, to_word("limit of the severity table"))


def _unsaid(table: MeaningAddition | FamilyAddition) -> Iterator[tuple[Loc, str]]:
    if not (table.say or table.misheard):
        yield ("say",), worded(_UNSAID)


def overlay_phrases(
    sheet: OverlayFile, zones: Collection[str]
) -> Iterator[tuple[Loc, Phrase, bool]]:
    """Its phrases as written: the way to each, and whether it may take over another's.

    Args:
        sheet: the overlay.
        zones: the map's; what was learned of others is left out.
    """
    for loc, phrase, takes_over in all_phrases(sheet):
        if not sheet.learned or _is_on_map(phrase, zones):
            yield loc, phrase, takes_over


def _is_on_map(phrase: Phrase, zones: Collection[str]) -> bool:
    places = phrase.value.split("+") if phrase.slot in ("zone", "family") else ()
    return all(place in zones for place in places)


def all_phrases(sheet: OverlayFile) -> Iterator[tuple[Loc, Phrase, bool]]:
    """The same whatever the map has."""
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
    """The map with the overlays' single values, and their families behind its own;
    families of other maps' places, which only what was learned may name, are left out.
    """
    known = {row.id for row in sheet.zone}
    changes = [(zone.id, zone) for overlay in overlays for zone in overlay.zone]
    added = (family for overlay in overlays for family in overlay.family)
    families = [family for family in added if known.issuperset(family.zones)]
    rows = [_changed(row, [zone for name, zone in changes if name == row.id]) for row in sheet.zone]
    return sheet.model_copy(update={"zone": rows, "family": [*sheet.family, *families]})


def _changed(row: ZoneTable, additions: Iterable[ZoneAddition]) -> ZoneTable:
    """A place with the single values of its additions; spoken names are gathered elsewhere."""
    for addition in additions:
        row = row.model_copy(update=addition.model_dump(include=_SINGLE, exclude_none=True))
    return row


def layered_rules(sheet: RulesFile, overlays: Sequence[OverlayFile]) -> RulesFile:
    """The severity table with the overlays' limits."""
    limits = dict(sheet.limits)
    for overlay in overlays:
        limits.update(overlay.limits)
    return sheet.model_copy(update={"limits": limits})
