// A summary in words for people, harmless on any terminal.

import { WORST_FIRST, textsOf } from "./parts.mjs";

// What could steer a terminal, hide, or turn the reading direction round.
const UNSEEMLY =
  /[\u0000-\u001f\u007f-\u009f\u00ad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ud800-\udfff]/gu;

// A summary for people.
export function asText(summary) {
  const state = summary.closed ? "closed" : "still open, or never closed";
  const counts = Object.entries(summary.grades).filter(([, count]) => count);
  const told = counts.map(([grade, count]) => `${count} ${grade}`).join(", ") || "none";
  const open = summary.open.map((one) => `  ${where(one)}: ${why(one)}`);
  const lines = [`Log ${summary.log}, ${state}`, ...summary.findings.map(line), `Findings: ${told}`];
  if (summary.verdict) {
    const { drive, work, tier } = summary.verdict;
    lines.push(`Verdict: ${drive}; work: ${work}; overall: ${tier}`, "Could still change it:");
  } else lines.push("To be looked at or listened to again:");
  lines.push(...(open.length ? open : ["  nothing"]));
  if (!summary.verdict)
    lines.push("The verdict, and the places nobody spoke of, stand in the finished document only.");
  return [...lines, ...summary.notes].map(shown).join("\n");
}

function line(found) {
  const marks =
    (found.doubtful ? ", DOUBTFUL" : "") + (found.after_signing ? ", CHANGED AFTER SIGNING" : "");
  const { grade } = found;
  const told = WORST_FIRST.indexOf(grade) < 2 ? grade.toUpperCase() : grade;
  return `  ${told} ${where(found)}${marks}`;
}

function where(one) {
  return textsOf(one, ["entry", "zone", "side", "face", "condition"]).join(" ") || "?";
}

// Why it is open, in the word of the contract, and the inspector's reason where there is one.
function why(one) {
  return (one.why ?? "?") + (one.reason ? ` (${one.reason})` : "");
}

// Text that does nothing on a terminal.
export function shown(text) {
  return text.replace(UNSEEMLY, "\ufffd");
}
