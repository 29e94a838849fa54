// What the reader of documents and the one of journals share: JSON, and being strict about it.

// Grades. "unknown" is this reader's own word for a finding whose grade it was not told: that may be
// anything, so it stands before all others.
export const WORST_FIRST = ["unknown", "unsafe", "repair", "treat", "cosmetic"];

const NAMES = {
  list: Array.isArray,
  object: isObject,
  text: (value) => typeof value === "string",
};

// Something that cannot be read without guessing; the message is one clause about it.
export class Refused extends Error {}

export function isObject(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

// The JSON object in these bytes: UTF-8 without a byte order mark. `what` is what to call it where it
// is refused.
export function parse(bytes, what) {
  let value;
  try {
    value = JSON.parse(new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes));
  } catch {
    throw new Refused(`${what} is not JSON`);
  }
  if (!isObject(value)) throw new Refused(`${what} is not a JSON object`);
  return value;
}

// A value of a JSON object, never one that JavaScript's objects have by themselves.
export function get(holder, key, otherwise) {
  return Object.hasOwn(holder, key) ? holder[key] : otherwise;
}

// A value of a JSON object that has to be a "list", an "object" or a "text". Without `otherwise` it
// has to be there.
export function ofType(holder, key, type, otherwise) {
  const value = get(holder, key, otherwise);
  if (!NAMES[type](value)) throw new Refused(`It holds no ${type} named ${key}`);
  return value;
}

// A flag that is left out is false; anything but a plain false counts as doubt.
export function isDoubtful(entry) {
  return get(entry, "doubtful", false) !== false;
}

// The values of these keys that are text, in the order of the keys.
export function textsOf(holder, keys) {
  return keys.map((key) => get(holder, key)).filter((value) => typeof value === "string");
}
