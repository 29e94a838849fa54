"""Everything that can be asked of the review screen: behind its keys, its palette and its help."""

from __future__ import annotations

from collections.abc import Iterator

from textual.binding import Binding

from voicelog.tongue import to_word
from voicelog.tui.actions import Deed, bindings

READING = "reading"
"""Id of the deed whose digit says which reading is taken."""


def _foot(id: str, title: str, keys: str, does: str) -> Deed:  # noqa: A002
    return Deed(id, title, keys, does, foot=True)


DEEDS: tuple[Deed, ...] = (
    _foot("help", to_word("Help"), "question_mark,f1", to_word("Keys, signs and marks.")),
    _foot("play", to_word("Play"), "space", to_word("Plays the entry's sound from its start; again: stops.")),
    Deed("play-here", to_word("Play from here"), "p", to_word("Plays from the word in brackets; ← and → choose it.")),
    Deed("next-word", to_word("Next word"), "right", to_word("Puts the brackets around the next word.")),
    Deed("word-before", to_word("Word before"), "left", to_word("Puts the brackets around the word before.")),
    Deed("loop", to_word("Loop"), "l", to_word("Plays it over and over, or once again.")),
    Deed("slower", to_word("Slower"), "v", to_word("Plays at 75 %, at 50 %, and at full speed again; the pitch stays.")),
    _foot("next", to_word("Next"), "n", to_word("Goes to the next doubtful entry.")),
    Deed("play-next", to_word("Play while going"), "P", to_word("Going to the next doubtful entry also plays it, or not.")),
    _foot("runner-up", to_word("Runner-up"), "r", to_word("Takes the first of the other readings: OR 1.")),
    Deed(READING, to_word("Reading 1 to 4"), "1,2,3,4", to_word("Takes the reading of that number: OR 1, OR 2, …")),
    Deed("readings", to_word("All readings"), "o", to_word("Lists the other readings to choose from.")),
    _foot("confirm", to_word("Confirm"), "c", to_word("Says that it is right as it stands: doubtful no longer.")),
    _foot("edit", to_word("Edit"), "e", to_word("Puts place, side, condition, size or anything else right.")),
    _foot("retype", to_word("Retype"), "t", to_word("Types the sentence anew, or speaks it, and has it read again.")),
    Deed("add", to_word("Add"), "a", to_word("Adds an entry in words; what they do not say of the place is as here.")),
    Deed("split", to_word("Split"), "s", to_word("Makes two of it: at the word in brackets, left and right, or alike.")),
    Deed("mark", to_word("Mark"), "m", to_word("Marks this entry to be moved, merged or withdrawn with others.")),
    Deed("merge", to_word("Merge"), "j", to_word("Joins this entry and the marked one: this one stays.")),
    Deed("move", to_word("Move"), "g", to_word("Gives this entry, or all marked ones, another place.")),
    Deed("withdraw", to_word("Withdraw"), "w", to_word("It holds no longer, or, withdrawn already, holds again.")),
    Deed("undo", to_word("Undo"), "u,ctrl+z", to_word("Takes the last correction back, on any day.")),
    Deed("redo", to_word("Redo"), "U,ctrl+y", to_word("Makes the correction again that was taken back last.")),
    Deed("relisten", to_word("Hear anew"), "h", to_word("Has another recogniser hear it; what it proposes is listed.")),
    Deed("filters", to_word("Filters"), "f", to_word("Which entries are shown; filters stack.")),
    Deed("find", to_word("Find"), "slash", to_word("Shows only entries with these words.")),
    Deed("doubtful", to_word("Only doubtful"), "d", to_word("Shows only doubtful entries, or all again.")),
    Deed("unsafe", to_word("Only unsafe"), "x", to_word("Shows only unsafe entries, or all again.")),
    Deed("sort", to_word("Sort"), "z", to_word("Sorts by time, by place along the vehicle, or the worst first.")),
    Deed("whole", to_word("Whole entry"), "enter", to_word("More room for the entry, less for the table, and back.")),
    _foot("sign", to_word("Sign"), "S", to_word("Lists what is open, and signs the log.")),
    Deed("open", to_word("Open points"), "i", to_word("Lists what is unresolved, and goes to it.")),
    Deed("colours", to_word("Dark or light"), "C", to_word("Changes between dark and light colours.")),
    _foot("leave", to_word("Leave"), "q,ctrl+q,ctrl+c", to_word("Leaves; every correction is in the log already.")),
    Deed("clear", to_word("Clear marks"), "escape", to_word("Unmarks all entries and stops playing.")),
)  # fmt: skip
"""In the order in which they are shown; :mod:`.app` says what each does."""


def review_bindings() -> Iterator[Binding]:
    """A binding for every deed; a digit hands on which reading it takes."""
    yield from bindings([deed for deed in DEEDS if deed.id != READING])
    for digit in by_id(READING).keys.split(","):
        yield Binding(digit, f"reading({digit})", digit, id=f"{READING}-{digit}", show=False)


def by_id(name: str) -> Deed:
    """The deed of that id."""
    return next(deed for deed in DEEDS if deed.id == name)
