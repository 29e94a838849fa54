"""A log on the bench, or one entry of it, as JSON for scripts."""

from __future__ import annotations

from typing import Any

from voicelog.cli.open_json import open_json
from voicelog.domain.entry import Finding
from voicelog.domain.heard import Hypothesis
from voicelog.domain.inert import inert
from voicelog.domain.signing import entries_after
from voicelog.export.answer import entry_document
from voicelog.export.values import known
from voicelog.review.sieve import Sifted
from voicelog.runtime.history_words import Step, steps
from voicelog.runtime.review import Review


def review_json(review: Review, sifted: Sifted) -> dict[str, Any]:
    """The log for a program; entries as ``voicelog read --json`` has them."""
    after = entries_after(review.facts)
    return {
        "log": str(review.folder),
        "entries": [
            entry_document(finding)
            | {"withdrawn": finding.withdrawn, "changed_after_signing": finding.entry.id in after}
            for finding in sifted.shown
        ],
        "hidden": sifted.hidden,
        "filters": dict(sifted.by),
        "open": open_json(review.open_points()),
        "signatures": [
            {
                "by": inert(s.by),
                "at": s.at,
                "lines": s.lines,
                "sha256": s.sha256,
                "why": inert(s.why),
            }
            for s in review.signatures()
        ],
        "read_only": inert(review.read_only),
    }


def entry_json(review: Review, finding: Finding) -> dict[str, Any]:
    """One entry in full."""
    name = finding.entry.id
    told = steps(finding, review.revisions(name), review.grammar.zone_map)
    utterance = review.utterance(name)
    return entry_document(finding) | known(
        {
            "withdrawn": finding.withdrawn,
            "changed_after_signing": review.after_signing(name),
            "heard": [_hypothesis_json(one) for one in utterance.heard.hypotheses],
            "clip": None if utterance.clip is None else utterance.clip.file,
            "readings": [
                entry_document(other.finding) | {"text": inert(other.text)}
                for other in review.alternatives(name)
            ],
            "since": [_step_json(step) for step in told],
        }
    )


def _hypothesis_json(hypothesis: Hypothesis) -> dict[str, Any]:
    words = [known({"text": inert(w.text), "confidence": w.confidence}) for w in hypothesis.words]
    return {"text": inert(hypothesis.text), "score": hypothesis.score, "words": words}


def _step_json(step: Step) -> dict[str, Any]:
    return {
        "at": step.at, "by": step.by, "did": step.did, "changes": list(step.changes),
        "why": step.why,
    }  # fmt: skip
