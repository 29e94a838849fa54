"""What one more utterance costs beside a log of any length: time, memory, and answers to questions.

As a command, ``python tests/faults/long_growth.py LOG`` measures one log and prints JSON; it writes
into the log, so it wants a copy.
"""

from __future__ import annotations

import gc
import json
import statistics
import sys
import tracemalloc
from dataclasses import asdict, dataclass
from pathlib import Path
from time import process_time

import long_log

from voicelog.config.settings import Settings
from voicelog.domain.signal import Talk
from voicelog.recognise.typed_engine import TypedEar
from voicelog.runtime import telling
from voicelog.runtime.actions import words_of
from voicelog.runtime.going_on import earlier_log
from voicelog.runtime.messages import Action
from voicelog.runtime.opening import open_again
from voicelog.runtime.session import Session

UTTERANCES, WARM_UP, ASKED = 300, 60, 5
SEED = 77


@dataclass(frozen=True)
class Cost:
    """What is measured beside one log; times are of the processor, which other work hardly changes.

    Args:
        facts: lines of the log.
        utterance_ms: the median from the words to their tone: reading, dialogue, grades, disk.
        answer_ms: the median of what follows the tone: the inspection told, the words to be said.
        kilobytes: of new objects that each utterance leaves behind.
        zone_ms: "read back": what was found at this place.
        end_ms: "finish inspection": what is still open, and the question.
    """

    facts: int
    utterance_ms: float
    answer_ms: float
    kilobytes: float
    zone_ms: float
    end_ms: float


def measure(log: Path) -> Cost:
    """Go on with a log and say the same to each."""
    earlier = earlier_log(log, Settings())
    facts = len(earlier.facts)
    with open_again(earlier, TypedEar()) as session:
        del earlier
        said = long_log.texts(UTTERANCES + WARM_UP, SEED)
        _costs(session, said[:WARM_UP])
        took, answered = _costs(session, said[WARM_UP:])
        kept = _kept(session, said[:WARM_UP])
        vocabulary = session.grammar.vocabulary
        zone, end = (words_of(a, vocabulary) for a in (Action.READ_BACK, Action.FINISH))
        session.read("left sill, hole, ten millimetres", at_s=session.now_s())
        return Cost(
            facts, statistics.median(took), statistics.median(answered), kept / WARM_UP / 1e3,
            _asked_ms(session, zone), _asked_ms(session, end),
        )  # fmt: skip


def _costs(session: Session, said: list[str]) -> tuple[list[float], list[float]]:
    """Milliseconds before and after the tone, of each utterance."""
    costs = [_cost(session, text) for text in said]
    return [before for before, _ in costs], [after for _, after in costs]


def _kept(session: Session, said: list[str]) -> int:
    """Bytes of what is new once this was said, and still there."""
    tracemalloc.start()
    _costs(session, said)
    gc.collect()
    kept, _ = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    return kept


def _cost(session: Session, text: str) -> tuple[float, float]:
    """The steps of :class:`~voicelog.runtime.bay.Bay`, one after the other."""
    begun = process_time()
    event = session.read(text, at_s=session.now_s())
    telling.signal_of(event)
    tone = process_time()
    telling.spoken(event, Talk.FINDINGS, session.grammar.zone_map, session.inspection())
    return 1e3 * (tone - begun), 1e3 * (process_time() - tone)


def _asked_ms(session: Session, text: str) -> float:
    """The median of some questions, the words in between saying something new each time."""
    took = []
    for _ in range(ASKED):
        took.append(sum(_cost(session, text)))
        session.read("left sill, surface rust", at_s=session.now_s())
    return statistics.median(took)


if __name__ == "__main__":
    print(json.dumps(asdict(measure(Path(sys.argv[1])))))
