"""A grammar folder small enough to see at a glance, to be broken in one place at a time."""

from __future__ import annotations

from pathlib import Path

import pytest

WORDS = """\
# Words of the test.

[[meaning]]
slot = "condition"
value = "scale"
say = ["scale", "flaking metal"]
misheard = ["skale"]

[[meaning]]
slot = "probe"
value = "firm"
say = [
    "rings",
    "rings true",
]
also = { method = "tapped" }

[[meaning]]
slot = "hedge"
value = "tentative"
say = ["might be"]
"""

SMALL = Path(__file__).parents[2] / "small_grammar"
"""The rest of it, which other tests break as well."""
MAP = (SMALL / "maps/cart.toml").read_text(encoding="utf-8")
RULES = (SMALL / "rules/frame.toml").read_text(encoding="utf-8")


@pytest.fixture
def cart(tmp_path: Path) -> Path:
    """A sound grammar folder with one file of words, the map ``cart`` and three rules."""
    root = tmp_path / "grammar"
    for place, text in (("words/a.toml", WORDS), ("maps/cart.toml", MAP)):
        (root / place).parent.mkdir(parents=True)
        (root / place).write_text(text)
    (root / "rules").mkdir()
    (root / "rules" / "frame.toml").write_text(RULES)
    return root
