"""Everything that can be asked for: one list behind the keys, the palette and the help screen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import reduce

from textual.binding import Binding

from voicelog.runtime.messages import Action
from voicelog.tongue import Worded, as_it_is, to_word, worded


@dataclass(frozen=True, slots=True)
class Deed:
    """One thing that can be asked for.

    Args:
        id: its name, also that of its binding, so that keys can be changed.
        title: a short name for the palette and the foot of the screen, marked for the catalogue.
        keys: as Textual names them, comma-separated.
        does: what it does, in a sentence, marked as well.
        action: what the engine is asked for; None where the screen does it by itself.
        spoken: the words that do the same; empty where there are none.
        foot: named at the foot of the screen.
    """

    id: str
    title: str
    keys: str
    does: str
    action: Action | None = None
    spoken: str = ""
    foot: bool = False

    @property
    def shown_keys(self) -> Worded:
        """The keys as a person reads them, for example ``? or F1``."""
        return reduce(_one_or_other, (as_it_is(key_name(key)) for key in self.keys.split(",")))


def _one_or_other(others: Worded, last: Worded) -> Worded:
    return worded("{others} or {last}", others=others, last=last)


def _asks(action: Action, title: str, keys: str, does: str, *, foot: bool = False) -> Deed:
    """A deed of the engine that is also spoken; its words are those of the shipped grammar."""
    spoken = SPOKEN.get(action, "")
    return Deed(str(action), title, keys, does, action, spoken, foot)


SPOKEN: Mapping[Action, str] = {
    Action.AFFIRM: "affirm",
    Action.NEGATIVE: "negative",
    Action.SAY_AGAIN: "say again",
    Action.READ_BACK: "read back",
    Action.WHAT_IS_OPEN: "what is open",
    Action.DISREGARD: "disregard",
    Action.STAND_BY: "stand by",
    Action.GO_AHEAD: "go ahead",
    Action.PHOTO: "photo",
    Action.FINISH: "finish inspection",
}
"""The words of the shipped grammar: they are spoken in every language as they stand."""

PEDAL = "pedal"
"""Id of the pedal's deed. Its binding waits under this name, which no key has, for the key that is
set: Textual takes bindings of characters away while words are typed, before it looks at keymaps."""

DEEDS: tuple[Deed, ...] = (
    _asks(Action.AFFIRM, to_word("Affirm"), "a", to_word("Yes to a question or to the cautions."), foot=True),
    _asks(Action.NEGATIVE, to_word("Negative"), "n", to_word("No to a question."), foot=True),
    _asks(Action.SAY_AGAIN, to_word("Say again"), "s", to_word("Repeats the last answer."), foot=True),
    _asks(Action.READ_BACK, to_word("Read back"), "r", to_word("Reads what was found here.")),
    _asks(Action.WHAT_IS_OPEN, to_word("What is open"), "o", to_word("Tells what nobody looked at yet.")),
    _asks(Action.DISREGARD, to_word("Disregard"), "d", to_word("Withdraws the last entry."), foot=True),
    _asks(Action.PHOTO, to_word("Photo"), "p", to_word("Claims an evidence photo for this place.")),
    _asks(Action.STAND_BY, to_word("Stand by"), "b", to_word("Keeps nothing until it may go ahead."), foot=True),
    _asks(Action.GO_AHEAD, to_word("Go ahead"), "g", to_word("Listens again after standing by.")),
    _asks(Action.FINISH, to_word("Finish"), "f", to_word("Closes the inspection; asks for affirm."), foot=True),
    _asks(Action.TALK_LESS, to_word("Talk less"), "minus", to_word("Says less aloud.")),
    _asks(Action.TALK_MORE, to_word("Talk more"), "plus,equals_sign", to_word("Says more aloud.")),
    Deed(PEDAL, to_word("Pedal"), "space", to_word("Talk while it is down, or cut in while it speaks.")),
    Deed("type", to_word("Type"), "t", to_word("Opens a line for words too noisy to hear."), foot=True),
    Deed("plan", to_word("Plan"), "v", to_word("Shows or hides the plan of the vehicle.")),
    Deed("colours", to_word("Dark or light"), "c", to_word("Changes between dark and light colours.")),
    Deed("help", to_word("Help"), "f1,question_mark", to_word("Keys, words, sounds and signs."), foot=True),
    Deed("leave", to_word("Leave"), "q,ctrl+q,ctrl+c", to_word("Pressed twice: stops, to be gone on with later.")),
)  # fmt: skip
"""In the order in which they are shown. The screen's own deeds are methods of the app."""

_NAMES = {
    "question_mark": "?", "minus": "-", "plus": "+", "equals_sign": "=", "space": "Space",
    "escape": "Esc", "enter": "Enter", "slash": "/", "left": "←", "right": "→",
}  # fmt: skip


def key_name(key: str) -> str:
    """A key as a person reads it, for example ``Ctrl+Q``."""
    if key.startswith("ctrl+"):
        return f"Ctrl+{key[5:].upper()}"
    return _NAMES.get(key, key.upper() if len(key) > 1 else key)


def bindings(deeds: Sequence[Deed] = DEEDS) -> Iterator[Binding]:
    """A binding for every deed, under its id.

    Leaving works even while words are typed, the pedal whatever has the focus.
    """
    for deed in deeds:
        plain, _, special = deed.keys.partition(",ctrl")
        if deed.id == PEDAL:
            yield _binding(deed, PEDAL, PEDAL, show=False, priority=True)
            continue
        yield _binding(deed, plain, deed.id, show=deed.foot, priority=False)
        if special:
            yield _binding(deed, f"ctrl{special}", f"{deed.id}-now", show=False, priority=True)


def _binding(deed: Deed, keys: str, name: str, *, show: bool, priority: bool) -> Binding:
    return Binding(
        keys, f"deed('{deed.id}')", deed.title, id=name, show=show, key_display=key_name(keys.split(",")[0]), tooltip=deed.does, priority=priority,
    )  # fmt: skip


def with_words(spoken: Mapping[Action, str]) -> tuple[Deed, ...]:
    """All deeds with the words of the grammar in force instead of the shipped ones."""
    return tuple(_said_as(deed, spoken) for deed in DEEDS)


def _said_as(deed: Deed, spoken: Mapping[Action, str]) -> Deed:
    words = spoken.get(deed.action, deed.spoken) if deed.action is not None else deed.spoken
    return Deed(deed.id, deed.title, deed.keys, deed.does, deed.action, words, deed.foot)
