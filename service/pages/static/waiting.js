// Looks whether a verdict that is being worked out is there, and then loads the page again.

import { ask, go } from "./access.js";

const waiting = document.querySelector("[data-watched]");

async function look() {
  if (!waiting.isConnected) return;
  try {
    const answer = await ask(waiting.dataset.watched, { headers: { Accept: "application/json" } });
    const analysis = await answer.json();
    if (analysis.finished_at) {
      go(location.href);
      return;
    }
    const stage = waiting.querySelector(`[data-stage="${analysis.stage}"]`);
    if (stage) waiting.querySelector("p").textContent = stage.value;
  } catch {
    // the next look may find the server again
  }
  setTimeout(look, 1500);
}

if (waiting) setTimeout(look, 1000);
