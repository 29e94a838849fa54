"""Trains the corrections on one GPU; run by ``adapt.sh``.

    python train.py WEIGHTS.npz TEXTS.npz SPEECH_FOLDER OUT --seconds 1200

Each step takes sentences of about one length, puts each into another room, noise and loudness, and asks
for its text (cross-entropy, smoothed). Two ties keep what the model knew: what the encoder makes of
the worn sound is drawn towards what the untouched encoder makes of the clean one, and on plain English
the untouched model's choice of words is kept. Speech that arrives in the folder later is taken in.
"""

from __future__ import annotations

import argparse
import copy
import math
import time
from pathlib import Path
from typing import Any

import numpy as np
import torch
from network import corrected, network, weights
from noises import RATE, Bank, uniform, without_speech, worn
from torch.nn import functional

START, END = 1, 2
DEVICE = "cuda" if torch.cuda.is_available() else "cpu"


class Speech:
    """All sentences on the GPU, growing as files come."""

    def __init__(self, folder: Path, tokens: Any, held_out: int) -> None:
        self.folder, self.files = folder, set[str]()
        self.flat, self.tokens = tokens["flat"], tokens["ends"]
        self.english = tokens["english"]
        self.sound = torch.zeros(0, dtype=torch.int16, device=DEVICE)
        self.starts = self.lengths = self.texts = np.zeros(0, np.int64)
        self.held_out = np.zeros(0, np.int64)
        self.take_in()
        self.held_out = np.linspace(0, len(self.lengths) - 1, held_out).astype(np.int64)

    def take_in(self) -> None:
        """Files that are new."""
        new = [file for file in sorted(self.folder.glob("*.npz")) if file.name not in self.files]
        for file in new:
            held = np.load(file)
            starts = len(self.sound) + np.concatenate([[0], np.cumsum(held["lengths"])[:-1]])
            self.sound = torch.cat([self.sound, torch.from_numpy(held["sound"]).to(DEVICE)])
            self.starts = np.concatenate([self.starts, starts])
            self.lengths = np.concatenate([self.lengths, held["lengths"]])
            self.texts = np.concatenate([self.texts, held["texts"]])
            self.files.add(file.name)
        jitter = np.random.uniform(0.95, 1.05, len(self.lengths))
        self.order = np.argsort(self.lengths * jitter)
        if new:
            print(
                f"{len(self.lengths)} sentences, {self.lengths.sum() / RATE / 3600:.1f} h",
                flush=True,
            )

    def labels(self, chosen: Any) -> Any:
        """Their tokens, start and end included, -100 behind them."""
        rows = [
            self.flat[self.tokens[t - 1] if t else 0 : self.tokens[t]] for t in self.texts[chosen]
        ]
        table = np.full((len(rows), max(map(len, rows)) + 2), -100)
        for row, said in zip(table, rows, strict=True):
            row[: len(said) + 2] = [START, *said, END]
        return torch.from_numpy(table).to(DEVICE)

    def clips(self, chosen: Any, rates: Any, spare_s: tuple[float, float]) -> Any:
        """Their sound, each somewhere in a clip, all clips of one length."""
        lengths = torch.from_numpy(self.lengths[chosen]).to(DEVICE)[:, None]
        starts = torch.from_numpy(self.starts[chosen]).to(DEVICE)[:, None]
        longest = int((lengths / rates).max()) + int(np.random.uniform(*spare_s) * RATE)
        slack = longest - lengths / rates
        at = (
            torch.arange(longest, device=DEVICE)[None]
            - slack * uniform(len(chosen), 0.15, 0.75, rates)
        ) * rates
        low = at.floor()
        inside = (low >= 0) & (low < lengths - 1)
        index = starts + low.clamp_min(0).minimum(lengths - 2.0).long()
        share = at - low
        sound = self.sound[index].float() * (1 - share) + self.sound[index + 1].float() * share
        return torch.where(inside, sound, 0.0) / 32768

    def batch(self, seconds: float) -> Any:
        """Numbers of sentences of about one length, none of those held out."""
        at = np.random.randint(len(self.order))
        length = self.lengths[self.order[at]] / RATE + 0.9
        count = int(np.clip(seconds / length, 16, 1024)) // 16 * 16
        at = min(at, max(0, len(self.order) - count))
        chosen = self.order[at : at + count]
        return chosen[~np.isin(chosen, self.held_out)]


