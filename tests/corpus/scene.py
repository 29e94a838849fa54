"""A scene: the facts under an invented vehicle, drawn before anybody says a word of them."""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping
from dataclasses import dataclass

PAIRED = (
    "front-rail", "mid-rail", "rear-rail", "kick-up", "frame-horn", "outrigger", "control-arm-mount",
    "radius-arm-mount", "shock-mount", "front-spring-hanger", "rear-spring-hanger", "axle-bracket",
    "seat-belt-anchor", "engine-mount", "cab-mount", "bed-mount", "crush-section", "sill",
    "floor-pan", "wheel-arch",
)  # fmt: skip
SINGLE = (
    "front-cross-member", "gearbox-cross-member", "rear-cross-member", "steering-box-mount",
    "tow-hitch", "tank-strap", "bulkhead", "fuel-line", "brake-line", "spare-carrier", "fuel-tank",
)  # fmt: skip
NUMBERED = ("cab-mount", "bed-mount")
CAVITIES = ("control-arm-mount", "kick-up", "crush-section")
LANDMARKS = ("shock-mount", "control-arm-mount", "seat-belt-anchor", "steering-box-mount")
"""Critical mountings to which a distance is told."""

MILD = frozenset({"surface-rust", "staining", "pitting", "scale", "chipped-coating", "blistering"})
"""Faults over metal that may still ring."""
SIZED = frozenset({"hole", "crack", "soft-spot", "old-repair"})
SPREAD = frozenset({"surface-rust", "staining", "peeling-coating", "blistering", "scale"})
RUSTY = frozenset({"surface-rust", "scale", "pitting", "blistering", "staining"})
"""Faults through which a probe may go."""

_METAL = (
    *sorted(MILD | SIZED), "surface-rust", "surface-rust", "rust-weep", "recoated", "oil-film",
    "peeling-coating", "delamination", "pack-rust", "thinning", "deformation", "filler", "debris",
)  # fmt: skip
_FIXED = ("seized-fixing", "wasted-fixing", "worn-hole", "missing-part")
_HOLLOW = ("blocked-drain",)
_LINE = (
    "surface-rust",
    "staining",
    "scale",
    "pitting",
    "leak",
    "leak",
    "chipped-coating",
    "deformation",
)
_STRAP = ("surface-rust", "scale", "pitting", "thinning", "crack", "seized-fixing", "wasted-fixing")


@dataclass(frozen=True)
class Scene:
    """What lies there; a telling says some of it.

    Sizes are rough, in millimetres: the speaker rounds them to what he would say, and the label is
    what he said.
    """

    zone: str
    side: str
    ordinal: int
    face: str
    fault: str
    fault2: str
    zone2: str
    side2: str
    denied: str
    denied2: str
    count: int
    size_mm: float
    width_mm: float
    resize_mm: float
    depth_mm: float
    thickness_mm: float
    nominal_mm: float
    loss_percent: int
    area_percent: int
    distance_mm: float
    landmark: str
    grade: str


def draw_scene(rng: random.Random) -> Scene:
    """One invented scene; two faults of it never say the same thing."""
    zone, side = _place(rng)
    zone2, side2 = _place(rng)
    fault, fault2 = rng.choice(_faults(zone)), rng.choice(_faults(zone))
    denied, denied2 = rng.sample(("hole", "crack", "scale", "pitting", "old-repair"), 2)
    size = rng.uniform(3, 15) if rng.random() < 0.5 else rng.uniform(15, 90)
    nominal = rng.choice((2.0, 2.5, 3.0, 3.5, 4.0))
    loss = rng.randrange(10, 65, 5)
    return Scene(
        zone, side,
        ordinal=rng.randint(1, 6), face=rng.choice(("inboard", "outboard", "top", "bottom")),
        fault=fault, fault2=fault2, zone2=zone2, side2=side2, denied=denied, denied2=denied2,
        count=rng.choice((2, 2, 3, 3, 4, 5, 6, 8)),
        size_mm=size, width_mm=size * rng.uniform(0.3, 0.7), resize_mm=size * rng.uniform(1.4, 2),
        depth_mm=rng.uniform(0.4, 2), thickness_mm=nominal * (100 - loss) / 100, nominal_mm=nominal,
        loss_percent=loss, area_percent=rng.choice((5, 10, 15, 20, 25, 30, 40, 50, 60, 70, 80)),
        distance_mm=rng.uniform(25, 200), landmark=rng.choice(LANDMARKS),
        grade=rng.choice(("cosmetic", "treat", "repair", "unsafe")),
    )  # fmt: skip


