"""What kind of phrase is likely after which: after "left front" a place, after a number its unit.

The figures are in ``fitted.json``, counted by ``tests/bench/calibrate.py``. Each is the logarithm of how
much likelier a kind is just after another than anywhere; rare pairs are drawn towards 0 (likely as
anywhere), and none can be worth more than a word of the vocabulary.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

START, CARRIED = "start", "carried"
"""What an utterance begins after: nothing, or a place that is carried over."""

KINDS: Mapping[str, tuple[str, ...]] = {
    "place": ("zone", "family"),
    "side": ("side", "kerb", "seat", "viewer", "other-side", "pronoun"),
    "end": ("end",),
    "fault": ("condition", "rot", "rust"),
    "good": ("clear", "good"),
    "probe": ("probe", "method"),
    "surround": ("surround",),
    "face": ("face", "part", "layer", "relation"),
    "number": ("number", "point", "article", "amount", "ordinal"),
    "unit": ("unit", "measuring"),
    "label": ("label", "lead"),
    "act": ("act", "repair"),
    "grade": ("spoken_grade",),
    "negation": ("negation", "hedge"),
}
"""Word classes that are said in the same places of a sentence."""

_KIND = {slot: kind for kind, slots in KINDS.items() for slot in slots}


def kind_of(slot: str) -> str:
    """The kind of phrase that a word class is; empty where it has none."""
    return _KIND.get(slot, "")


@dataclass(frozen=True, slots=True)
class Context:
    """How likely each kind is after each other.

    Args:
        nats: bonus by (kind before, kind now); what is missing is 0.
        strength: factor on all of them.
    """

    nats: Mapping[tuple[str, str], float] = field(default_factory=dict)
    strength: float = 1.0

    def bonus(self, before: str, now: str) -> float:
        """Nats for a phrase of a kind, below 0 where it is unlikely here."""
        return self.strength * self.nats.get((before, now), 0.0)


NO_CONTEXT = Context()
"""All kinds are likely everywhere."""
