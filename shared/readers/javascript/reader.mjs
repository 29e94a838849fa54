// A worked reader of what voicelog hands over; it needs Node 18 or later and no package.
//
//     node reader.mjs FILE...                  what a finished document, or a journal so far, says
//     node reader.mjs --json FILE...           the same for a program, one object a line
//     node reader.mjs --follow journal.jsonl   each entry as it is said, until the log is closed
//
// The files beside it belong to it; ../python holds the same, name by name. Take either over into
// your own program. The exit code is 1 where something was refused: one sentence on standard error
// says why.

import { closeSync, openSync, readFileSync, readSync, realpathSync, writeSync } from "node:fs";
import { setTimeout as sleep } from "node:timers/promises";
import { fileURLToPath } from "node:url";

import { Journal } from "./journal.mjs";
import { Refused, WORST_FIRST, get, isDoubtful, isObject, ofType, parse } from "./parts.mjs";
import { asText, shown } from "./wording.mjs";

const KEYS = ["entry", "zone", "side", "face", "condition", "why", "reason"];
const LINE_FEED = 10;

// Reads what the command line names; returns the exit code.
async function main(args) {
  const flags = args.filter((one) => one === "--json" || one === "--follow");
  const paths = args.filter((one) => !one.startsWith("--"));
  if (!paths.length || flags.length + paths.length < args.length || flags.length > 1) {
    console.error("usage: reader.mjs [--json | --follow] FILE...");
    return 2;
  }
  let code = 0;
  for (const path of paths)
    code = Math.max(code, await tell(path, flags.includes("--json"), flags.includes("--follow")));
  return code;
}

// One file; what is refused is told in one sentence, never half read.
async function tell(path, asJson, live) {
  try {
    const summary = live ? await follow(path) : summaryOf(path);
    print(asJson ? ascii(summary) : asText(summary));
    return 0;
  } catch (fault) {
    if (!(fault instanceof Refused) && fault.syscall === undefined) throw fault;
    const why = fault instanceof Refused ? fault.message : "It cannot be opened";
    if (asJson) print(ascii({ refused: why }));
    console.error(shown(`${path}: ${why}.`));
    return 1;
  }
}

// Written at once, so that nothing is left behind where the program ends.
function print(text) {
  const bytes = Buffer.from(text + "\n");
  for (let at = 0; at < bytes.length; ) at += writeSync(1, bytes, at);
}

// JSON with everything beyond ASCII escaped.
function ascii(value) {
  const escaped = (unit) => "\\u" + unit.charCodeAt(0).toString(16).padStart(4, "0");
  return JSON.stringify(value).replace(/[\u0080-\uffff]/g, escaped);
}

// What a file says: a journal by its name, anything else as a document.
export function summaryOf(path) {
  const data = readFileSync(path);
  if (!path.endsWith(".jsonl")) return ofDocument(parse(data, "It"));
  const [lines, torn] = wholeLines(data);
  const journal = new Journal();
  for (const line of lines) journal.take(line);
  return ofJournal(journal, torn.length > 0);
}

// Tells each entry as it is said, and sums up when the log is closed. A line is taken when its line
// feed is there; what stands behind the last one is not yet whole.
export async function follow(path) {
  const journal = new Journal();
  const file = openSync(path, "r");
  try {
    let [lines, rest] = [[], Buffer.alloc(0)];
    while (!journal.closed) {
      [lines, rest] = wholeLines(Buffer.concat([rest, more(file)]));
      for (const line of lines) for (const told of journal.take(line)) print(shown(told));
      if (!lines.length) await sleep(200);
    }
  } finally {
    closeSync(file);
  }
  return ofJournal(journal, false);
}

// What was written to the file since.
function more(file) {
  const chunk = Buffer.alloc(65536);
  return chunk.subarray(0, readSync(file, chunk));
}

// The lines that end with a line feed, without it, and what stands behind the last one.
function wholeLines(bytes) {
  const lines = [];
  let start = 0;
  for (let end; (end = bytes.indexOf(LINE_FEED, start)) >= 0; start = end + 1)
    lines.push(bytes.subarray(start, end));
  return [lines, bytes.subarray(start)];
}

// What an inspection, or an answer, says.
export function ofDocument(document) {
  const contract = get(document, "contract", "1.0");
  if (typeof contract !== "string") throw new Refused("Its contract is not a text");
  if (contract.split(".")[0] !== "1")
    throw new Refused(`It follows contract ${contract}, and this reader knows 1: get a newer one`);
  const entries = ofType(document, "entries", "list");
  const verdict = ofType(document, "verdict", "object");
  const told = get(document, "log");
  const log = isObject(told) ? told : {};
  const parts = ["drive", "work", "tier"].map((name) => [name, ofType(verdict, name, "text")]);
  return {
    ...head(get(log, "id"), get(log, "closed") === true, entries),
    open: ofType(verdict, "could_change", "list").map((gap) => place(gap)),
    verdict: Object.fromEntries(parts),
    notes: sentences(document),
  };
}

// What is to be shown with every log; an answer has nothing of it.
function sentences(document) {
  const told = [...ofType(document, "cautions", "list", []), get(document, "notice")];
  return told.filter((one) => typeof one === "string");
}

// What a journal says so far. Which places nobody spoke of, and the verdict, it does not tell.
export function ofJournal(journal, torn) {
  const holding = journal.holding();
  const notes = torn ? ["The last line is not whole; it was left aside."] : [];
  return {
    ...head(journal.log, journal.closed, holding),
    open: holding.flatMap((entry) => open(entry).map((why) => place(entry, why))),
    notes: [...journal.notes, ...notes],
  };
}

// The findings, the worst first, and how many there are of each grade.
function head(log, closed, entries) {
  if (!entries.every(isObject)) throw new Refused("One of its entries is not an object");
  const found = entries.filter((entry) => get(entry, "kind") === "finding").map(finding);
  const rank = (one) => WORST_FIRST.indexOf(one.grade);
  found.sort((one, other) => rank(one) - rank(other));
  const count = (grade) => [grade, found.filter((one) => one.grade === grade).length];
  const grades = Object.fromEntries(WORST_FIRST.map(count));
  return { log: typeof log === "string" ? log : "?", closed, grades, findings: found };
}

// A doubtful one keeps its grade: it may be misheard, and it may as well be true.
function finding(entry) {
  const grade = get(entry, "grade");
  return {
    ...place(entry),
    grade: WORST_FIRST.includes(grade) ? grade : "unknown",
    doubtful: isDoubtful(entry),
    after_signing: get(entry, "after_signing", false) !== false,
  };
}

// Why an entry needs another look.
function open(entry) {
  const doubtful = (isDoubtful(entry) && entry.kind !== "remark") || entry.unplaced;
  return [
    ...(entry.kind === "not-seen" ? ["not-seen"] : []),
    ...(entry.unproven && entry.kind === "finding" ? ["unproven"] : []),
    ...(doubtful ? ["doubtful"] : []),
  ];
}

// Where something is, as far as that is known; unknown keys are left behind.
function place(one, why) {
  if (!isObject(one)) throw new Refused("One of its open places is not an object");
  const entry = get(one, "id", get(one, "entry"));
  const told = { ...one, entry, ...(why ? { why } : {}) };
  const known = KEYS.filter((key) => typeof get(told, key) === "string");
  return Object.fromEntries(known.map((key) => [key, told[key]]));
}

const program = process.argv[1] ? realpathSync(process.argv[1]) : "";
if (program === fileURLToPath(import.meta.url)) process.exitCode = await main(process.argv.slice(2));
