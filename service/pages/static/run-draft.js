// A run that is being entered, kept in this browser until the server has it: what was answered for each channel,
// the steps to take back, when the run was begun, and the key under which it is sent.

const PREFIX = "aerial-assay-run:";
export const LOST = "nothing found";
export const SKIPPED = "not scanned";

/** The place of a run's draft in the store of this browser. */
export function placeOf(trial, element, round) {
  return PREFIX + JSON.stringify([trial, element, round]);
}

/** A draft without answers. `state` is open, queued (wants to be sent) or tried (may have arrived). */
export function newDraft(run) {
  return { ...run, key: newKey(), at: "", atTyped: false, entries: {}, past: [], state: "open" };
}

function newKey() {
  const bytes = crypto.getRandomValues(new Uint8Array(16)); // there without https too
  return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** The draft at a place, null where there is none or none that can be read. */
export function readDraft(place) {
  try {
    const draft = JSON.parse(localStorage.getItem(place));
    return draft && draft.key && draft.entries && Array.isArray(draft.past) ? draft : null;
  } catch {
    return null;
  }
}

/** Keep the draft; false where this browser keeps nothing. */
export function keepDraft(draft) {
  try {
    localStorage.setItem(placeOf(draft.trial, draft.element, draft.round), JSON.stringify(draft));
    return true;
  } catch {
    return false;
  }
}

/** Forget the draft. */
export function dropDraft(draft) {
  try {
    localStorage.removeItem(placeOf(draft.trial, draft.element, draft.round));
  } catch {
    // nothing was kept
  }
}

/** The other drafts of a trial that hold something. */
export function otherDrafts(draft) {
  const own = placeOf(draft.trial, draft.element, draft.round);
  let places = [];
  try {
    places = Object.keys(localStorage).filter((place) => place.startsWith(PREFIX) && place !== own);
  } catch {
    // nothing is kept
  }
  return places
    .map(readDraft)
    .filter((other) => other && other.trial === draft.trial && Object.keys(other.entries).length > 0);
}

/** Answer for channels: a number, LOST, SKIPPED, or undefined for no answer. One step, taken back as one. */
export function answer(draft, channels, entry) {
  if (Object.keys(draft.entries).length === 0 && !draft.atTyped) draft.at = localTime(new Date());
  draft.past.push(channels.map((channel) => [channel, draft.entries[channel] ?? null]));
  for (const channel of channels) put(draft, channel, entry);
}

/** Take the last step back; the channel it was about, null where there is none. */
export function undo(draft) {
  const step = draft.past.pop();
  if (!step) return null;
  for (const [channel, entry] of step) put(draft, channel, entry ?? undefined);
  return step[0][0];
}

function put(draft, channel, entry) {
  if (entry === undefined) {
    delete draft.entries[channel];
  } else {
    draft.entries[channel] = entry;
  }
}

/** The body of the batch, the same bytes whenever it is made; null where nothing was scanned. */
export function bodyOf(draft, channels) {
  const scanned = scannedOf(draft, channels);
  const shared = { element: draft.element, round: draft.round, ...(draft.at ? { at: draft.at } : {}) };
  const readings = scanned.map((channel) => {
    const entry = draft.entries[channel];
    return { ...shared, channel, ...(entry === LOST ? { received: false } : { value: entry }) };
  });
  return readings.length > 0 ? JSON.stringify({ readings }) : null;
}

/** The channels that are sent, in their order. */
export function scannedOf(draft, channels) {
  return channels.filter((channel) => draft.entries[channel] !== undefined && draft.entries[channel] !== SKIPPED);
}

/** The number that was typed, a decimal comma taken as one; null for what is none. */
export function numberIn(text) {
  const bare = text.trim().replace("\u2212", "-").replace(/^([^.,]*),([^.,]*)$/, "$1.$2");
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(bare) ? Number(bare) : null;
}

/** A time on the clock of this device with its zone (RFC 3339). */
export function localTime(moment) {
  const minutes = -moment.getTimezoneOffset();
  const two = (number) => String(Math.trunc(Math.abs(number))).padStart(2, "0");
  const shifted = new Date(moment.getTime() + minutes * 60000).toISOString().slice(0, 19);
  return `${shifted}${minutes < 0 ? "-" : "+"}${two(minutes / 60)}:${two(minutes % 60)}`;
}
