"""The slots of an entry: their names, kinds, closed lists, units and plausible bounds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

SlotValue = str | int | float
Slots = Mapping[str, SlotValue]
"""Slot name to value; a slot that is not known is not there."""
Ranges = Mapping[str, tuple[float, float]]
"""Slot name to the lower and upper end of a number said as a range, in the slot's own unit."""

SIDES = ("left", "right", "both", "centre")
FACES = ("inboard", "outboard", "top", "bottom", "front", "rear", "interior")
LAYERS = ("coating", "metal")
PARTS = ("web", "flange", "seam", "weld", "edge")
PROBES = ("firm", "dull", "dents", "moves", "soft", "through")
"""From sound to gone: a later one is never the better result."""
METHODS = ("seen", "tapped", "scraped", "probed", "scoped", "gauged")
"""From weakest to strongest; the strongest said is kept."""
SURROUNDS = ("firm", "none")
CERTAINTIES = ("stated", "tentative")

CONDITIONS = (
    "staining",
    "rust-weep",
    "surface-rust",
    "recoated",
    "oil-film",
    "chipped-coating",
    "peeling-coating",
    "blistering",
    "scale",
    "delamination",
    "pack-rust",
    "pitting",
    "thinning",
    "soft-spot",
    "hole",
    "crack",
    "deformation",
    "old-repair",
    "filler",
    "leak",
    "seized-fixing",
    "wasted-fixing",
    "worn-hole",
    "missing-part",
    "blocked-drain",
    "debris",
)

ROTS_TO_HOLE = frozenset(
    (
        "staining", "rust-weep", "surface-rust", "recoated", "oil-film", "chipped-coating",
        "peeling-coating", "blistering", "scale", "delamination", "pack-rust", "pitting",
        "thinning", "soft-spot", "debris",
    )
)  # fmt: skip
"""Conditions that a probe gone through turns into a hole."""


@dataclass(frozen=True, slots=True)
class Spec:
    """What a slot may hold.

    Args:
        kind: ``word`` (one of ``choices``), ``name`` (a zone or condition id), ``length`` (mm),
            ``percent``, ``count`` or ``text``.
        choices: the closed list of a ``word``.
        low: smallest plausible number, in the slot's unit.
        high: largest plausible number, in the slot's unit.
    """

    kind: str
    choices: tuple[str, ...] = ()
    low: float = 0.0
    high: float = 0.0


SLOTS: Mapping[str, Spec] = {
    "zone": Spec("name"),
    "ordinal": Spec("count", low=1, high=12),
    "side": Spec("word", SIDES),
    "face": Spec("word", FACES),
    "part": Spec("word", PARTS),
    "condition": Spec("name"),
    "layer": Spec("word", LAYERS),
    "probe": Spec("word", PROBES),
    "method": Spec("word", METHODS),
    "surround": Spec("word", SURROUNDS),
    "count": Spec("count", low=1, high=200),
    "size_mm": Spec("length", low=0.3, high=3000.0),
    "width_mm": Spec("length", low=0.1, high=2000.0),
    "depth_mm": Spec("length", low=0.05, high=100.0),
    "thickness_mm": Spec("length", low=0.1, high=15.0),
    "nominal_mm": Spec("length", low=0.5, high=15.0),
    "loss_percent": Spec("percent", low=-20.0, high=100.0),
    "area_percent": Spec("percent", low=0.0, high=100.0),
    "mount_distance_mm": Spec("length", low=0.0, high=3000.0),
    "certainty": Spec("word", CERTAINTIES),
    "spoken_grade": Spec("word", ("cosmetic", "treat", "repair", "unsafe")),
    "landmark": Spec("text"),
    "vin": Spec("text"),
    "plate": Spec("text"),
    "paint_code": Spec("text"),
    "spelt": Spec("text"),
    "odometer": Spec("text"),
    "inspector": Spec("text"),
}
"""Every slot, in the order in which it is printed. Bounds are ours: outside them a number was
probably misheard or given in another unit, and the entry is marked doubtful."""

PLACE_SLOTS = ("zone", "ordinal", "side", "face", "part", "landmark")
SPELT_SLOTS = ("vin", "plate", "paint_code", "spelt")
"""What *I spell* gives, in upper-case letters and digits; ``spelt`` where nobody said what it is."""
VEHICLE_SLOTS = (*SPELT_SLOTS, "odometer", "inspector")
"""What a remark can say of the vehicle as a whole. ``odometer`` is a number and its unit as
:class:`voicelog.domain.vehicle.Odometer` prints it (``82400 mi``), the number alone where no unit
was said."""
MEASURE_SLOTS = tuple(
    name for name, spec in SLOTS.items() if spec.kind in ("length", "percent") or name == "count"
)


def plausible(slot: str, value: SlotValue) -> bool:
    """True when a number lies within the slot's bounds; words and text always do."""
    spec = SLOTS[slot]
    if spec.kind not in ("length", "percent", "count") or isinstance(value, str):
        return True
    return spec.low <= value <= spec.high
