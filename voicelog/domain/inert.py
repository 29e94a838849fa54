"""Text from outside, made harmless before it is shown."""

from __future__ import annotations

from voicelog.tongue import Worded, reworded


def inert(text: str, longest: int | None = None) -> str:
    """Text that cannot steer a terminal: control and direction marks are shown as "?".

    Args:
        text: as it was heard, typed or read.
        longest: characters to show at most; the rest becomes "…" before it costs any time.
    """
    if isinstance(text, Worded):
        return reworded(text, lambda one: inert(one, longest))
    if longest is not None and len(text) > longest:
        text = text[: longest - 1] + "…"
    if text.isprintable():
        return text
    return "".join(c if c.isprintable() else "?" for c in text)
