"""The classes of words that are no slot of an entry, and the values that each of them takes."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from voicelog.config.shape import unknown
from voicelog.domain.reading import Act
from voicelog.domain.slot import CONDITIONS, MEASURE_SLOTS
from voicelog.domain.vehicle import KM_OF, REFUSED, STOOD, SURFACES
from voicelog.tongue import to_word, worded

ACTS = (
    *(str(act) for act in Act if act not in (Act.REPORT, Act.REMARK)),
    *("amend", "next", "spell"),
)
"""Values of ``act``: what a statement does, and the control words that shape one."""

UNIT_NAMES = (
    *("millimetre", "centimetre", "metre", "micron", "inch", "foot", "thou"),
    *("percent", "gauge"),
)
"""Values of ``unit``."""

AMOUNTS = ("about", "between", "and", "to", "by")
"""Values of ``amount``: a hedge before a number, what opens a range (``and`` only joins one that was
opened), and what joins a range or two dimensions."""

_HEADER: Mapping[str, tuple[str, ...]] = {
    "inspected": ("inspector", "no-name"),
    "mileage": ("odometer", *KM_OF),
    "refusal": ("no", "not-allowed", "not-possible", *REFUSED),
    "standing": STOOD,
    "surface": SURFACES,
    "vehicle": ("vehicle", "around", "owner"),
}
"""What is said of the vehicle as a whole (``domain.reading.HEADER``). ``vehicle`` names it, names
whose refusal it is, or may stand around the rest; ``no-name`` is what an inspector is never called."""

WORD_CLASSES: Mapping[str, tuple[str, ...]] = {
    "act": ACTS,
    "address": ("address", "person"),
    "amount": AMOUNTS,
    "article": ("one",),
    "attention": ("attention",),
    "clear": ("clear",),
    "contrast": ("but",),
    "end": ("front", "middle", "rear"),
    "filler": ("filler", "light", "thing"),
    "good": ("bad", "good"),
    "hedge": ("tentative",),
    "hypothetical": ("clause", "hypothetical"),
    "ignore": ("ignore",),
    "join": ("and", "or"),
    "kerb": ("near", "off"),
    "label": ("left", *MEASURE_SLOTS),
    "lead": MEASURE_SLOTS,
    "measuring": ("measuring",),
    "negation": ("hardly", "next", "no", "seen"),
    "number": (),
    "other-side": ("other",),
    "past": ("past",),
    "obstacle": ("hides",),
    "point": (",", "."),
    "pronoun": ("one",),
    "question": ("opener", "question"),
    "relation": ("off",),
    "repair": ("repair",),
    "rot": CONDITIONS,
    "rust": CONDITIONS,
    "seat": ("driver", "passenger"),
    "tag": (),
    "unit": UNIT_NAMES,
    "viewer": ("left", "right"),
    **_HEADER,
}
"""What a phrase can be when it is no slot of an entry, with its values; where none are listed, the
value has a pattern of its own."""

_PATTERNS = {
    "number": (
        r"0|[1-9]\d{0,5}(/[1-9]\d{0,2})?",
        to_word("{value} is not a whole number, or a fraction such as 3/4"),
    ),
    "tag": (r"[a-z]+(-[a-z]+)*", to_word("{value} is not small letters and single hyphens")),
}


def word_faults(name: str, value: str) -> Iterator[str]:
    """Messages about a value that a word class does not take; none for anything else."""
    values = WORD_CLASSES.get(name, ())
    if values and value not in values:
        yield unknown(value, values, worded("value of {slot}", slot=name))
    if name in _PATTERNS:
        pattern, told = _PATTERNS[name]
        if not re.fullmatch(pattern, value):
            yield worded(told, value=repr(value))
