"""What went wrong in the tuning part, to learn from. The kept-out part is never listed."""

from __future__ import annotations

from yardstick.scoring import Part
from yardstick.systems import System

REFUSED = (
    "Wrong utterances are listed of the tuning part only: the kept-out part measures what nobody "
    "has tuned for, and stays so only while nobody looks. Add --part tuning."
)


def listed(part: Part, system: System) -> str:
    """Every utterance that a system got wrong: what was said, heard by each ear, wanted and made.

    Raises:
        ValueError: for the kept-out part.
    """
    if part.name != "tuning":
        raise ValueError(REFUSED)
    lines = []
    for found in part.outcomes[system.name]:
        if not found.exact:
            spoken = found.spoken
            lines.append(
                f"{spoken.voice.name}, {spoken.condition.name}, {spoken.kind} ({spoken.key})"
            )
            lines.append(f"    said   {spoken.text}")
            lines += [f"    {ear:<6} {part.heard[ear][spoken.key].text}" for ear in system.ears]
            lines.append(f"    wanted {list(map(dict, spoken.case.want))}")
            lines.append(
                f"    made   {[(dict(got.slots), got.doubts) for got in found.answer.entries]}"
            )
    for false in (*part.chatter.get(system.name, ()), *part.noise.get(system.name, ())):
        if false.count:
            heard = [part.heard[ear][false.caught.key].text for ear in system.ears]
            lines.append(f"{false.caught.source} at {false.caught.start_s:.0f} s: {heard}")
            lines.append(
                f"    made   {[(dict(got.slots), got.doubts) for got in false.answer.entries]}"
            )
    return "\n".join(lines) or "nothing wrong"
