"""Trains the corrections on one GPU; run by ``adapt.sh``.

    python train.py WEIGHTS.npz TEXTS.npz SPEECH_FOLDER OUT --seconds 1200

Each step takes sentences of about one length, puts each into another room, noise and loudness, and asks
for its text (cross-entropy, smoothed). Two ties keep what the model knew: what the encoder makes of
the worn sound is drawn towards what the published encoder makes of the clean one, and on plain English
the published model's choice of words is kept. Speech that arrives in the folder later is taken in.
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
from bank import Bank
from checking import check, held_out, recorded
from losses import loss_of
from network import corrected, network, weights
from training_speech import DEVICE, Speech


def main() -> None:
    """Train until the time is over; write what was learned now and then."""
    asked = _arguments()
    torch.manual_seed(8)
    np.random.seed(8)
    state = weights(asked.weights)
    teacher = network(state).to(DEVICE).eval()
    model = corrected(network(state)).to(DEVICE).train()
    if asked.after:
        learned = np.load(asked.after)
        known = {name: torch.from_numpy(learned[name].astype(np.float32)) for name in learned.files}
        model.load_state_dict(known, strict=False)
    speech = Speech(asked.speech, np.load(asked.texts), asked.held_out)
    bank = Bank(asked.bank, speech.sound)
    held = held_out(speech, bank)
    if asked.real:
        held += recorded(asked.real)
    print("as published:", check(teacher, held), flush=True)
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


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    parser.add_argument("weights", help="of ort_files.py")
    parser.add_argument("texts", help="tokens, of spelling.py")
    parser.add_argument("speech", type=Path, help="folder of speech.py")
    parser.add_argument("out", type=Path, help="folder for what was learned")
    parser.add_argument("--after", help="learned.npz of an earlier training to go on from")
    parser.add_argument("--seconds", type=float, default=1200, help="how long to train")
    parser.add_argument("--rate", type=float, default=8e-4, help="highest learning rate")
    parser.add_argument("--batch", type=float, default=512, help="seconds of sound a step")
    parser.add_argument("--held-out", type=int, default=300, help="sentences to watch")
    parser.add_argument("--bank", type=int, default=4096, help="noises kept at once")
    parser.add_argument("--real", type=Path, help="recordings of people to watch as well")
    return parser.parse_args()


if __name__ == "__main__":
    main()
