"""What the written reference says about other languages."""

from __future__ import annotations

LANGUAGES = """\
## Another language

A grammar of another language is a folder of its own: `--grammar FOLDER`, the variable
`VOICELOG_GRAMMAR` or the setting `grammar`. It holds `words/*.toml`; a map or severity table that it
has none of is the shipped one. Names of the shipped places go into its `overlays/*.toml` with
`forget_names = true`, so that roles, cavities and drawing stay in one file. German ships as an
example in `grammar/de`, and its name is enough:

```sh
voicelog read --grammar de "linker Rahmenträger vorne, Loch fünfundzwanzig Millimeter"
```

Numbers are read by the program in English. Words for them are data, put into English where they
stand at a number and left alone elsewhere:

| class | what to list under `say` |
|---|---|
| `number` | the words of one number; `value` is the number or a fraction. 100 and 1000 may be multiplied ("zwei hundert fünf") |
| `unit` | the words of a unit, understood behind a number |
| `point` | the word for the decimal sign; `value` is the sign written in figures. With `,` the figures "2,5" are one number |
| `article` | words that mean one before a unit ("ein Millimeter") and nothing elsewhere |
| `amount` | words at numbers: `about`, `between`, `and`, `to`, `by` |
| `measuring` | words that only tell the recogniser what to expect |

Letters with marks are kept, and composed and decomposed forms are the same. Inflected forms have to
be written out: only an ending "s" is undone.

**What works in German**, held by a test: places with their side and end, all conditions, faces and
parts, probe results early and late, negation before its word ("kein Rost, keine Löcher"), hedges,
sizes with decimals, fractions and ranges, thickness against nominal, counts, distances to a mounting,
repairs said of the past, corrections, *disregard*, not seen, questions and talk.

**What does not**, because the program's idea of a sentence is an English one:

- A negation behind its word is not seen: "Rost ist keiner da" and "Löcher sehe ich nicht" become
  findings. Say "kein Rost".
- A place that follows its condition, with a side before it, is joined by English prepositions only:
  "links Rost am Schweller" goes to the place spoken of before. Say the place first.
- A bare "no" as a repair is known in English; elsewhere list phrases such as "nein, die" under `act`
  `amend`.
- Words of the kind of "the left one", a breath such as "right, …", and "two mil left" are English.
- Coins, sheet gauges said as such, shares of a surface ("a third of it") and the spelling alphabet
  are English.
- Likeness by sound uses English spelling and sounds: a German mishearing is found less often than an
  English one. List the usual ones under `misheard`.
- The text of an entry shows numbers as they were put ("25 mm"); the words heard stand in the log.
- What the program itself says (grades, reasons, commands) is English; titles of places are yours.
- The built-in ear hears English only: give a Vosk model of the language with `--model`.
"""
