"""What a training step asks of the model: the text, and to stay near what the published model knew."""

from __future__ import annotations

from typing import Any

import torch
from bank import Bank
from sounds import some, uniform
from torch.nn import functional
from training_speech import DEVICE, END, Speech
from wearing import by_radio, without_speech, worn

DROWNED_DB, DROWNED = 4.0, 0.7
"""Talk that stands less over its noise is asked to be spelt as nothing, this often: whoever makes something
of what cannot be understood makes findings of it."""
RADIO_DB = 6.0
"""How much sooner a radio drowns."""


def loss_of(model: Any, teacher: Any, speech: Speech, bank: Bank, seconds: float) -> Any:
    """One batch: the loss, and its parts for the log."""
    chosen = speech.batch(seconds)
    labels = speech.labels(chosen)
    count = len(chosen)
    clean = speech.clips(chosen, uniform(count, 0.93, 1.08, speech.sound), (0.35, 0.9))
    bank.renew(speech.sound)
    talk = torch.from_numpy(speech.talk[speech.texts[chosen]]).to(DEVICE)
    radio = some(count, 0.35, clean)[:, 0] & talk | some(count, 0.04, clean)[:, 0]
    sounds, over_db = worn(by_radio(clean, radio), bank)
    mute = torch.rand(count, device=DEVICE) < 0.035
    sounds = torch.where(mute[:, None], without_speech(count, sounds.shape[1], bank), sounds)
    drowned = (
        talk & (over_db[:, 0] < DROWNED_DB + RADIO_DB * radio) & some(count, DROWNED, clean)[:, 0]
    )
    mute = mute | drowned
    labels[mute, 1:] = torch.tensor([END] + [-100] * (labels.shape[1] - 2), device=DEVICE)
    asked, wanted = labels[:, :-1].clamp_min(0), labels[:, 1:]
    with torch.autocast(DEVICE, torch.bfloat16):
        with torch.no_grad():
            known = teacher.model.encoder(clean).last_hidden_state
            # only clips of plain English are shown to the published model's other half
            plain = talk & ~mute
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
