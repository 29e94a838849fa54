"""Sentences as a radio or a colleague says them, full of the trade's words and about no vehicle at all.

``python texts.py`` draws from them, so that the ear learns to spell them as they are instead of bending them
towards findings. Rails strike, budgets have holes, teams have left wings. All of it is invented here; none of it
stands in the speech set.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterator

WORDS: dict[str, tuple[str, ...]] = {
    "time": ("this morning", "tonight", "on Sunday", "after the news", "at half past five", "last winter", "by the weekend",
             "around noon", "later today", "in early spring", "since Monday", "before lunch", "all afternoon"),
    "where": ("in the north", "by the harbour", "near the old mill", "at the town hall", "along the coast", "up the valley",
              "outside the station", "on the ring road", "at the market", "down by the lake", "in the next village"),
    "who": ("the mayor", "her brother", "a spokesman", "the home side", "our next guest", "the council", "my neighbour",
            "the choir", "a retired teacher", "the driver", "the farmers", "the whole family", "his manager", "the crew"),
    "thing": ("the bridge", "the budget", "the record", "the old theatre", "the garden wall", "the kitchen", "the second half",
              "the chorus", "the cake", "the contract", "the fence", "the railway", "the roof of the church", "the ferry"),
    "did": ("left", "cracked", "patched up", "painted", "closed", "opened", "missed", "held", "covered", "sold", "checked",
            "broke", "repaired", "finished", "ran through", "looked into", "cut", "lost"),
    "how": ("badly", "again", "without a word", "in one go", "for good", "at the last minute", "with a hammer and some luck",
            "twice", "on the left wing", "inside an hour", "from front to rear", "rather well", "on both sides"),
    "quality": ("solid", "soft", "thin", "rusty", "clean", "good", "poor", "light", "heavy", "dry", "wet", "cold", "firm",
                "dull", "loose", "bright", "rotten", "fair", "rough", "grey"),
    "number": ("two", "three", "four", "five", "seven", "nine", "ten", "twelve", "fifteen", "twenty", "thirty five", "sixty",
               "two hundred", "a thousand", "a dozen", "half a dozen"),
    "unit": ("percent", "miles", "minutes", "degrees", "points", "pounds", "metres", "goals", "years", "litres", "tickets",
             "inches of snow", "millimetres of rain", "seats", "pages"),
    "food": ("soup", "bread", "apples", "a pinch of salt", "the onions", "cold butter", "rhubarb", "a spoon of honey"),
    "job": ("plumber", "nurse", "baker", "ferryman", "goalkeeper", "tailor", "gardener", "pilot", "librarian"),
}  # fmt: skip

FRAMES = (
    "{who} {did} {thing} {time}",
    "{who} {did} {thing} {how}, {where}",
    "there are {number} {unit} to go and {who} has {did} {how}",
    "and {time} {who} will be talking about {thing}",
    "that was number {number} in the charts and it sounds {quality} to me",
    "traffic is {quality} {where}, with delays of {number} minutes",
    "the left lane is closed {where} until {number} o'clock",
    "expect {quality} weather {time}, with {number} {unit} {where}",
    "a hole in {thing} has cost {who} {number} {unit}",
    "they say {thing} is {quality}, but {who} says it is not",
    "call us {time} and you could win {number} tickets",
    "our {quality} offer ends {time}, so don't miss it",
    "add {food}, stir it through and leave it for {number} minutes",
    "{food} first, then {food}, and scrape the pan at the end",
    "I spoke to a {job} {where} who had {did} {thing}",
    "the inside story is that {who} {did} {thing} {how}",
    "no, {who} never {did} anything {how}",
    "it's {number} all at the break and {who} looks {quality}",
    "front row seats are {number} pounds, the rear stalls are less",
    "the rail strike goes on {time}, says {who}",
    "{who} will mount a challenge {time}",
    "have you seen {thing} {time}, it's gone {quality}",
    "what did {who} say about {thing}",
    "he was on the right side of {thing} when it {did}",
    "same again next week, same place, {number} o'clock",
    "we'll be back with another one {time}",
    "I told {who} it was {quality}, and there was another one {where}",
    "you can pick it up {where} for {number} pounds",
    "my {quality} old coat is through at the elbows",
    "she cut her hair {time} and it looks {quality}",
    "did you get the {quality} one or the other one",
    "put the kettle on, {who} is here",
    "and the winner by {number} points is {who}",
    "the patient is {quality} and has had the plate taken out of his arm",
    "a crack team of {number} will look into {thing}",
    "the tank museum opens {time} with {number} new rooms",
    "stay on the line, we have {number} callers waiting",
    "the top of the hill was {quality} {time}",
    "half of {thing} has gone, the other half is {quality}",
    "if you can see {thing} from where you are, give us a ring",
)
"""A slot in braces is filled by one of its words."""


def broadcast(rng: random.Random) -> Iterator[str]:
    """One sentence after another, sometimes two or three of them in one breath."""
    while True:
        yield ", ".join(_sentence(rng) for _ in range(rng.choices((1, 2, 3), (6, 3, 1))[0]))


def _sentence(rng: random.Random) -> str:
    return re.sub(r"\{(\w+)\}", lambda slot: rng.choice(WORDS[slot[1]]), rng.choice(FRAMES))
