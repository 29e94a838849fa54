"""The places of a vehicle, and what each of them carries."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum


class Role(StrEnum):
    """What a zone's metal is there for; grading depends on it."""

    LOAD_PATH = "load-path"
    CRITICAL = "critical"
    SUPPORT = "support"
    CRUSH = "crush"
    PANEL = "panel"
    FLUID_LINE = "fluid-line"
    ATTACHED = "attached"


class Layout(StrEnum):
    """How often a zone occurs on the vehicle, so that coverage can count."""

    PAIR = "pair"
    ONE = "one"
    ENDS = "ends"


class Cavity(StrEnum):
    """Whether a zone hides metal that only a look inside can show."""

    NEVER = "never"
    ALWAYS = "always"
    IF_BOXED = "if-boxed"


class Rails(StrEnum):
    """How the vehicle's rails are made; ``mixed`` also stands for not known."""

    BOXED = "boxed"
    OPEN = "open"
    MIXED = "mixed"


@dataclass(frozen=True, slots=True)
class Zone:
    """One place of the map.

    Args:
        id: the contract's name, for example ``front-rail``.
        title: the name shown to people.
        role: what the metal is there for.
        layout: a left and right pair, one, or one at each end.
        cavity: whether it hides metal that needs its own look and photo.
        nominal_mm: sheet thickness as built, when known.
        evidence: what a complete look at it leaves behind, for example ``("probe", "photo")``.
        say: spoken names.
        plan: place on the plan drawing as x, y, width, height in percent of its box, x across the
            vehicle from its left side, y from the front.
        main: a station of the members that carry the whole vehicle, which a patch cannot make up
            for once they have lost their shape.
        routine: bolted on, or sold as a part, so that it is replaced as a matter of routine.
        cabin: closes the cabin against the exhaust.
        carries: what hangs on it, for somebody who has never seen a frame; empty where nobody wrote
            it down.
    """

    id: str
    title: str
    role: Role
    layout: Layout
    cavity: Cavity = Cavity.NEVER
    nominal_mm: float | None = None
    evidence: tuple[str, ...] = ()
    say: tuple[str, ...] = ()
    plan: tuple[float, float, float, float] | None = None
    main: bool = False
    carries: str = ""
    routine: bool = False
    cabin: bool = False

    @property
    def title_within(self) -> str:
        """Its title as it stands within a sentence."""
        return self.title[:1].lower() + self.title[1:]

    def sides(self) -> tuple[str | None, ...]:
        """The sides on which it must be looked at; ``(None,)`` where it comes once."""
        return ("left", "right") if self.layout is Layout.PAIR else (None,)

    def hides_cavity(self, rails: Rails) -> bool:
        """True where metal is hidden: always, or when the rails are (or may be) boxed."""
        if self.cavity is Cavity.IF_BOXED:
            return rails is Rails.BOXED
        return self.cavity is Cavity.ALWAYS

    def may_hide_cavity(self, rails: Rails) -> bool:
        """True where "inside" can mean the inside of a box on this vehicle."""
        return self.cavity is not Cavity.NEVER and not (
            self.cavity is Cavity.IF_BOXED and rails is Rails.OPEN
        )


@dataclass(frozen=True, slots=True)
class Family:
    """A spoken name that several zones share ("the rail"): which one has to be asked.

    ``ends`` maps a spoken end ("front", "rear") to the zone it picks.
    """

    say: tuple[str, ...]
    zones: tuple[str, ...]
    ends: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class ZoneMap:
    """All zones of one kind of vehicle, in the order in which they are walked."""

    id: str
    title: str
    zones: Mapping[str, Zone]
    families: tuple[Family, ...] = ()

    def __getitem__(self, zone: str) -> Zone:
        return self.zones[zone]

    def __contains__(self, zone: object) -> bool:
        return zone in self.zones

    def title_of(self, zone: str) -> str:
        """A zone's title as it stands within a sentence; of one that the map has not, its id."""
        known = self.zones.get(zone)
        return known.title_within if known is not None else zone.replace("-", " ")
