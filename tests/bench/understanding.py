"""Measure the reading over the corpus; run ``python tests/bench/understanding.py``.

``--own`` measures voicelog alone, in seconds, and ``--wrong`` lists what it got wrong in the tuning
part. Without ``--own`` the baselines read the same texts in the same run, and one Markdown table
comes out; ``--write`` puts it between the markers of the README. All mishearing is made by the
model in ``tests/corpus/corrupt.py``.
"""

from __future__ import annotations

import argparse
from collections.abc import Sequence

import listing
import pace
import page
import table
from corpus import PARTS, Hearing
from systems import OWN, Job, run

RATES = (0.0, 0.1, 0.25)
ORIGINS = [*table.ORIGINS, *table.CHATTER]
NAME = "understanding"
"""Of the README's markers."""


def main() -> None:
    """Run it."""
    asked = _arguments()
    parts = PARTS if asked.part == "both" else (asked.part,)
    sources = asked.cases or [f"{part}/{origin}" for part in parts for origin in asked.origins]
    if asked.wrong is not None:
        _refuse_untouched(sources)
        print(listing.wrong(sources, Hearing(asked.wrong), asked.topic))
    if asked.own:
        jobs = [Job(OWN, source, Hearing(rate)) for source in sources for rate in asked.rates]
        print(listing.own(run(jobs)))
        return
    _complete(asked)
    if asked.write:
        page.around(NAME)  # rather now than after minutes of work
    found = run(table.jobs(parts, asked.rates))
    text = table.text(found, pace.measure(), parts, asked.rates)
    print(text)
    if asked.write:
        page.write(NAME, text)


def _complete(asked: argparse.Namespace) -> None:
    """The tables need the whole corpus."""
    if asked.cases or asked.origins != ORIGINS:
        raise SystemExit("--cases and --origins go with --own: the table is made of the corpus")


def _refuse_untouched(sources: Sequence[str]) -> None:
    """Nobody may see which of its cases are wrong, or it would be tuned on."""
    if any("untouched" in source for source in sources):
        raise SystemExit(
            "Wrong cases are listed of the tuning part only: the untouched part measures what "
            "nobody has tuned for, and stays untouched only while nobody looks. "
            "Add --part tuning."
        )


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else "")
    add = parser.add_argument
    add("--part", choices=(*PARTS, "both"), default="both", help="of the corpus")
    add("--origins", type=_words, default=ORIGINS,
        help="with --own: some of hand, generated, chatter, chatter-after")  # fmt: skip
    add("--cases", action="append", metavar="FILE", help="a .jsonl file instead of the corpus")
    add("--rates", type=_rates, default=RATES, help="word error rates, such as 0,0.1,0.25")
    add("--own", action="store_true", help="voicelog alone, no table")
    add("--wrong", type=float, nargs="?", const=0.0, metavar="RATE",
        help="list the wrong cases of the tuning part at a rate, 0 if none is given")  # fmt: skip
    add("--topic", help="list those of one topic only")
    add("--write", action="store_true", help="put the table into the README")
    return parser.parse_args()


def _words(text: str) -> list[str]:
    return text.split(",")


def _rates(text: str) -> tuple[float, ...]:
    return tuple(float(rate) for rate in text.split(","))


if __name__ == "__main__":
    main()
