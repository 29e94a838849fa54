"""What is mutated, and which tests should notice."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

_F, _J = "tests/unit/findings", "tests/unit/journal"
_RULES = (
    f"{_F}/test_table_at_a_glance.py",
    f"{_F}/test_rule_by_rule.py",
    f"{_F}/test_design_sentences.py",
    f"{_F}/test_lifting_points.py",
    f"{_F}/test_facts_of.py",
    f"{_F}/test_frame_rules.py",
)
"""The slowest last: most mutants are noticed before."""

_TABLE = (
    *_RULES[:-1],
    f"{_F}/test_grading.py",
    f"{_F}/test_about_its_own_fault.py",
    f"{_F}/test_cautions.py",
    f"{_F}/test_distance_open.py",
    f"{_F}/test_work_by_rule.py",
    f"{_F}/test_shipped_work.py",
    f"{_F}/test_work_list.py",
    f"{_F}/test_pointers_for.py",
    # _RULES[-1],
)
_MAPS = (
    f"{_F}/test_places_of_the_maps.py",
    "tests/unit/config/test_shipped_maps.py",
    f"{_F}/test_table_at_a_glance.py",
    f"{_F}/test_lifting_points.py",
    f"{_F}/test_verdict.py",
    f"{_F}/test_coverage.py",
)

_TAKEN = (f"{_J}/test_vouching.py", f"{_J}/test_belonging.py")


@dataclass(frozen=True, slots=True)
class Area:
    """A part of the program whose mutants are tried in one process.

    Args:
        tests: each mutated file with the tests that should notice.
        warm: modules that are loaded before, since none of the mutated ones is used in making them.
        warm_grammar: whether the shipped grammar may be loaded before, too.
    """

    tests: Mapping[str, tuple[str, ...]]
    warm: tuple[str, ...] = ()
    warm_grammar: bool = False


AREAS: Mapping[str, Area] = {
    "grading": Area(
        {
            "voicelog/findings/grading.py": (
                f"{_F}/test_grading.py", f"{_F}/test_graded_before.py", *_RULES[:2],
            ),
            "voicelog/findings/when.py": (f"{_F}/test_when.py", *_RULES[:2]),
            "voicelog/findings/facts_of.py": (
                f"{_F}/test_facts_of.py", f"{_F}/test_grading.py", f"{_F}/test_design_sentences.py",
            ),
            "voicelog/findings/coating.py": (f"{_F}/test_coating.py",),
            "voicelog/findings/verdict.py": (f"{_F}/test_verdict.py",),
            "voicelog/findings/drive.py": (f"{_F}/test_verdict.py",),
            "voicelog/findings/coverage.py": (f"{_F}/test_coverage.py",),
            "voicelog/findings/ledger.py": (f"{_F}/test_ledger.py", f"{_F}/test_ledger_bench.py"),
            "voicelog/findings/landmarks.py": (f"{_F}/test_facts_of.py", f"{_F}/test_grading.py"),
            "voicelog/findings/tasks.py": (f"{_F}/test_verdict.py", f"{_F}/test_reasons.py"),
            "voicelog/findings/work.py": (f"{_F}/test_verdict.py", f"{_F}/test_reasons.py"),
            "voicelog/findings/thickness.py": (f"{_F}/test_thickness.py",),
            "voicelog/findings/advising.py": (
                f"{_F}/test_work_by_rule.py", f"{_F}/test_work_list.py", f"{_F}/test_shipped_work.py",
                f"{_F}/test_pointers_for.py",
            ),
            "voicelog/findings/work_list.py": (f"{_F}/test_work_orders.py", f"{_F}/test_work_list.py"),
            "voicelog/findings/open_places.py": (f"{_F}/test_work_list.py", f"{_F}/test_place_states.py"),
        },
        ("voicelog.config.loading", "voicelog.interpret.reader", "voicelog.journal.journal"),
        warm_grammar=True,
    ),
    "rules": Area(
        {
            "grammar/rules/frame.toml": _TABLE,
            **{f"grammar/maps/{name}.toml": _MAPS for name in ("ladder-frame", "unibody", "backbone")},
        },
        ("voicelog.config.loading", "voicelog.runtime.logs"),
    ),
    "journal": Area(
        {
            "voicelog/journal/chain.py": (
                f"{_J}/test_chain.py", f"{_J}/test_reading.py", f"{_J}/test_verify.py",
                f"{_J}/test_reopen.py",
            ),
            "voicelog/journal/lines.py": (
                f"{_J}/test_lines.py", f"{_J}/test_chain.py", f"{_J}/test_salvage.py",
            ),
            "voicelog/journal/journal.py": (
                f"{_J}/test_journal.py", f"{_J}/test_reopen.py", f"{_J}/test_lock.py",
            ),
            "voicelog/journal/storage.py": (
                f"{_J}/test_storage.py", f"{_J}/test_append_file.py", f"{_J}/test_journal.py",
                f"{_J}/test_reopen.py", "tests/faults/journal/test_disk_refuses.py",
            ),
            "voicelog/journal/reading.py": (
                f"{_J}/test_reading.py", f"{_J}/test_reopen.py", f"{_J}/test_lost_end.py",
                f"{_J}/test_seal.py", f"{_J}/test_late_body.py",
            ),
            "voicelog/journal/verify.py": (
                f"{_J}/test_verify.py", f"{_J}/test_photos.py", f"{_J}/test_lost_end.py",
                f"{_J}/test_gathering.py",
            ),
            "voicelog/journal/gathering.py": (
                f"{_J}/test_gathering.py", f"{_J}/test_verify.py", f"{_J}/test_photos.py",
            ),
            "voicelog/journal/following.py": (f"{_J}/test_verify.py",),
            "voicelog/journal/salvage.py": (f"{_J}/test_salvage.py", *_TAKEN),
            "voicelog/journal/vouching.py": _TAKEN,
            "voicelog/journal/linking.py": _TAKEN,
            "voicelog/journal/mending.py": (
                f"{_J}/test_mending.py", f"{_J}/test_salvage.py", f"{_J}/test_vouching.py",
            ),
            "voicelog/journal/restoring.py": (f"{_J}/test_restored_line.py",),
            "voicelog/journal/restored_line.py": (f"{_J}/test_restored_line.py",),
            "voicelog/journal/belonging.py": (f"{_J}/test_belonging.py", f"{_J}/test_vouching.py"),
            "voicelog/journal/pieces.py": (
                f"{_J}/test_salvage.py", f"{_J}/test_restored_line.py", f"{_J}/test_vouching.py",
            ),
            "voicelog/journal/append_file.py": (
                f"{_J}/test_append_file.py", f"{_J}/test_journal.py", f"{_J}/test_reopen.py",
                "tests/faults/journal/test_disk_refuses.py",
            ),
            "voicelog/journal/seal.py": (
                f"{_J}/test_seal.py", f"{_J}/test_reading.py", f"{_J}/test_late_body.py",
            ),
            "voicelog/journal/lost_end.py": (f"{_J}/test_lost_end.py",),
            "voicelog/journal/lock.py": (f"{_J}/test_lock.py",),
            "voicelog/journal/own_files.py": (f"{_J}/test_own_files.py",),
            "voicelog/journal/naming.py": (f"{_J}/test_naming.py",),
            "voicelog/journal/clips.py": (f"{_J}/test_clips.py",),
            "voicelog/journal/photos.py": (f"{_J}/test_photos.py",),
            "voicelog/journal/joined.py": (f"{_J}/test_joined.py",),
            "voicelog/journal/grammar.py": (f"{_J}/test_grammar.py",),
            "voicelog/journal/clock.py": (f"{_J}/test_clock.py", f"{_J}/test_reopen.py"),
            "voicelog/journal/opening.py": (f"{_J}/test_journal.py",),
            "voicelog/journal/trial.py": (f"{_J}/test_trial.py",),
            "voicelog/journal/late_body.py": (f"{_J}/test_late_body.py",),
            "voicelog/journal/late_fact.py": (f"{_J}/test_late_body.py",),
        },
        ("voicelog.domain.fact", "voicelog.domain.photo", "filelock", "soundfile", "numpy"),
    ),
}  # fmt: skip
