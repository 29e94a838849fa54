"""The places of one kind of vehicle: the shape of ``maps/*.toml``."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from typing import Annotated, ClassVar, Protocol

from pydantic import Field

from voicelog.config.document import Sheet, Table
from voicelog.config.positions import Loc
from voicelog.config.shape import OneOf, unknown
from voicelog.domain.reading import Phrase
from voicelog.domain.zone import Cavity, Family, Layout, Role, Zone, ZoneMap
from voicelog.tongue import to_word, worded

ENDS = ("front", "middle", "rear")
EVIDENCE = ("probe", "photo", "gauge")
_ID = r"^[a-z]+(-[a-z]+)*$"


class Named(Protocol):
    """Anything with spoken names."""

    @property
    def say(self) -> Sequence[str]:
        """Spoken names."""

    @property
    def misheard(self) -> Sequence[str]:
        """What a recogniser makes of them."""


class ZoneTable(Table):
    """One place."""

    id: str = Field(description="name for programs: small letters and hyphens", pattern=_ID)
    as_in: str | None = Field(
        default=None,
        description="another map, which has this place too: its keys are taken over, those written "
        "here in their place; names are added to its names, and a name that this map gives to "
        "another place is not taken over",
        min_length=1,
    )
    title: str = Field(description="name shown to people", min_length=1)
    role: Annotated[str, OneOf(tuple(Role), to_word("role"))] = Field(
        description="what its metal is there for; the rules ask for it"
    )
    layout: Annotated[str, OneOf(tuple(Layout), to_word("layout"))] = Field(
        description="pair: left and right; one: once; ends: once at each end"
    )
    cavity: Annotated[str, OneOf(tuple(Cavity), to_word("cavity"))] = Field(
        default="never",
        description="whether it hides metal that only a look inside shows",
    )
    nominal_mm: float | None = Field(
        default=None, description="sheet thickness as built, in millimetres", gt=0
    )
    evidence: list[Annotated[str, OneOf(EVIDENCE, to_word("kind of evidence"))]] = Field(
        default=[], description="what a complete look at it leaves behind"
    )
    main: bool = Field(
        default=False,
        description="true: a station of the members that carry the whole vehicle; out of shape, or "
        "rotten on both sides, it is beyond a patch",
    )
    routine: bool = Field(
        default=False,
        description="true: bolted on, or sold as a part, and replaced as a matter of routine",
    )
    cabin: bool = Field(
        default=False, description="true: it closes the cabin; a hole in it lets exhaust in"
    )
    carries: str = Field(
        default="",
        description="what hangs on this metal, for somebody who has never seen a frame: a phrase",
    )
    say: list[str] = Field(description="spoken names, without a side", min_length=1)
    misheard: list[str] = Field(default=[], description="what a recogniser makes of those names")
    plan: list[float] = Field(
        description="box on the plan drawing as x, y, width, height in percent: x from the "
        "vehicle's left side, y from its front; of a pair, the left one",
        min_length=4,
        max_length=4,
    )


class FamilyTable(Table):
    """A spoken name that several places share, so that which one has to be asked."""

    as_in: str | None = Field(
        default=None,
        description="another map, which has a shared name for the same zones: as for a place",
        min_length=1,
    )
    say: list[str] = Field(description="the shared names", min_length=1)
    misheard: list[str] = Field(default=[], description="what a recogniser makes of those names")
    zones: list[str] = Field(description="ids of the places it can mean", min_length=2)
    ends: dict[str, str] = Field(
        default={}, description="a spoken end (front, middle, rear) to the place it picks"
    )


class MapFile(Sheet):
    """A map."""

    blank: ClassVar[Mapping[str, object]] = {"id": "unknown", "title": "unknown"}

    id: str = Field(description="the map's name, the same as its file's", pattern=_ID)
    title: str = Field(description="name shown to people", min_length=1)
    zone: list[ZoneTable] = Field(default=[], description="the places, in the order of the walk")
    family: list[FamilyTable] = Field(default=[], description="names that several places share")


def map_faults(sheet: MapFile, file_stem: str, known: Collection[str]) -> Iterator[tuple[Loc, str]]:
    """What is wrong across tables: ids twice, boxes off the drawing, families of unknown zones."""
    if sheet.id != file_stem:
        yield ("id",), worded("must be the file's name, {name}", name=repr(file_stem))
    seen: set[str] = set()
    for number, zone in enumerate(sheet.zone):
        if zone.id in seen:
            yield (
                ("zone", number, "id"),
                worded("a zone {zone} is already there", zone=repr(zone.id)),
            )
        seen.add(zone.id)
        if not _on_drawing(zone.plan):
            yield (
                ("zone", number, "plan"),
                worded("the box must lie within 0 to 100 and have an area"),
            )
    for number, family in enumerate(sheet.family):
        for loc, message in family_faults(family, known):
            yield ("family", number, *loc), message


def _on_drawing(plan: list[float]) -> bool:
    """True for a box with an area inside the drawing."""
    x, y, width, height = plan
    return min(x, y) >= 0 and min(width, height) > 0 and max(x + width, y + height) <= 100


def family_faults(family: FamilyTable, known: Collection[str]) -> Iterator[tuple[Loc, str]]:
    """Unknown zones, and ends that pick none of the family's zones."""
    for number, zone in enumerate(family.zones):
        if known and zone not in known:
            yield ("zones", number), unknown(zone, known, to_word("zone of this map"))
    for end, zone in family.ends.items():
        if end not in ENDS:
            yield ("ends", end), unknown(end, ENDS, to_word("spoken end"))
        if zone not in family.zones:
            yield ("ends", end), unknown(zone, family.zones, to_word("zone of this family"))


