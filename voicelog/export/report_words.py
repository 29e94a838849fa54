"""Headings, labels and notes that the report says in the same words as a page and as a PDF."""

from __future__ import annotations

from collections.abc import Mapping

WORDS: Mapping[str, str] = {
    # page one
    "plan": "The vehicle from above. Numbers are those of the findings.",
    "worst": "The worst that was found",
    "no_finding": "No finding was made.",
    "no_photo": "no photo",
    "no_photos": "No photo of any of these was matched.",
    "carries": "Carries",
    "next": "What to do next",
    "vehicle": "The vehicle and the inspection",
    "basis": "What this rests on",
    "disagree": "Rule and inspector do not agree:",
    "more": "more, on the pages that follow",
    # one finding
    "limits": "But",
    "said": "Said",
    "by_hand": "Entered by hand",
    "measured": "Measured",
    "judged": "Judged",
    "inferred": "Inferred",
    "overruled": "Not agreed",
    "rules": "Graded by",
    "could_be": "What if",
    "steps": "What to do",
    "listed": "see the work list",
    "caution": "Caution",
    "history": "Earlier",
    "lacks": "Missing",
    # the pages behind
    "findings": "Findings, the worst first",
    "work": "Work list, in the order in which it should be done",
    "work_heed": "For all of this work:",
    "now": "now, before it moves",
    "unseen": "What was not seen, and how it matters",
    "unseen_note": (
        "“Not by itself” means: that place or entry alone would change none of the three answers on "
        "page one."
    ),
    "clear": "Where nothing was found",
    "lacking": "What evidence is missing still",
    "photos": "Photographs that belong to no finding",
    "past": "What was said of its past",
    "changes": "Since an earlier inspection",
    "coating": "The coating, by published scales",
    "coating_note": (
        "These rate the coating alone. They say nothing of the steel under it, and count for none of "
        "the answers on page one."
    ),
    "pointers": "Public rules that an inspector would look up",
    "pointers_note": (
        "Pointers only. Nothing here was judged by them; whoever is licensed to do so decides."
    ),
    "cautions": "Cautions",
    "chain": "Signatures and hashes",
    "unsigned": "Nobody has signed this log.",
    "signed": "Signed by",
    "covers": "Lines of the log that it covers, from the first:",
    "sha256": "their SHA-256:",
    "open_then": "Open when it was signed:",
    "signed_because": "Signed all the same, because:",
    "made": "How this report was made",
}
"""By what the templates call them; page one and the report's own data have the rest."""
