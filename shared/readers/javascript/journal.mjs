// A journal, folded line by line: entries as they stand now, with the grade that was told last.
//
// The grades are the program's own, from `graded`; this reader has no rules. A line that it cannot be
// sure of stops it: skipping one could hide the worst.

import { createHash } from "node:crypto";

import { Refused, WORST_FIRST, get, isObject, ofType, parse } from "./parts.mjs";

const SAYS_LINES_ARE_LOST = ["changes_lost", "denied"];
const MAY_BE = "something may have been said";

// What the lines taken so far come to: `log` is its id; `closed`, that nothing was said since it was
// closed; `notes`, sentences on what is missing.
export class Journal {
  log = "?";
  closed = false;
  notes = [];
  #entries = new Map();
  #withdrawn = new Set();
  #number = 0;
  #seal = "0".repeat(64);

  // The entries that were not taken back, with the keys of an entry of a document.
  holding() {
    const there = [...this.#entries].filter(([name]) => !this.#withdrawn.has(name));
    return there.map(([, one]) => ({ ...Object.fromEntries(one.slots), ...one, slots: null }));
  }

  // One whole line, without its line feed. Returns what to tell of it, a sentence each; nothing for
  // a type of line that is not known. Refused if it is of a later version, damaged, or does not
  // follow the line before.
  take(line) {
    const fact = this.#checked(line);
    const said = this.notes.length;
    this.#note(fact);
    const touched = ofType(fact, "changes", "list", []).map((change) => this.#change(change));
    touched.push(...this.#grade(ofType(fact, "graded", "object", {})));
    const told = [...new Set(touched)].map((name) => this.#told(name));
    return [...this.notes.slice(said), ...told];
  }

  #checked(line) {
    this.#number += 1;
    const name = `Line ${this.#number}`;
    const fact = parse(line, name);
    if (![0, 1].includes(get(fact, "v")))
      throw new Refused(`${name} is of a version that this reader does not know: get a newer one`);
    if (get(fact, "prev") !== this.#seal || get(fact, "seq") !== this.#number)
      throw new Refused(`${name} does not follow the line before it: run voicelog verify`);
    this.#seal = createHash("sha256").update(line).digest("hex");
    return fact;
  }

  // What the line says of the log as a whole.
  #note(fact) {
    const kind = get(fact, "type");
    if (kind === "opened") this.log = ofType(fact, "log_id", "text");
    if (kind === "closed" || kind === "utterance") this.closed = kind === "closed";
    if (Object.hasOwn(fact, "recovered_from"))
      this.notes.push("This log was recovered from a damaged one; some of it may be lost.");
    if (kind === "left-out" || SAYS_LINES_ARE_LOST.some((key) => Object.hasOwn(fact, key)))
      this.notes.push(`Line ${this.#number} is lost: it may have told the worst.`);
    if (kind === "gap")
      this.notes.push(`${length(get(fact, "lost_s"))} of sound is missing: ${MAY_BE}.`);
  }

  // Takes one change in; returns the id of its entry.
  #change(change) {
    const line = `Line ${this.#number}`;
    if (!isObject(change)) throw new Refused(`${line} holds a change that is not an object`);
    const [action, told] = [get(change, "do"), get(change, "entry")];
    const name = isObject(told) ? get(told, "id") : told;
    const known = this.#entries.get(name);
    if (typeof name !== "string" || (action === "add") === (known !== undefined))
      throw new Refused(`${line} does not fit what came before: run voicelog verify`);
    if (action === "add" || action === "replace")
      this.#entries.set(name, made(ofType(change, "entry", "object"), known));
    else if (action === "amend") amend(known, change);
    else if (action === "withdraw") this.#withdrawn.add(name);
    else if (action === "restore") this.#withdrawn.delete(name);
    else throw new Refused(`${line} holds a change that this reader does not know`);
    return name;
  }

  // Takes the grades in that were told; returns the ids of their entries.
  #grade(graded) {
    const names = Object.keys(graded).filter((name) => this.#entries.has(name));
    for (const name of names) {
      const told = ofType(graded, name, "object");
      const entry = this.#entries.get(name);
      entry.grade = get(told, "grade", null);
      entry.unproven = get(told, "unproven") === true;
    }
    return names;
  }

  // How an entry stands now. That it was unsafe before is never left out.
  #told(name) {
    const entry = this.#entries.get(name);
    const told = entry.kind === "finding" ? entry.grade : entry.kind;
    const grade = typeof told === "string" ? told : "unknown";
    const severe = WORST_FIRST.slice(0, 2).includes(grade);
    const place = PLACE.map((key) => entry.slots.get(key)).filter((value) => typeof value === "string");
    const gone = this.#withdrawn.has(name);
    const marks = (entry.doubtful ? ", DOUBTFUL" : "") + (gone ? ", taken back" : "");
    const before = entry.shown;
    entry.shown = grade;
    const softer = before === "unsafe" && (grade !== "unsafe" || gone);
    const words = [severe ? grade.toUpperCase() : grade, name, ...place].join(" ");
    return words + marks + (softer ? ", WAS UNSAFE" : "");
  }
}

const PLACE = ["zone", "side", "face", "condition"];

function length(lostS) {
  const known = typeof lostS === "number" && 0 <= lostS && lostS < 1e6;
  return known ? `About ${Math.ceil(lostS)} s` : "Some";
}

function isEmpty(value) {
  return Array.isArray(value) && value.length === 0;
}

// An entry as it was added, or put in place of another: that one's grade holds until it is told anew.
function made(entry, before) {
  return {
    id: entry.id,
    slots: new Map(Object.entries(ofType(entry, "slots", "object", {}))),
    kind: get(entry, "kind", null),
    reason: get(entry, "reason", null),
    unplaced: get(entry, "unplaced", false) !== false,
    doubtful: !isEmpty(get(entry, "doubts", [])),
    grade: before?.grade ?? null,
    unproven: before?.unproven ?? false,
    shown: before?.shown ?? null,
  };
}

// `drop` goes, then `set` replaces or adds; kind and doubts where they are given.
function amend(entry, change) {
  for (const key of ofType(change, "drop", "list", [])) entry.slots.delete(key);
  for (const [key, value] of Object.entries(ofType(change, "set", "object", {})))
    entry.slots.set(key, value);
  entry.unplaced = entry.unplaced && !entry.slots.has("zone");
  if (get(change, "kind", entry.kind) !== entry.kind)
    Object.assign(entry, { kind: change.kind, reason: null });
  if (Object.hasOwn(change, "doubts")) entry.doubtful = !isEmpty(change.doubts);
}
