"""After a correction: was something misheard, and is that to be remembered?"""

from __future__ import annotations

import asyncio

from voicelog.domain.entry import Finding
from voicelog.domain.heard import Heard
from voicelog.tongue import worded
from voicelog.tui.review.bench import Bench
from voicelog.tui.review.learn_dialog import LearnDialog


async def offer_to_learn(
    bench: Bench, before: Finding, *, confirmed: bool = False, said: str | Heard = ""
) -> None:
    """Ask about each mishearing that explains what was just corrected.

    What was typed was not misheard; and with no folder for what is learned, nothing is asked.

    Args:
        bench: where it happens.
        before: the entry as it stood.
        confirmed: it was doubtful and is right as it stands.
        said: the sentence that was typed or spoken in place of what was heard.

    Raises:
        VoicelogError: the vocabulary could not be written; the correction stands.
    """
    if bench.settings.learned is None or bench.review.utterance(before.entry.id).typed:
        return
    from voicelog.runtime.teaching import lessons, remembered, tried  # starts slowly

    review, words = bench.review, said if isinstance(said, str) else said.text
    async with bench.alone:
        found = await asyncio.to_thread(lessons, review, before, confirmed=confirmed, said=words)
    for lesson in found:
        async with bench.alone:
            trial = await asyncio.to_thread(tried, review, lesson, before)
        told = [changed.line for changed in trial.would_change]
        whom = await bench.ask(LearnDialog(lesson.heard, lesson.say, told, trial.refused))
        if whom is not None:
            path = remembered(review, bench.settings, trial, before, for_=whom)
            told_so = worded(
                "From the next inspection on “{heard}” is {say}: {file}",
                heard=lesson.heard,
                say=lesson.say,
                file=path.name,
            )
            bench.say(told_so)