def fits(scene: Scene, fields: frozenset[str]) -> bool:
    """Whether all these fields can be said of the scene without contradicting it."""
    return all(_FITS[name](scene) for name in fields if name in _FITS) and _agrees(scene, fields)


def _agrees(scene: Scene, fields: frozenset[str]) -> bool:
    """Facts that must not be said together: the same fault twice, a fault and its denial."""
    said = {scene.fault} if "fault" in fields else set()
    if "fault2" in fields:
        if scene.fault2 in said or "debris" in (scene.fault, scene.fault2):
            return False
        if {scene.fault, scene.fault2} <= {"hole", "soft-spot", "thinning"}:
            return False
        said.add(scene.fault2)
    denied = {scene.denied} if "denied" in fields else set()
    denied |= {scene.denied2} if "denied2" in fields else set()
    return not denied & said and ("place2" not in fields or _apart(scene))


def _apart(scene: Scene) -> bool:
    """Two places, the second with a fault that it can have."""
    return scene.zone2 != scene.zone and scene.fault2 in _faults(scene.zone2)


def _sizeable(scene: Scene) -> bool:
    """A size that such a fault has; nobody patches ten millimetres."""
    return scene.fault in SIZED and (scene.fault != "old-repair" or scene.size_mm > 40)


def _place(rng: random.Random) -> tuple[str, str]:
    """A zone and its side; paired places mostly have one."""
    zone = rng.choice(PAIRED if rng.random() < 0.72 else SINGLE)
    if zone in PAIRED and rng.random() < 0.9:
        return zone, rng.choice(("left", "right"))
    return zone, ""


def _faults(zone: str) -> tuple[str, ...]:
    if zone in ("fuel-line", "brake-line"):
        return _LINE
    if zone == "fuel-tank":
        return (*_LINE, "peeling-coating", "hole")
    if zone == "tank-strap":
        return _STRAP
    fixed = zone.endswith(("mount", "hanger", "bracket", "anchor", "hitch", "carrier"))
    return _METAL + (_FIXED if fixed else _HOLLOW)


_FITS: Mapping[str, Callable[[Scene], bool]] = {
    "side": lambda s: bool(s.side), "other": lambda s: bool(s.side),
    "bothsides": lambda s: s.zone in PAIRED, "cabside": lambda s: bool(s.side),
    "cavity": lambda s: s.zone in CAVITIES,
    "size": _sizeable, "range": lambda s: _sizeable(s) and s.size_mm > 8,
    "width": lambda s: s.fault != "crack", "coin": lambda s: s.fault == "hole",
    "depth": lambda s: s.fault == "pitting", "area": lambda s: s.fault in SPREAD,
    "counted": lambda s: s.fault in ("hole", "crack"),
    "firm": lambda s: s.fault in MILD, "dull": lambda s: s.fault in MILD,
    "dents": lambda s: s.fault in MILD, "through": lambda s: s.fault in RUSTY,
    "thick": lambda s: s.zone not in ("fuel-line", "brake-line", "fuel-tank"),
    "distance": lambda s: s.fault in SIZED | MILD and s.landmark != s.zone,
    "nearby": lambda s: s.landmark != s.zone,
    "sizeadj": lambda s: s.zone not in ("fuel-line", "brake-line"),
    "soft": lambda s: s.zone not in ("fuel-line", "brake-line"),
    "moves": lambda s: s.zone not in ("fuel-line", "brake-line"),
    "repaired": lambda s: s.zone not in ("fuel-line", "brake-line", "fuel-tank", "tank-strap"),
    "metal": lambda s: s.fault != "debris",
    "dirty": lambda s: s.fault != "debris",
}  # fmt: skip
