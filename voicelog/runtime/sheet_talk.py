"""Ordinary talk for a recording sheet: what people say in a shop that is no report of the metal.

Written for the sheet alone: nothing was tuned on these lines, and they stay out of every other list.
Some have words of the trade in them, because talk has.
"""

from __future__ import annotations

TALK = (
    "did anyone order more gloves, we are down to the last box",
    "I said ten o'clock and he turned up at half past eleven",
    "hang on, I will fetch the long extension lead",
    "that coffee has been standing there since breakfast",
    "can you hold the lamp a bit higher for me",
    "my daughter has her swimming lesson this afternoon",
    "who parked the trailer across the gate again",
    "put the bill in the drawer and I will look at it later",
    "they have moved the match to Sunday evening",
    "the compressor man comes on Thursday to change the belt",
    "is the kettle on, I could murder a cup of tea",
    "we should sweep up before the boss gets back",
    "do you think we will find any holes in this one",
    "the last one that came in was rotten from end to end",
    "tell him I will ring back when I have looked at it",
    "I left my good torch on the roof of the van",
    "it is meant to snow at the weekend",
    "mind your head on that arm when you stand up",
    "what does a sill cost these days, any idea",
    "if the rail were cracked we would have to send it back",
    "the phone keeps cutting out in this corner",
    "pass me the small scraper, no, the other one",
    "I have not slept well, the neighbours had a party",
    "she wants it ready by Friday, which is not going to happen",
)
"""A line each, in no order."""
