"""Everything that can be asked of the review screen: behind its keys, its palette and its help."""

from __future__ import annotations

from collections.abc import Iterator

from textual.binding import Binding

from voicelog.tui.actions import Deed, bindings

READING = "reading"
"""Id of the deed whose digit says which reading is taken."""


def _foot(id: str, title: str, keys: str, does: str) -> Deed:  # noqa: A002
    return Deed(id, title, keys, does, foot=True)


DEEDS: tuple[Deed, ...] = (
    _foot("help", "Help", "question_mark,f1", "Keys, signs and marks."),
    _foot("play", "Play", "space", "Plays the entry's sound from its start; again: stops."),
    Deed("play-here", "Play from here", "p", "Plays from the word in brackets; ← and → choose it."),
    Deed("next-word", "Next word", "right", "Puts the brackets around the next word."),
    Deed("word-before", "Word before", "left", "Puts the brackets around the word before."),
    Deed("loop", "Loop", "l", "Plays it over and over, or once again."),
    Deed("slower", "Slower", "v", "Plays at 75 %, at 50 %, and at full speed again; the pitch stays."),
    _foot("next", "Next", "n", "Goes to the next doubtful entry."),
    Deed("play-next", "Play while going", "P", "Going to the next doubtful entry also plays it, or not."),
    _foot("runner-up", "Runner-up", "r", "Takes the first of the other readings: OR 1."),
    Deed(READING, "Reading 1 to 4", "1,2,3,4", "Takes the reading of that number: OR 1, OR 2, …"),
    Deed("readings", "All readings", "o", "Lists the other readings to choose from."),
    _foot("confirm", "Confirm", "c", "Says that it is right as it stands: doubtful no longer."),
    _foot("edit", "Edit", "e", "Puts place, side, condition, size or anything else right."),
    _foot("retype", "Retype", "t", "Types the sentence anew, or speaks it, and has it read again."),
    Deed("add", "Add", "a", "Adds an entry in words; what they do not say of the place is as here."),
    Deed("split", "Split", "s", "Makes two of it: at the word in brackets, left and right, or alike."),
    Deed("mark", "Mark", "m", "Marks this entry to be moved, merged or withdrawn with others."),
    Deed("merge", "Merge", "j", "Joins this entry and the marked one: this one stays."),
    Deed("move", "Move", "g", "Gives this entry, or all marked ones, another place."),
    Deed("withdraw", "Withdraw", "w", "It holds no longer, or, withdrawn already, holds again."),
    Deed("undo", "Undo", "u,ctrl+z", "Takes the last correction back, on any day."),
    Deed("redo", "Redo", "U,ctrl+y", "Makes the correction again that was taken back last."),
    Deed("relisten", "Hear anew", "h", "Has another recogniser hear it; what it proposes is listed."),
    Deed("filters", "Filters", "f", "Which entries are shown; filters stack."),
    Deed("find", "Find", "slash", "Shows only entries with these words."),
    Deed("doubtful", "Only doubtful", "d", "Shows only doubtful entries, or all again."),
    Deed("unsafe", "Only unsafe", "x", "Shows only unsafe entries, or all again."),
    Deed("sort", "Sort", "z", "Sorts by time, by place along the vehicle, or the worst first."),
    Deed("whole", "Whole entry", "enter", "More room for the entry, less for the table, and back."),
    _foot("sign", "Sign", "S", "Lists what is open, and signs the log."),
    Deed("open", "Open points", "i", "Lists what is unresolved, and goes to it."),
    Deed("colours", "Dark or light", "C", "Changes between dark and light colours."),
    _foot("leave", "Leave", "q,ctrl+q,ctrl+c", "Leaves; every correction is in the log already."),
    Deed("clear", "Clear marks", "escape", "Unmarks all entries and stops playing."),
)  # fmt: skip
"""In the order in which they are shown; :mod:`.app` says what each does."""


def review_bindings() -> Iterator[Binding]:
    """A binding for every deed; a digit hands on which reading it takes."""
    yield from bindings([deed for deed in DEEDS if deed.id != READING])
    for digit in by_id(READING).keys.split(","):
        yield Binding(
            digit, f"reading({digit})", f"Reading {digit}", id=f"{READING}-{digit}", show=False
        )


def by_id(name: str) -> Deed:
    """The deed of that id."""
    return next(deed for deed in DEEDS if deed.id == name)
