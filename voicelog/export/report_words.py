"""Headings, labels and notes that the report says in the same words as a page and as a PDF."""

from __future__ import annotations

from collections.abc import Mapping

from voicelog.tongue import to_word, worded

WORDS: Mapping[str, str] = {
    # page one
    "plan": to_word("The vehicle from above. Numbers are those of the findings."),
    "worst": to_word("The worst that was found"),
    "no_finding": to_word("No finding was made."),
    "no_photo": to_word("no photo"),
    "no_photos": to_word("No photo of any of these was matched."),
    "carries": to_word("Carries"),
    "next": to_word("What to do next"),
    "vehicle": to_word("The vehicle and the inspection"),
    "basis": to_word("What this rests on"),
    "disagree": to_word("Rule and inspector do not agree:"),
    "and": to_word("and"),
    "more": to_word("more, on the pages that follow"),
    # one finding
    "limits": to_word("But"),
    "said": to_word("Said"),
    "by_hand": to_word("Entered by hand"),
    "measured": to_word("Measured"),
    "judged": to_word("Judged"),
    "inferred": to_word("Inferred"),
    "overruled": to_word("Not agreed"),
    "rules": to_word("Graded by"),
    "could_be": to_word("What if"),
    "steps": to_word("What to do"),
    "listed": to_word("see the work list"),
    "caution": to_word("Caution"),
    "history": to_word("Earlier"),
    "lacks": to_word("Missing"),
    # the pages behind
    "findings": to_word("Findings, the worst first"),
    "work": to_word("Work list, in the order in which it should be done"),
    "work_heed": to_word("For all of this work:"),
    "now": to_word("now, before it moves"),
    "unseen": to_word("What was not seen, and how it matters"),
    "unseen_note": (
        to_word(
            "“Not by itself” means: that place or entry alone would change none of the three answers on "
            "page one."
        )
    ),
    "clear": to_word("Where nothing was found"),
    "lacking": to_word("What evidence is missing still"),
    "photos": to_word("Photographs that belong to no finding"),
    "past": to_word("What was said of its past"),
    "changes": to_word("Since an earlier inspection"),
    "coating": to_word("The coating, by published scales"),
    "coating_note": (
        to_word(
            "These rate the coating alone. They say nothing of the steel under it, and count for none of "
            "the answers on page one."
        )
    ),
    "pointers": to_word("Public rules that an inspector would look up"),
    "pointers_note": (
        to_word(
            "Pointers only. Nothing here was judged by them; whoever is licensed to do so decides."
        )
    ),
    "cautions": to_word("Cautions"),
    "chain": to_word("Signatures and hashes"),
    "unsigned": to_word("Nobody has signed this log."),
    "signed": to_word("Signed by"),
    "covers": to_word("Lines of the log that it covers, from the first:"),
    "sha256": to_word("their SHA-256:"),
    "open_then": to_word("Open when it was signed:"),
    "signed_because": to_word("Signed all the same, because:"),
    "source": to_word("Source:"),
    "made": to_word("How this report was made"),
}
"""By what the templates call them; page one and the report's own data have the rest."""

OF_PAGES: Mapping[str, str] = {
    "entry": to_word("Entry"),
    "rate": to_word("Rate:"),
    "by_source": to_word("source:"),
    "cut_off": to_word("Cut off here: the pages that follow have the rest."),
}
"""What only the PDF says, where the page shows it in another way."""


def words(table: Mapping[str, str] = WORDS) -> dict[str, str]:
    """The same in the language of whoever reads the report."""
    return {name: worded(text) for name, text in table.items()}
