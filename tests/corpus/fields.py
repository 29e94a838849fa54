"""The fields of sentence plans: how each fact of a scene becomes words with their slots."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from scene import NUMBERED, Scene
from spoken_numbers import (
    COINS_MM,
    Said,
    in_words,
    say_length,
    say_length_before,
    say_range,
    say_thin,
)
from telling import Fragment, Maker, Telling

_NATURAL = frozenset({
    "staining", "surface-rust", "oil-film", "scale", "pitting", "thinning", "hole", "crack",
    "delamination", "blistering", "pack-rust", "filler", "leak", "debris", "soft-spot",
})  # fmt: skip
"""Conditions whose published name somebody would say as it stands."""
_ALPHABET = (
    "alfa", "bravo", "charlie", "delta", "echo", "foxtrot", "golf", "hotel", "india", "juliett",
    "kilo", "lima", "mike", "november", "oscar", "papa", "quebec", "romeo", "sierra", "tango",
    "uniform", "victor", "whiskey", "xray", "yankee", "zulu",
)  # fmt: skip
"""The spelling alphabet of radiotelephony (ICAO Annex 10 Vol. II)."""


def _place(told: Telling, zone: str, side: str, name: str) -> Fragment:
    slots: dict[str, Any] = {"zone": zone}
    numbered = zone in NUMBERED and not told.fields & {"other", "zone"} and told.rng.random() < 0.4
    if numbered:
        slots["ordinal"] = told.scene.ordinal
        name = f"{name} number {in_words(told.scene.ordinal)}"
    if not side:
        return Fragment(name, slots)
    slots["side"] = side
    before, after = told.side(side, "before"), told.side(side, "after")
    words = {
        "side-first": f"{before} {name}",
        "side-last": f"{name} {after}",
        "side-apart": f"{name}, {before}",
    }
    return Fragment(words[told.person.places], slots)


def _place1(told: Telling) -> Fragment:
    return _place(told, told.scene.zone, told.scene.side, told.pick("zones", told.scene.zone))


def _place2(told: Telling) -> Fragment:
    return _place(told, told.scene.zone2, told.scene.side2, told.pick("zones", told.scene.zone2))


def _slang(told: Telling) -> Fragment:
    name = told.pick("slang", told.scene.zone, natural=False)
    return _place(told, told.scene.zone, told.scene.side, name)


def _zone(told: Telling) -> Fragment:
    return Fragment(told.pick("zones", told.scene.zone), {"zone": told.scene.zone})


def _side(told: Telling) -> Fragment:
    return Fragment(told.scene.side, {"side": told.scene.side})


def _other(told: Telling) -> Fragment:
    other = "right" if told.scene.side == "left" else "left"
    return Fragment(other, {"side": other})


def _cabside(told: Telling) -> Fragment:
    ours = told.words["driver_side"] == told.scene.side
    return Fragment("driver side" if ours else "passenger side", {"side": told.scene.side})


def _face(told: Telling) -> Fragment:
    return Fragment(
        told.rng.choice(told.words["faces"][told.scene.face]), {"face": told.scene.face}
    )


def _condition(field: str, fault: Callable[[Scene], str]) -> Maker:
    """Clauses ("bolt's seized") only where the plan has room for one."""

    def make(told: Telling) -> Fragment:
        name = fault(told.scene)
        clauses = told.words["clauses"].get(name) if f"{field}-clause" in told.fields else None
        if clauses and told.rng.random() < 0.4:
            return Fragment(told.rng.choice(clauses), {"condition": name})
        words = told.pick("conditions", name, natural=name in _NATURAL)
        return Fragment(words, {"condition": name})

    return make


def _counted(told: Telling) -> Fragment:
    noun = told.rng.choice(told.words["counted"][told.scene.fault])
    slots = {"condition": told.scene.fault, "count": told.scene.count}
    return Fragment(f"{in_words(told.scene.count)} {noun}", slots)


def _probe(name: str, **more: str) -> Maker:
    def make(told: Telling) -> Fragment:
        return Fragment(told.rng.choice(told.words["probes"][name]), {"probe": name, **more})

    return make


def _phrase(name: str, **slots: str) -> Maker:
    def make(told: Telling) -> Fragment:
        return Fragment(told.rng.choice(told.words["phrases"][name]), slots)

    return make


def _length(slot: str, rough: Callable[[Scene], float], whole: bool) -> Maker:
    def make(told: Telling) -> Fragment:
        return told.about(
            say_length(told.rng, rough(told.scene), told.person.units, whole=whole), slot
        )

    return make


def _thin(slot: str, rough: Callable[[Scene], float]) -> Maker:
    def make(told: Telling) -> Fragment:
        return told.about(say_thin(told.rng, rough(told.scene), told.person.units), slot)

    return make


def _size_before(told: Telling) -> Fragment:
    said = say_length_before(told.rng, told.scene.size_mm, told.person.units)
    return Fragment(said.words, {"size_mm": round(said.value, 4)})


def _range(told: Telling) -> Fragment:
    said = say_range(told.rng, told.scene.size_mm, told.person.units)
    return Fragment(said.words, {"size_mm": round(said.value, 4)})


def _coin(told: Telling) -> Fragment:
    coin = told.rng.choice(list(COINS_MM))
    words = told.rng.choice(told.words["phrases"]["coin"]).format(coin=coin)
    return Fragment(words, {"size_mm": COINS_MM[coin]})


def _percent(slot: str, value: Callable[[Scene], int]) -> Maker:
    def make(told: Telling) -> Fragment:
        number = value(told.scene)
        if slot == "area_percent" and number == 50 and told.rng.random() < 0.5:
            return told.about(Said("half", number), slot)
        return told.about(Said(f"{in_words(number)} percent", number), slot)

    return make


def _landmark(told: Telling) -> Fragment:
    ahead = told.rng.choice(told.words["phrases"]["ahead"])
    return Fragment(f"{ahead} {told.pick('zones', told.scene.landmark)}")


def _nearby(told: Telling) -> Fragment:
    """A zone that only says where: it labels nothing."""
    return Fragment(told.pick("zones", told.scene.landmark))


def _denied(which: Callable[[Scene], str]) -> Maker:
    def make(told: Telling) -> Fragment:
        return Fragment(told.rng.choice(told.words["denied"][which(told.scene)]))

    return make


def _grade(told: Telling) -> Fragment:
    grade = told.scene.grade
    return Fragment(told.rng.choice(told.words["grades"][grade]), {"spoken_grade": grade})


def _spelling(told: Telling) -> Fragment:
    digits = [in_words(told.rng.randint(0, 9)) for _ in range(2)]
    return Fragment(" ".join([*told.rng.sample(_ALPHABET, 2), *digits]))


MAKERS: Mapping[str, Maker] = {
    "place": _place1, "place2": _place2, "cavity": _place1, "slang": _slang, "zone": _zone,
    "side": _side, "other": _other, "cabside": _cabside, "face": _face, "counted": _counted,
    "fault": _condition("fault", lambda s: s.fault),
    "fault2": _condition("fault2", lambda s: s.fault2), "coin": _coin,
    "firm": _probe("firm"), "dull": _probe("dull"), "dents": _probe("dents"),
    "moves": _probe("moves"), "soft": _probe("soft"),
    "through": _probe("through", condition="hole"),
    "size": _length("size_mm", lambda s: s.size_mm, whole=False),
    "width": _length("width_mm", lambda s: s.width_mm, whole=False),
    "resize": _length("size_mm", lambda s: s.resize_mm, whole=False),
    "distance": _length("mount_distance_mm", lambda s: s.distance_mm, whole=True),
    "depth": _thin("depth_mm", lambda s: s.depth_mm),
    "thick": _thin("thickness_mm", lambda s: s.thickness_mm),
    "nominal": _thin("nominal_mm", lambda s: s.nominal_mm),
    "loss": _percent("loss_percent", lambda s: s.loss_percent),
    "area": _percent("area_percent", lambda s: s.area_percent),
    "sizeadj": _size_before, "range": _range, "landmark": _landmark, "nearby": _nearby, "grade": _grade,
    "denied": _denied(lambda s: s.denied), "denied2": _denied(lambda s: s.denied2),
    "hedge": _phrase("hedge", certainty="tentative"),
    "surround": _phrase("surround", surround="firm"),
    "nosurround": _phrase("nosurround", surround="none"),
    "repaired": _phrase("repaired", condition="old-repair"), "spelling": _spelling,
}  # fmt: skip
"""The fields that a sentence plan may say, besides the names of phrase lists."""
