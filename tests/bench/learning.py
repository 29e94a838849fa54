"""Measure what is learned from corrections; run ``python tests/bench/learning.py``.

Sentences of the tuning corpus that read right as typed, split in two halves by a seeded draw, are
spoken by synthetic voices and heard by the built-in ear with the shipped vocabulary. What was read
wrong in the first half is corrected; every mishearing that explains a correction is tried on the whole
half as on a log, and remembered unless refused. The second half is read before and after. Nothing was
chosen by looking at it. ``--write`` puts the table between the markers of the README, ``--list`` prints
what was learned and refused.
"""

from __future__ import annotations

import argparse
import random
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import corpus
import page
from corpus import Case
from halves import Half, Log, Mind
from shares import markdown
from spoken import Speaker, Utterance, hear

from voicelog.config.grammar import Grammar, grammar_in_force, load_grammar
from voicelog.config.settings import Settings
from voicelog.domain.heard import Heard
from voicelog.domain.lesson import Lesson
from voicelog.interpret.lessons import Lessons
from voicelog.runtime.learning import Trial, remember, trial
from voicelog.yardstick.shares import share_text
from voicelog.yardstick.strict import Judged, answer_of, judge

NAME = "learning"
SEED, COUNT, LONGEST = 6, 200, 14
ORIGINS = ("hand", "generated")
"""Sentences written by six hands, who seldom use the same words, and those of the generator."""
MADE = 900
"""Generated cases that the sentences are drawn from."""
TOPICS = ("plain", "measure", "scope", "several", "probe", "dialect")
NOISES = ("", "", "compressor", "shop")
"""One in two is spoken in a quiet room, the others over noise at 15 dB."""
PERSONS = (
    Speaker("American", "espeak", "en-us"),
    Speaker("Scottish", "espeak", "en-gb-scotland"),
    Speaker("Caribbean", "espeak", "en-029"),
)
EVERYBODY = (
    *PERSONS, Speaker("Lancaster", "espeak", "en-gb-x-gbclan"),
    Speaker("West Midlands", "espeak", "en-gb-x-gbcwmd"), Speaker("heart", "hibari"),
    Speaker("deep", "hibari", pitch=0.8), Speaker("hasty", "hibari", speed=1.25),
)  # fmt: skip
DAY = date(2026, 1, 1)


@dataclass(frozen=True)
class Row:
    """What came of it.

    Args:
        name: who spoke.
        first: exact sentences of the first half before and after, each a truth.
        second: the same of the second.
        chatter: false entries in chatter, typed, before and after.
        corrected: sentences of the first half that were corrected.
        trials: every lesson tried.
    """

    name: str
    first: tuple[list[bool], list[bool]]
    second: tuple[list[bool], list[bool]]
    chatter: tuple[int, int]
    corrected: int
    trials: tuple[Trial, ...]


def main() -> None:
    """Run it."""
    asked = _arguments()
    if asked.write:
        page.around(NAME)  # rather now than after minutes of work
    groups = {f"{origin}: eight speakers, for the shop": EVERYBODY for origin in ORIGINS}
    groups |= {f"hand: one person, {speaker.name}": (speaker,) for speaker in PERSONS}
    groups |= {f"generated: one person, {PERSONS[0].name}": PERSONS[:1]}
    halves = {
        name: _halves(group, name.partition(":")[0], asked.cache) for name, group in groups.items()
    }
    rows = [
        _measured(
            f"{name}, {way}", *halves[name], typed=way == "retyped", one=len(groups[name]) == 1
        )
        for name in groups
        for way in ("slots put right", "retyped")
    ]
    if asked.list:
        print("\n".join(line for row in rows for line in _listing(row)))
    text = _text(rows)
    print(text)
    if asked.write:
        page.write(NAME, text)


def _halves(speakers: Sequence[Speaker], origin: str, folder: Path) -> tuple[Half, Half]:
    """The two halves, no sentence in both; each is said by one of the speakers."""
    rng = random.Random(SEED)
    cases = rng.sample(_sentences(origin), COUNT)
    said = [Utterance(case.say[0], rng.choice(speakers), rng.choice(NOISES)) for case in cases]
    found = tuple(hear(said, folder))
    half = COUNT // 2
    return Half(tuple(cases[:half]), found[:half]), Half(tuple(cases[half:]), found[half:])


def _sentences(origin: str) -> list[Case]:
    """Each once, of one utterance, read right as typed."""
    found = corpus.load("tuning/hand") if origin == "hand" else corpus.generated("tuning", MADE)
    cases = {c.say[0]: c for c in found if len(c.say) == 1 and c.want}
    grammar = load_grammar()
    fit = [
        case for case in cases.values()
        if case.topic in TOPICS and not case.settings and len(case.say[0].split()) <= LONGEST
    ]  # fmt: skip
    typed = Half(tuple(fit), tuple(Heard.typed(case.say[0]) for case in fit))
    return [case for case, right in zip(fit, Mind(grammar).exact(typed), strict=True) if right]


