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

MAP = """\
id = "cart"
title = "Hand cart"

[[zone]]
id = "left-shaft"
title = "Shaft"
role = "load-path"
layout = "pair"
say = ["shaft"]
plan = [10, 0, 5, 60]

[[zone]]
id = "axle-block"
title = "Axle block"
role = "critical"
layout = "one"
cavity = "always"
nominal_mm = 4
evidence = ["probe", "photo"]
say = ["axle block"]
plan = [40, 70, 20, 10]

[[family]]
say = ["member"]
misheard = ["remember"]
zones = ["left-shaft", "axle-block"]
ends = { front = "left-shaft", rear = "axle-block" }
"""

RULES = """\
id = "cart"
cautions = ["Chock the wheel."]

[limits]
loss_percent = 25

[[rule]]
id = "thin"
text = "Too thin is repaired."
source = "common practice, no source"
when = { condition = ["thinning"], loss_at_least = "loss_percent" }
grade = "repair"

[[rule]]
id = "soft"
text = "A soft spot is never less than a repair."
source = "common practice, no source"
when = { probe = ["soft"] }
at_least = "repair"
caution = "Mind your fingers."

[[rule]]
id = "anything-else"
text = "Anything else is treated."
source = "common practice, no source"
grade = "treat"
unproven = "yes"
"""


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