def loss_of(model: Any, teacher: Any, speech: Speech, bank: Bank, seconds: float) -> Any:
    """One batch: the loss, and its parts for the log."""
    chosen = speech.batch(seconds)
    labels = speech.labels(chosen)
    count = len(chosen)
    clean = speech.clips(chosen, uniform(count, 0.93, 1.08, speech.sound), (0.35, 0.9))
    bank.renew(speech.sound)
    sounds = worn(clean, bank)
    mute = torch.rand(count, device=DEVICE) < 0.035
    sounds = torch.where(mute[:, None], without_speech(count, sounds.shape[1], bank), sounds)
    labels[mute, 1:] = torch.tensor([END] + [-100] * (labels.shape[1] - 2), device=DEVICE)
    asked, wanted = labels[:, :-1].clamp_min(0), labels[:, 1:]
    with torch.autocast(DEVICE, torch.bfloat16):
        with torch.no_grad():
            known = teacher.model.encoder(clean).last_hidden_state
            # only clips of plain English are shown to the untouched model's other half
            plain = torch.from_numpy(speech.english[speech.texts[chosen]]).to(DEVICE) & ~mute
        hidden = model.model.encoder(sounds).last_hidden_state
        decoded = model.model.decoder(
            input_ids=asked, encoder_hidden_states=hidden, use_cache=False
        ).last_hidden_state
        logits = model.proj_out(decoded)
        spelled = functional.cross_entropy(
            logits.flatten(0, 1).float(), wanted.flatten(), label_smoothing=0.1
        )
        apart = ((hidden - known).float().square().mean(-1) / known.float().square().mean(-1)).mean(
            1
        )
        tie = (apart * ~mute).sum() / (~mute).sum()
        drift = logits.new_zeros(())
        if plain.sum() > 1:
            with torch.no_grad():
                theirs = teacher.model.decoder(
                    input_ids=asked[plain], encoder_hidden_states=known[plain], use_cache=False
                )
                theirs = teacher.proj_out(theirs.last_hidden_state).float().log_softmax(-1)
            ours = logits[plain].float().log_softmax(-1)
            each = functional.kl_div(ours, theirs, log_target=True, reduction="none").sum(-1)
            drift = (each * (wanted[plain] >= 0)).sum() / (wanted[plain] >= 0).sum()
    return spelled + 0.5 * tie + 0.7 * drift * plain.float().mean(), torch.stack(
        [spelled, tie, drift.float()]
    ).detach()


@torch.no_grad()
def spelled(model: Any, sounds: Any, most: int) -> list[list[int]]:
    """The tokens that greedy decoding gives for clips of one length."""
    with torch.autocast(DEVICE, torch.bfloat16):
        hidden = model.model.encoder(sounds).last_hidden_state
        said = torch.full((len(sounds), 1), START, device=DEVICE)
        for _ in range(most):
            last = model.model.decoder(
                input_ids=said, encoder_hidden_states=hidden, use_cache=False
            ).last_hidden_state
            said = torch.cat([said, model.proj_out(last[:, -1:]).argmax(-1)], 1)
            if bool((said == END).any(1).all()):
                break
    rows = said[:, 1:].tolist()
    return [row[: row.index(END)] if END in row else row for row in rows]


def wrong(pairs: list[tuple[list[int], list[int]]]) -> float:
    """Share of wrong tokens."""
    faults = 0
    for said, heard in pairs:
        row = list(range(len(heard) + 1))
        for i, token in enumerate(said, 1):
            before, row[0] = row[0], i
            for j, other in enumerate(heard, 1):
                before, row[j] = row[j], min(row[j] + 1, row[j - 1] + 1, before + (token != other))
        faults += row[-1]
    return faults / sum(len(said) for said, _ in pairs)


def check(model: Any, held: list[tuple[str, list[Any], list[list[int]]]]) -> str:
    """Wrong tokens by condition."""
    model.eval()
    told = []
    for name, clips, texts in held:
        heard = [said for sounds in clips for said in spelled(model, sounds, 60)]
        told.append(f"{name} {100 * wrong(list(zip(texts, heard, strict=True))):.1f}")
    model.train()
    return ", ".join(told)


def held_out(speech: Speech, bank: Bank) -> list[tuple[str, list[Any], list[list[int]]]]:
    """Sentences that are not trained on, at three loudnesses of noise, in batches of about one length."""
    torch.manual_seed(5)
    order = speech.held_out[np.argsort(speech.lengths[speech.held_out], kind="stable")]
    batches = [order[at : at + 30] for at in range(0, len(order), 30)]
    kept = []
    for name, snr in (("quiet", 60.0), ("10 dB", 10.0), ("0 dB", 0.0)):
        clips = []
        for chosen in batches:
            clean = speech.clips(chosen, torch.ones(len(chosen), 1, device=DEVICE), (0.7, 0.7001))
            clips.append(clean + bank.mixed(*clean.shape) * 10 ** ((-24 - snr) / 20))
        texts = [
            row[row >= 0].tolist()[1:-1] for chosen in batches for row in speech.labels(chosen)
        ]
        kept.append((name, clips, texts))
    return kept


