"""*I spell*: an identification number, a plate or a paint code as one statement."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from voicelog.domain.reading import Act, Statement
from voicelog.domain.slot import SlotValue
from voicelog.interpret.cover import Item
from voicelog.interpret.spelling import spell
from voicelog.interpret.tokens import Token

_SAY: Mapping[str, str] = {
    "vin": "vin|v i n|chassis|frame number|identification number|vehicle identification number",
    "plate": "plate|tag|registration|reg|rego|licence|license",
    "paint_code": "paint|colour|color",
}
_NAMES = {tuple(name.split()): slot for slot, say in _SAY.items() for name in say.split("|")}
_LEADING = frozenset(
    ("the", "is", "its", "it's", "number", "code", "as", "follows", "reads", "for", "of", "this")
)
_LONGEST_PLATE = 12
"""More characters than this, unnamed, can only be an identification number."""


def spelt(run: Sequence[Item], tokens: Sequence[Token]) -> Statement | None:
    """What was spelled, as a remark or a correction of one; None where nobody said *I spell*.

    Args:
        run: items of one part of an utterance.
        tokens: of the whole utterance.

    Returns:
        A statement with one slot of :data:`~voicelog.domain.slot.SPELT_SLOTS` and the tag
        ``spelt``, and a tag of its kind where that was said or its length tells it.
    """
    opener = next((i for i in run if i.slot == "act" and i.value == "spell"), None)
    if opener is None:
        return None
    before = [item for item in run if item.end <= opener.start]
    named = _name_within([word for item in before for word in item.text.split()])
    after = [token.text for token in tokens[opener.end : run[-1].end]]
    at, named_after = _past_name(after)
    told = spell(after, at)
    kind = named_after or named or ("vin" if len(told.text) > _LONGEST_PLATE else "spelt")
    slots: dict[str, SlotValue] = {kind: told.text} if told.text else {}
    return Statement(
        Act.CORRECTION if any(_corrects(item) for item in before) else Act.REMARK,
        slots,
        " ".join(item.text for item in run),
        doubts=_doubts(told.text, after[told.end :]),
        tags=tuple(dict.fromkeys(("spelt", kind.replace("_", "-")))),
    )


def _corrects(item: Item) -> bool:
    return item.slot == "act" and item.value in ("correction", "amend")


def _doubts(text: str, left: Sequence[str]) -> tuple[str, ...]:
    if not text:
        return ("no letter or digit was understood",)
    return (f'"{" ".join(left)}" was not understood',) if left else ()


def _name_within(words: Sequence[str]) -> str:
    """What is going to be spelled, said before *I spell*; empty where it was not."""
    found = [name for at in range(len(words)) if (name := _name_at(words, at)[1])]
    return found[-1] if found else ""


def _past_name(words: Sequence[str]) -> tuple[int, str]:
    """Index of the first word that is spelled, and what the words before it say it is."""
    at, named = 0, ""
    while at < len(words):
        step, name = _name_at(words, at)
        if not step and words[at] not in _LEADING:
            break
        at, named = at + (step or 1), name or named
    return at, named


def _name_at(words: Sequence[str], at: int) -> tuple[int, str]:
    """Length and meaning of the longest name that starts there; 0 and empty where none does."""
    fitting = [name for name in _NAMES if tuple(words[at : at + len(name)]) == name]
    longest = max(fitting, key=len, default=())
    return len(longest), _NAMES.get(longest, "")
