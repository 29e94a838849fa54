"""What a setting or a flag may name, where more than one package has to know the list.

The first of each list is what holds while nobody has chosen.
"""

from __future__ import annotations

EARS = ("auto", "built-in", "vosk", "second", "typed")
"""Recognisers by name; ``auto`` takes the first that can be used."""

HEARING = tuple(ear for ear in EARS if ear != "typed")
"""Those that take sound."""

SECOND_EARS = ("auto", "off")
"""Whether what the first ear was not sure of is heard by a second one too."""

VOICES = ("auto", "built-in", "espeak-ng", "none")
"""What reads back; ``auto`` takes the first that can be used."""

PEDALS = ("off", "hold", "toggle")
"""Hands-free, or a key that is held or pressed once to begin and once to end."""

THEMES = ("dark", "light")
"""Colours of the screens."""
