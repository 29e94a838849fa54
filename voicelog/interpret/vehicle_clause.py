"""What one clause says of the vehicle as a whole, word class by word class."""

from __future__ import annotations

from dataclasses import dataclass, field

from voicelog.domain.vehicle import KM_OF, REFUSED

_LEAST_BARE = 1000
"""Kilometres or miles that are an odometer's though nobody said so: less is a distance."""


@dataclass(slots=True)
class Clause:
    """What a clause says, as its words come.

    Args:
        start: index of its first token.
        end: index after its last one.
        said: values by word class, in the order in which they were said.
        value: the number of an odometer.
        name: of the inspector.
    """

    start: int
    end: int
    said: dict[str, list[str]] = field(default_factory=dict)
    value: float | None = None
    name: str = ""

    def values(self, name: str) -> list[str]:
        """What was said of one word class."""
        return self.said.get(name, [])

    @property
    def unit(self) -> str:
        """The odometer's, empty where it was not said."""
        return next((value for value in self.values("mileage") if value in KM_OF), "")

    @property
    def whole(self) -> bool:
        """True where the vehicle itself was named."""
        return "vehicle" in self.values("vehicle")

    @property
    def reads(self) -> bool:
        """True where it gives what an odometer shows, and says so."""
        return "odometer" in self.values("mileage") and self.value is not None

    @property
    def refused(self) -> list[str]:
        """What could not be done, where the clause also says who or what forbids it."""
        what = [value for value in self.values("refusal") if value in REFUSED]
        return what if len(what) < len(self.values("refusal")) else []

    @property
    def half(self) -> bool:
        """True where it only says that something is forbidden, or what, or whose wish that is."""
        begun = self.values("refusal") or "owner" in self.values("vehicle")
        return bool(begun) and not self.refused

    @property
    def stands_alone(self) -> bool:
        """True where it can be nothing else, whatever is said beside it."""
        stood = any(value != "floor" or self.whole for value in self.values("standing"))
        forbidden = "not-allowed" in self.values("refusal") and self.refused
        covered = self.values("surface") and self.whole
        told = self.name or self.reads or stood or forbidden or covered
        return bool(told) and not self.half

    @property
    def telling(self) -> bool:
        """True where it says anything."""
        told = self.values("standing") or self.values("surface") or self.refused
        return bool(told or self.name or self.unit or self.value is not None)

    @property
    def consistent(self) -> bool:
        """True where everything that was begun was also said."""
        leads = "odometer" in self.values("mileage")
        bare = self.value is not None and not leads
        far = (self.value or 0) >= _LEAST_BARE and bool(self.unit)
        return (
            not (leads and self.value is None and not self.unit)
            and not (bare and not far)
            and bool(self.name) == bool(self.values("inspected"))
        )
