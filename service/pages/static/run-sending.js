// Sends a run that was entered, under its key: however often that is repeated, it is kept once.

import { ask } from "./access.js";
import { bodyOf, dropDraft, keepDraft } from "./run-draft.js";
import { says } from "./says.js";

const LATER = new Set([408, 409, 425, 429, 500, 502, 503, 504, 507]);

/**
 * One attempt. Answers {kept: batch}, {later: why} for what is to be tried again, or {refused: problem}.
 * The draft says "tried" from before the request until there is an answer, so that it is not changed meanwhile:
 * what the server may hold already and what is sent again must be the same.
 */
export async function attempt(draft, sentTo, channels) {
  if (!navigator.onLine) return { later: says("no-connection") };
  draft.state = "tried";
  draft.channels = channels;
  keepDraft(draft);
  try {
    const answer = await post(draft, sentTo, channels);
    return await told(draft, answer);
  } catch {
    return { later: says("no-answer") };
  }
}

function post(draft, sentTo, channels) {
  const headers = { "Content-Type": "application/json", Accept: "application/json", "Idempotency-Key": draft.key };
  return ask(sentTo, { method: "POST", headers, body: bodyOf(draft, channels) });
}

async function told(draft, answer) {
  const account = await answer.json();
  if (answer.ok) {
    dropDraft(draft);
    return { kept: account.batch, rows: account.rows };
  }
  if (LATER.has(answer.status)) return { later: says("server-says", { detail: account.detail }) };
  draft.state = "open";
  keepDraft(draft);
  return { refused: account };
}

/** Have the verdict worked out with the new run; where that cannot be asked for now, the trial's page offers it. */
export async function askVerdict(trial) {
  try {
    await ask(`/v1/trials/${trial}/analyses`, { method: "POST", headers: { Prefer: "respond-async" } });
  } catch {
    // the run is kept, which is what counts
  }
}