def map_phrases(sheet: MapFile) -> Iterator[tuple[Loc, Phrase]]:
    """The spoken names of zones and families as written, with the way to each."""
    for number, zone in enumerate(sheet.zone):
        for loc, phrase in named_phrases(zone, "zone", zone.id):
            yield ("zone", number, *loc), phrase
    for number, family in enumerate(sheet.family):
        for loc, phrase in named_phrases(family, "family", "+".join(family.zones)):
            yield ("family", number, *loc), phrase


def named_phrases(named: Named, slot: str, value: str) -> Iterator[tuple[Loc, Phrase]]:
    """The spoken names of one table, with the way to each below it."""
    for number, text in enumerate(named.say):
        yield ("say", number), Phrase(text, slot, value)
    for number, text in enumerate(named.misheard):
        yield ("misheard", number), Phrase(text, slot, value, misheard=True)


def build_map(sheet: MapFile, phrases: Iterable[Phrase]) -> ZoneMap:
    """The map as the rest of the program sees it; spoken names are those of all layers.

    Tables of one family (the same zones) are one, so that an overlay can add a name alone.
    """
    names: dict[tuple[str, str], list[str]] = {}
    for phrase in phrases:
        if phrase.slot in ("zone", "family") and not phrase.misheard:
            names.setdefault((phrase.slot, phrase.value), []).append(phrase.text)
    zones = {row.id: _zone(row, names.get(("zone", row.id), ())) for row in sheet.zone}
    ends: dict[tuple[str, ...], dict[str, str]] = {}
    for row in sheet.family:
        ends.setdefault(tuple(row.zones), {}).update(row.ends)
    families = tuple(
        Family(tuple(names.get(("family", "+".join(family)), ())), family, picks)
        for family, picks in ends.items()
    )
    return ZoneMap(sheet.id, sheet.title, zones, families)


def _zone(row: ZoneTable, say: Iterable[str]) -> Zone:
    """One place as the rest of the program sees it."""
    x, y, width, height = row.plan
    return Zone(
        id=row.id,
        title=row.title,
        role=Role(row.role),
        layout=Layout(row.layout),
        cavity=Cavity(row.cavity),
        nominal_mm=row.nominal_mm,
        evidence=tuple(row.evidence),
        say=tuple(say),
        plan=(x, y, width, height),
        main=row.main,
        carries=row.carries,
        routine=row.routine,
        cabin=row.cabin,
    )
