"""What goes with the scenario of ``conftest.py``: the vehicle, its pictures, what follows from it all."""

from __future__ import annotations

import hashlib
from dataclasses import replace

from voicelog.domain.advice import (
    Advice,
    Explanation,
    PlaceState,
    Swing,
    WallLoss,
    WhatIf,
    WorkItem,
)
from voicelog.domain.comparison import Comparison, Difference, Rate, Standing
from voicelog.domain.entry import Seen
from voicelog.domain.grade import Gap, Grade, Rule
from voicelog.domain.photo import Photo
from voicelog.domain.rating import coating_rating
from voicelog.domain.vehicle import Odometer, Refusal, Vehicle
from voicelog.domain.zone import Cavity, Layout, Role, Zone

ZONES = (
    Zone(
        "front-rail", "Front rail", Role.LOAD_PATH, Layout.PAIR, Cavity.IF_BOXED, nominal_mm=2.5,
        plan=(31, 15, 7, 18), main=True, carries="the front half of the vehicle",
    ),
    Zone(
        "control-arm-mount", "Control arm mount", Role.CRITICAL, Layout.PAIR, Cavity.ALWAYS,
        plan=(22, 12, 9, 8), carries="the arm that holds a front wheel",
    ),
    Zone(
        "gearbox-cross-member", "Gearbox cross member", Role.LOAD_PATH, Layout.ONE,
        plan=(39, 42, 22, 4),
    ),
)  # fmt: skip

VEHICLE = Vehicle(
    described="utility pickup, tray removed",
    vin="1M8GDM5AXKP042788",
    vin_problem="position 9 is X, the other characters ask for 2",
    odometer=Odometer(82400.0, "mi"),
    inspected_on="2026-03-14T10:05:15.250+01:00",
    inspector="inspector",
    stood="lift",
    surface=("dirty",),
    refusals=(Refusal("covers", "splash shield stays on"),),
)

PICTURE = b"picture"

PHOTOS = (
    Photo(
        18, "photos/p18.jpg", hashlib.sha256(PICTURE).hexdigest(), "left front 0042.jpg",
        ("e3.1",), "2026-03-14T10:07:20+01:00", 0.9,
        ("taken 5 s after a photo was claimed there",), "stripped", "inspector",
    ),
)  # fmt: skip


def _rule(name: str, text: str, source: str) -> Rule:
    return Rule(name, text, source, {"condition": ("thinning",)}, grade=Grade.COSMETIC)


THIN = Explanation(
    "e4.1",
    (
        _rule(
            "thinning-measured",
            "Thinning is graded by how much of the wall is gone; a small loss is noted.",
            "common practice, no source",
        ),
        _rule(
            "wall-loss-watch",
            "A wall that has lost this much is treated and measured again.",
            "the shop's own limit; common practice, no source",
        ),
    ),
    ("gives cosmetic, unproven", "keeps it at treat or worse"),
    (WhatIf("the probe went through", Grade.REPAIR, False, ("hole", "probe-failed")),),
    WallLoss(24.0, 20.0, 28.0, 1.9, 2.5, "said", 0.1, ("wall_loss_percent",)),
)

SWING = Swing(
    Gap("control-arm-mount", "cavity-not-seen", "left", "interior", "e8.1"),
    "a hole inside",
    ("do-not-drive", "local", "repairable"),
    ("do-not-drive", "local", "repairable"),
    "The inside of the left control arm mount: a hole there would be a second reason not to drive",
)

WORK = (
    WorkItem(
        "now", "right control arm mount, inside", "hole, 15 mm, probe through",
        ("Do not drive or tow it.", "Cut back to solid metal and weld in a patch."),
        "common practice, no source", "e3.1", "control-arm-mount", "right",
        ("Structural welding is work for a qualified welder.",),
    ),
    WorkItem(
        "look", "steering box mount", "nobody looked", ("Look, probe, photograph.",),
        "common practice, no source", zone="steering-box-mount",
    ),
)  # fmt: skip

ADVICE = Advice(
    places=(
        PlaceState(
            "front-rail", "left", Seen(True, True, None, False), Grade.COSMETIC, ("e2.1",),
            coating=coating_rating(2.0),
        ),
        PlaceState(
            "control-arm-mount", "left", Seen(False, False, False, False), refused=True
        ),
        PlaceState(
            "control-arm-mount", "right", Seen(True, True, True, True), Grade.UNSAFE, ("e3.1",)
        ),
        PlaceState("gearbox-cross-member", None, Seen(True, True, None, False)),
    ),
    explanations={"e4.1": THIN},
    swings=(SWING,),
    work=WORK,
)  # fmt: skip

_STANDING = Standing(
    "utility pickup, tray removed", "", "ladder-frame", "do-not-drive", "local", "repairable"
)

COMPARED = Comparison(
    "6ba7b810-9dad-41d1-80b4-00c04fd430c8",
    "3f0c7a52-9d4e-4a41-8a53-6a0f0b7f2c11",
    "2025-03-10T09:00:00+01:00",
    "2026-03-14T10:05:15+01:00",
    (
        Difference(
            "worse", "kick-up", "left", "Left kick-up: surface rust then, hole now.", ("e4.1",),
            ("e5.1",), then=Grade.COSMETIC, now=Grade.REPAIR,
        ),
        Difference(
            "grew", "mid-rail", "left", "Left mid rail: 2.2 mm thick then, 1.9 mm now.", ("e7.1",),
            ("e4.1",), Rate(2.2, 1.9, 1.01, 0.297, 0.198, 0.1, 0.0), Grade.TREAT, Grade.TREAT,
        ),
        Difference(
            "not-looked-at-again", "steering-box-mount", None,
            "Steering box mount: looked at then, not now.", ("e9.1",),
        ),
    ),
    ("The older log has no VIN",),
    replace(_STANDING, drive="not-enough-seen", work="surface", tier="unknown"),
    _STANDING,
    {"both": 3, "then": 1, "now": 0, "never": 47},
)  # fmt: skip