def _measured(name: str, first: Half, second: Half, *, typed: bool, one: bool) -> Row:
    shipped = load_grammar()
    with tempfile.TemporaryDirectory() as folder:
        settings = Settings(learned=Path(folder), inspector="bench")
        corrected, trials = _corrections(first, shipped, settings, typed=typed, one=one)
        taught = grammar_in_force(settings)
    old, new = Mind(shipped), Mind(taught)
    lines = [case.say[0] for case in corpus.load("tuning/chatter")]
    return Row(
        name, (old.exact(first), new.exact(first)), (old.exact(second), new.exact(second)),
        (old.false_entries(lines), new.false_entries(lines)), corrected, trials,
    )  # fmt: skip


def _corrections(
    half: Half, grammar: Grammar, settings: Settings, *, typed: bool, one: bool
) -> tuple[int, tuple[Trial, ...]]:
    """Go through the half as through a log: put right what is wrong, and learn what explains it."""
    lessons = Lessons(grammar.vocabulary, grammar.zone_map)
    log = Log(half, Mind(grammar))
    trials: list[Trial] = []
    corrected = 0
    for number, case in enumerate(half.cases, start=2):
        judged = judge(case.want, answer_of(log.read[number]))
        if judged.exact:
            continue
        corrected += 1
        text = half.heard[number - 2].text
        found = lessons.of_texts(text, case.say[0]) if typed else _explained(lessons, text, judged)
        log.correct(number, case)
        for lesson in found:
            tried = trial(lesson, settings, log.facts, grammar, utterance=f"u{number}")
            trials.append(tried)
            if not tried.refused:
                remember(tried, settings, for_="person" if one else "shop", on=DAY, sentence=text)
    return corrected, tuple(trials)


def _explained(lessons: Lessons, text: str, judged: Judged) -> Iterator[Lesson]:
    """What the slots put right in each entry of a sentence teach; a missing entry is added."""
    for want, got in judged.pairs:
        if want is not None:
            before = dict(got.slots) if got is not None else {}
            after = {n: v for n, v in want.items() if n != "kind"}
            yield from lessons.of_correction(text, before, after)


def _text(rows: Sequence[Row]) -> str:
    """The table, with what belongs to it."""
    head = ["who speaks, how it is corrected", "corrected", "lessons learned", "refused",
            "second half exact, before", "after", "fixed", "broken",
            "false entries in chatter, before → after"]  # fmt: skip
    return f"{_notes()}\n\n{markdown(head, [_cells(row) for row in rows])}"


def _cells(row: Row) -> list[str]:
    before, after = row.second
    refused = {t.lesson.heard for t in row.trials if t.refused} - _learned(row)
    return [
        row.name, str(row.corrected), str(len(_learned(row))), str(len(refused)),
        _share(before), f"**{_share(after)}**", str(_turned(before, after)),
        str(_turned(after, before)), "{} → {}".format(*row.chatter),
    ]  # fmt: skip


def _notes() -> str:
    return (
        f"Measured {date.today():%Y-%m-%d} by `python tests/bench/learning.py`: {COUNT} sentences of the "
        f"corpus' tuning part, written by hand or generated from its wordings (one utterance, up to "
        f"{LONGEST} words, read right as typed; topics {', '.join(TOPICS)}), half of them corrected, the "
        f"other half read before and after. "
        f"Synthetic voices (espeak-ng, hibari-tts) heard by the built-in ear, every second sentence over "
        f"noise at 15 dB. Exact is every slot right and nothing extra. Slots put right: the right slots "
        f"are all that is known; retyped: the sentence as it was said. Fixed and broken count the "
        f"sentences of the second half, which nothing was chosen by."
    )


def _share(exact: Sequence[bool]) -> str:
    return share_text(sum(exact), len(exact))


def _turned(before: Sequence[bool], after: Sequence[bool]) -> int:
    """Sentences that were wrong and are right."""
    return sum(not one and other for one, other in zip(before, after, strict=True))


def _learned(row: Row) -> set[str]:
    return {tried.lesson.heard for tried in row.trials if not tried.refused}


def _listing(row: Row) -> Iterator[str]:
    """What was learned and refused in the first half; nothing of the second is ever shown."""
    yield f"{row.name}:"
    for tried in row.trials:
        lesson = tried.lesson
        why = f"refused: {tried.refused}" if tried.refused else "learned"
        yield f"  {lesson.heard!r} for {lesson.say!r} ({lesson.likeness:.2f}) {why}"


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else "")
    add = parser.add_argument
    add("--cache", type=Path, default=Path(tempfile.gettempdir()) / "voicelog-learning",
        help="folder of what was heard, so that it is heard once")  # fmt: skip
    add("--list", action="store_true", help="what was learned and refused in the first half")
    add("--write", action="store_true", help="put the table into the README")
    return parser.parse_args()


if __name__ == "__main__":
    main()