def main() -> None:
    """Train until the time is over; write what was learned now and then."""
    parser = argparse.ArgumentParser()
    parser.add_argument("weights")
    parser.add_argument("texts")
    parser.add_argument("speech", type=Path)
    parser.add_argument("out", type=Path)
    parser.add_argument("--seconds", type=float, default=1200)
    parser.add_argument("--rate", type=float, default=8e-4)
    parser.add_argument("--batch", type=float, default=512, help="seconds of sound a step")
    parser.add_argument("--held-out", type=int, default=300)
    parser.add_argument("--bank", type=int, default=4096)
    parser.add_argument("--real", help="real recordings to watch, beside the rest")
    asked = parser.parse_args()
    torch.manual_seed(8)
    np.random.seed(8)
    state = weights(asked.weights)
    teacher = network(state).to(DEVICE).eval()
    model = corrected(network(state)).to(DEVICE).train()
    speech = Speech(asked.speech, np.load(asked.texts), asked.held_out)
    bank = Bank(asked.bank, speech.sound)
    held = held_out(speech, bank)
    if asked.real:
        real = np.load(asked.real)
        names = sorted(name for name in real.files if name.startswith("sound"))
        clips = [torch.from_numpy(real[name]).to(DEVICE)[None].float() for name in names]
        texts = [real[name.replace("sound", "text")].tolist() for name in names]
        held.append(("real", clips, texts))
        held.append(
            (
                "real 10 dB",
                [c + 0.316 * c.square().mean().sqrt() * torch.randn_like(c) for c in clips],
                texts,
            )
        )
    print("untouched:", check(teacher, held), flush=True)
    trained = {name: p for name, p in model.named_parameters() if p.requires_grad}
    print(sum(p.numel() for p in trained.values()), "numbers trained", flush=True)
    low = [p for name, p in trained.items() if name.endswith((".up", ".down"))]
    whole = [p for name, p in trained.items() if not name.endswith((".up", ".down"))]
    optimizer = torch.optim.AdamW(
        [{"params": low, "lr": asked.rate}, {"params": whole, "lr": asked.rate / 8}],
        betas=(0.9, 0.98), weight_decay=0.0, fused=DEVICE == "cuda",
    )  # fmt: skip
    rates = [group["lr"] for group in optimizer.param_groups]
    followed = [p.detach().clone() for p in trained.values()]
    watched = copy.deepcopy(model)
    began = told = taken = time.monotonic()
    step = last = 0
    sums = torch.zeros(3, device=DEVICE)
    while (spent := (time.monotonic() - began) / asked.seconds) < 1:
        pace = min(1, step / 300) * (0.02 + 0.98 * 0.5 * (1 + math.cos(math.pi * spent)))
        for group, rate in zip(optimizer.param_groups, rates, strict=True):
            group["lr"] = rate * pace
        loss, parts = loss_of(model, teacher, speech, bank, asked.batch)
        optimizer.zero_grad(set_to_none=True)
        loss.backward()
        torch.nn.utils.clip_grad_norm_(trained.values(), 1.0)
        optimizer.step()
        step, sums = step + 1, sums + parts
        torch._foreach_lerp_(followed, list(trained.values()), 1 - min(0.9985, step / (step + 20)))
        if time.monotonic() - taken > 20:
            speech.take_in()
            taken = time.monotonic()
        if time.monotonic() - told > 75 or step == 200:
            follow(watched, trained, followed, asked.out)
            mean = (sums / max(1, step - last)).cpu().numpy().round(3)
            spent_s = time.monotonic() - began
            print(f"{spent_s:.0f} s, step {step}: {mean}; {check(watched, held)}", flush=True)
            sums, last, told = torch.zeros_like(sums), step, time.monotonic()
    follow(watched, trained, followed, asked.out)
    print("done", step, check(watched, held), flush=True)
    (asked.out / "done").touch()


def follow(watched: Any, trained: dict[str, Any], followed: list[Any], out: Path) -> None:
    """The running mean into a model of its own and onto the disk."""
    here = dict(watched.named_parameters())
    with torch.no_grad():
        for name, value in zip(trained, followed, strict=True):
            here[name].copy_(value)
    out.mkdir(parents=True, exist_ok=True)
    held = {
        name: value.detach().cpu().numpy().astype(np.float16)
        for name, value in zip(trained, followed, strict=True)
    }
    np.savez(out / "part.npz", **held)
    (out / "part.npz").rename(out / "learned.npz")


if __name__ == "__main__":
    main()
