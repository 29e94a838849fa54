"""Grammar and settings files under random input: they load, or all their faults are told at once."""

from __future__ import annotations

import random
import tempfile
from collections.abc import Iterator
from pathlib import Path

from fuzz_target import Target, memory

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.config.learned_text import without_notes
from voicelog.config.settings import load_settings
from voicelog.domain.heard import Heard
from voicelog.domain.zone import Rails
from voicelog.findings.ledger import fold
from voicelog.interpret.reader import Reader

PLACES = (
    "words/a.toml",
    "maps/cart.toml",
    "rules/frame.toml",
    "overlays/shop.toml",
    "settings.toml",
)
"""What a file stands for; the first byte of an input says which."""

_WORDS = """\
[[meaning]]
slot = "condition"
value = "scale"
say = ["scale", "flaking metal"]
misheard = ["skale"]

[[meaning]]
slot = "probe"
value = "firm"
say = ["rings", "rings true"]
also = { method = "tapped" }

[[confusion]]
say = "scale"
heard = ["scaled"]
"""
_SMALL = Path(__file__).parents[1] / "small_grammar"
_MAP = (_SMALL / "maps/cart.toml").read_text(encoding="utf-8")
_RULES = (_SMALL / "rules/frame.toml").read_text(encoding="utf-8")
_OVERLAY = """\
[[meaning]]
slot = "condition"
value = "scale"
say = ["crust"]

[[zone]]
id = "axle-block"
nominal_mm = 5
say = ["block"]

[limits]
loss_percent = 20
"""
_SETTINGS = """\
map = "cart"
unit = "inch"
ear = "typed"
overlays = ["shop.toml"]
regions = ["uk"]
carry_s = 60
inspector = "A. N. Other"
"""
_TEXTS = (_WORDS, _MAP, _RULES, _OVERLAY, _SETTINGS)


def grammar() -> Target:
    """One file of a small grammar, the others as they should be."""
    folder = Path(tempfile.mkdtemp(prefix="voicelog-fuzz-", dir=memory()))

    def run(data: bytes) -> None:
        which = data[0] % len(PLACES) if data else 0
        put(folder)
        (folder / PLACES[which]).write_bytes(data[1:])
        if PLACES[which] == "settings.toml":
            load_settings(user_file=folder / "settings.toml", environ={}, flags={})
        else:
            _used(load_grammar("cart", folder=folder))

    return Target("grammar and settings: load", run, _seeds, _altered, longest=4_096)


def _used(made: Grammar) -> None:
    """What loads can be used: its words are read, and its rules grade."""
    Reader(made.vocabulary, made.zone_map).read(Heard.typed("shaft, scale, rings true"))
    for raw in made.files.values():
        without_notes(raw)
    fold((), made.zone_map, made.rules, Rails.MIXED)


def put(folder: Path) -> None:
    """Write the small grammar into a folder, as it should be."""
    for place, text in zip(PLACES, _TEXTS, strict=True):
        path = folder / place
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text if place != "overlays/shop.toml" else "", encoding="utf-8")


def _seeds() -> Iterator[bytes]:
    for number, text in enumerate(_TEXTS):
        yield bytes((number,)) + text.encode()


def _altered(data: bytes, longest: int, more: random.Random) -> bytes:
    """Another file: lines moved, doubled, lost, and values of other kinds."""
    lines = data[1:].decode("utf-8", "replace").split("\n")
    for _ in range(more.choice((1, 1, 2, 4))):
        at = more.randrange(len(lines))
        match more.randrange(7):
            case 0:
                lines.insert(more.randrange(len(lines)), lines[at])
            case 1 if len(lines) > 1:
                del lines[at]
            case 2:
                lines.insert(at, more.choice(_LINES))
            case 3 | 4:
                lines[at] = f"{lines[at].partition('=')[0]}= {more.choice(_VALUES)}"
            case 5:
                key = more.choice(lines).partition("=")[0]
                lines[at] = f"{key}={lines[at].partition('=')[2]}"
            case _:
                lines[at] = lines[at][: more.randrange(len(lines[at]) + 1)]
    return (data[:1] + "\n".join(lines).encode("utf-8", "surrogatepass"))[:longest]


_LINES = (
    "[[zone]]", "[[rule]]", "[[meaning]]", "[limits]", "[[family]]", "[[confusion]]", "[[task]]", "[[learned]]",
    'as_in = "cart"', 'as_in = "ladder-frame"', "forget_names = true", "main = true", "worsen = 1", 'at_least = "unsafe"',
    "when = { said = [\"x\"] }", "when = { loss_below = 3 }", 'when = { zone = ["nowhere"] }', "\x00", "\ufeff",
)  # fmt: skip
_VALUES = (
    '""', '" "', "1", "-1", "0", "1e400", "nan", "inf", "true", "[]", "[[]]", "{}", '[""]', '["scale", "scale"]', "10" * 400,
    "1979-05-27T07:32:00Z", '"' + "a" * 400 + '"', '"left-shaft"', '["left-shaft"]', '"../x"', '"\\u202e"', '"\\u0000"',
    "[" * 2000, "{a=" * 500, "a" + ".a" * 500, '"(["', '"scale"', '["*"]', "[1, 2, 3, 4]", "[0, 0, 1e308, 1]",
)  # fmt: skip
