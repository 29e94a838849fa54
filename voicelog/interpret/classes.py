"""Groups of the word classes that a vocabulary's phrases have, as several steps ask for them."""

from __future__ import annotations

PLACES = ("zone", "family")
"""Names of a place, or of several places that share a name."""

SIDES = ("side", "kerb", "seat", "viewer", "other-side", "pronoun")
"""Which of two sides: "left", "nearside", "driver's", "my left", "the other", "its left"."""

FAULTS = ("condition", "rot", "rust")
"""What is wrong with the metal; "rot" and "rust" are words for several conditions."""

DESCRIBING = (*FAULTS, "clear", "good", "probe")
"""How the metal is."""

CONTENT = frozenset((*FAULTS, *PLACES, "clear", "probe", "act", "spoken_grade"))
"""What says something about the metal or steers the program."""

QUIET = ("filler", "unknown")
"""Words that say nothing: known ones and those that nothing explains."""

LABELS = ("label", "lead")
"""What a number is; a label may stand on either side of its number, a lead only before it."""
