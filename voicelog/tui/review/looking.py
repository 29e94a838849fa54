"""A log as somebody looks through it: which entries, which one, which word, what is being played."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from voicelog.domain.entry import Finding
from voicelog.domain.local_time import day_in, zone_of
from voicelog.domain.photo import times_shown
from voicelog.domain.signing import changed_after, entries_after
from voicelog.errors import VoicelogError
from voicelog.findings.what_if.explaining import Explainer
from voicelog.review.pictures import pictured
from voicelog.review.revisions import DURING
from voicelog.runtime.bench_sound import BenchSound, Sounded
from voicelog.runtime.history_words import steps
from voicelog.runtime.review import Review
from voicelog.tongue import worded
from voicelog.tui.review.detail_words import Detail
from voicelog.tui.review.head_line import log_words, signed_words
from voicelog.tui.review.listing import Listing
from voicelog.tui.review.marks import Known, sounds_kept
from voicelog.tui.review.playing import HOW, Playing
from voicelog.tui.review.spoken import Spoken
from voicelog.tui.review.wave_view import ESTIMATED


class Looking:
    """What the screen shows of a review; changes nothing in the log.

    Args:
        review: the log.
        sound: its clips.
        playing: what plays them.
    """

    def __init__(self, review: Review, sound: BenchSound, playing: Playing) -> None:
        self.review, self.sound, self.playing = review, sound, playing
        zone_map = review.grammar.zone_map
        self._shown = times_shown(review.photos())
        self.listing = Listing(review.inspection().findings, zone_map, review.rails, self._shown)
        self.listing.look_at(0)
        self.rules: Mapping[str, str] = {r.id: r.text for r in review.grammar.rules.rules}
        self._explainer = Explainer(zone_map, review.grammar.rules)
        self.picked: dict[str, None] = {}
        self.detail: Detail | None = None
        self.sound_trouble = ""
        self.playing_word: int | None = None
        self.known, self._softened = self._known(), review.softened()
        self.listing.filter_by(self.listing.sieve, self.known.after)
        self.look()

    def take(self, findings: Iterable[Finding] = ()) -> None:
        """Entries have changed, or the log was signed."""
        self.known, self._softened = self._known(findings), self.review.softened()
        self.listing.take(findings, self.known.after)
        self.look(again=True)

    def look(self, *, again: bool = False) -> None:
        """What is known at once of the entry that is looked at now.

        Args:
            again: it may be the same one, changed: the word that was looked at stays.
        """
        finding, before = self.listing.finding, self.detail
        same = before is not None and finding is not None and again
        same = same and before.finding.entry.utterance == finding.entry.utterance  # type: ignore[union-attr]
        self.detail = None if finding is None else self._detail(finding)
        self.sound_trouble, self.playing_word = "", None
        if self.detail is not None and before is not None and same:
            self.detail = replace(self.detail, spoken=before.spoken)
        self._with_times()

    def look_into(self) -> None:
        """What takes longer: other readings of the sound."""
        if self.detail is not None and self.detail.others is None:
            others = self.review.alternatives(self.detail.finding.entry.id)
            self.detail = replace(self.detail, others=others)

    def step_word(self, by: int) -> None:
        """Look at another word."""
        if self.detail is not None:
            self.detail = replace(self.detail, spoken=self.detail.spoken.step(by))

    def take_sound(self, utterance: str, trouble: str = "") -> None:
        """The sound of an utterance was read, or could not be; it counts if it is still looked at."""
        if self.detail is None or self.detail.utterance is None:
            return
        if self.detail.utterance.id == utterance:
            self.sound_trouble = trouble
            self._with_times()

    @property
    def sounded(self) -> Sounded | None:
        """The sound of the entry that is looked at, where it is in memory."""
        if self.detail is None or self.detail.utterance is None:
            return None
        return self.sound.known(self.detail.utterance.id)

    @property
    def is_on_deck(self) -> bool:
        """What plays is the sound of the entry that is looked at."""
        return self.sounded is not None and self.sounded.utterance == self.playing.utterance

    def sound_note(self) -> str:
        """How the sound is played, or why there is none."""
        if self.detail is None or self.detail.utterance is None:
            return ""
        if self.detail.utterance.clip is None:
            typed = self.detail.utterance.typed
            return worded("typed, there is no sound") if typed else worded("no sound was kept")
        if self.sound_trouble:
            return self.sound_trouble
        told = [
            self.playing.words(),
            worded(ESTIMATED) if self.detail.spoken.estimated else "",
            worded(HOW),
        ]
        return " · ".join(filter(None, told))

    def head(self) -> tuple[str, str, bool]:
        """The log in words, its signature in words, and whether it was changed since."""
        review, newest = self.review, (self.review.signatures() or (None,))[-1]
        changes = 0 if newest is None else len(changed_after(review.facts, newest))
        opened = review.facts[0]
        zone = zone_of(opened.body)
        day = day_in(opened.at, zone)
        told = log_words(review.subject, tuple(self.listing.by_id.values()), review.by, day)
        if review.read_only:
            told = " · ".join((worded("CAN ONLY BE READ"), told))
        return told, signed_words(newest, changes, zone), changes > 0

    def _detail(self, finding: Finding) -> Detail:
        review, name = self.review, finding.entry.id
        try:
            utterance = review.utterance(name)
        except VoicelogError:
            utterance = None
        spoken = Spoken() if utterance is None else Spoken.of(utterance)
        told = steps(finding, review.revisions(name), review.grammar.zone_map)
        what_ifs = () if finding.withdrawn else self._explainer.what_ifs(finding)
        was = self._softened.get(name)
        return Detail(finding, utterance, spoken, told, what_ifs=what_ifs, was=was)

    def _with_times(self) -> None:
        sounded, detail = self.sounded, self.detail
        if sounded is not None and detail is not None and detail.utterance is not None:
            timed = detail.spoken.timed(sounded.heard, detail.utterance.reading)
            self.detail = replace(detail, spoken=timed)

    def _known(self, changed: Iterable[Finding] = ()) -> Known:
        review = self.review
        findings = {**self.listing.by_id, **{f.entry.id: f for f in changed}}
        zone_map = review.grammar.zone_map
        return Known(
            zone_map, pictured(findings.values(), zone_map), sounds_kept(review.facts),
            self._times_corrected, entries_after(review.facts), self._shown,
            zone_of(review.facts[0].body),
        )  # fmt: skip

    def _times_corrected(self, entry: str) -> int:
        return sum(revision.did not in DURING for revision in self.review.revisions(entry))
