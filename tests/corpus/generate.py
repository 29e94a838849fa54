"""Cases made from invented scenes: facts first, then a person who tells them.

``cases(seed, count, part)`` draws a person, a topic, a sentence plan and scenes until the plan can be
said of one; the plan's fields become words, and its ``want`` names the fields of each entry. The parts
have their own wordings and plans (``wordings/*.toml``); only the published names of zones and
conditions ("front rail", "surface rust"), side words and numbers stand in both.

Run as a script it prints cases, one JSON object a line.
"""

from __future__ import annotations

import argparse
import json
import random
import re
import string
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from fields import MAKERS
from scene import Scene, draw_scene, fits
from speaker import PARTS, Person, deliver, people, wordings
from telling import Telling

WEIGHTS: Mapping[str, int] = {
    "plain": 18, "measure": 18, "scope": 12, "several": 11, "context": 9, "late": 6,
    "correction": 7, "history": 4, "spell": 1, "not-finding": 4, "access": 4, "probe": 9, "dialect": 4,
}  # fmt: skip
"""How often each topic comes; our own guess at a working day, weighted to the hard ones."""

_MOST_DRAWS = 5000
_CLAUSE_ROOM = re.compile(r"(?:^|[,:] |\} )\{(fault2?)\}(?=$|,)")


def cases(seed: int, count: int, part: str) -> list[dict[str, Any]]:
    """So many cases of a part, the same for the same seed.

    Args:
        seed: chooses the persons and the scenes.
        count: how many cases.
        part: ``tuning`` or ``untouched``.

    Returns:
        Cases in the README's format, ``g-tuning-0001`` onwards; the first ones do not depend on the
        count.

    Raises:
        ValueError: there is no such part.
    """
    speakers = people(part, seed)
    return [_case(part, seed, number, speakers) for number in range(1, count + 1)]


def _case(part: str, seed: int, number: int, speakers: Sequence[Person]) -> dict[str, Any]:
    rng = random.Random(f"{part}:{seed}:{number}")
    words, person = wordings(part), rng.choice(speakers)
    topic = rng.choices(list(WEIGHTS), list(WEIGHTS.values()))[0]
    plan = rng.choice([plan for plan in words["plans"] if plan["topic"] == topic])
    fields = plan_fields(plan)
    settings = plan.get("settings", {})
    scene = _scene_for(fields, words, rng)
    told = Telling(scene, person, {**words, **settings}, rng, fields, MAKERS)
    said = [_fill(line, told) for line in plan["say"]]
    spoken = [
        deliver(line, person, words["phrases"], rng, first=place == 0)
        for place, line in enumerate(said)
    ]
    want = [_entry(line, told) for line in plan["want"]]
    extra = {key: plan[key] for key in ("at", "settings", "tags") if key in plan}
    return {"id": f"g-{part}-{number:04d}", "topic": topic, "say": spoken, "want": want, **extra}


def plan_fields(plan: Mapping[str, Any]) -> frozenset[str]:
    """The fields that a sentence plan says, with ``bothsides`` when it speaks of a pair.

    ``fault-clause`` says that the fault stands between pauses, where a clause fits too; ``metal`` that the
    metal itself was judged, so that mud is no fault there.
    """
    said = {name for line in plan["say"] for name in _names(line)}
    pair = {"bothsides"} if any("side=both" in line for line in plan["want"]) else set()
    room = {f"{name}-clause" for line in plan["say"] for name in _CLAUSE_ROOM.findall(line)}
    metal = {"metal"} if plan.get("metal") else set()
    return frozenset(said | pair | room | metal)


def _names(line: str) -> Iterator[str]:
    return (name for _, name, _, _ in string.Formatter().parse(line) if name)


def _scene_for(fields: frozenset[str], words: Mapping[str, Any], rng: random.Random) -> Scene:
    """Scenes until one fits.

    Raises:
        LookupError: none did: the plan contradicts itself.
    """
    for _ in range(_MOST_DRAWS):
        scene = draw_scene(rng)
        if fits(scene, fields) and ("slang" not in fields or scene.zone in words["slang"]):
            return scene
    raise LookupError(f"no scene fits the fields {sorted(fields)}")


def _fill(line: str, told: Telling) -> str:
    return line.format_map({name: told[name].words for name in _names(line)})


def _entry(line: str, told: Telling) -> dict[str, Any]:
    """One wanted entry: ``kind: field field slot=value``, later fields winning."""
    kind, _, names = line.partition(": ")
    slots: dict[str, Any] = {"kind": kind}
    for name in names.split():
        key, literal, value = name.partition("=")
        slots |= {key: value} if literal else told[name].slots
    return _completed(slots)


def _completed(slots: dict[str, Any]) -> dict[str, Any]:
    """What follows by the README's rules: the loss of two thicknesses, soft-spot from the probe."""
    thick, nominal = slots.get("thickness_mm"), slots.get("nominal_mm")
    if thick and nominal:
        slots["loss_percent"] = round(100 * (nominal - thick) / nominal, 1)
    if slots["kind"] == "finding" and "condition" not in slots:
        slots["condition"] = "soft-spot"
    return slots


def main() -> None:
    """Print cases of a part."""
    parser = argparse.ArgumentParser(description="Print invented inspections, one case a line.")
    parser.add_argument("--part", choices=PARTS, default="tuning")
    parser.add_argument("--count", type=int, default=20)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    for case in cases(asked.seed, asked.count, asked.part):
        print(json.dumps(case))


if __name__ == "__main__":
    main()
