// Keeps a board fresh: asks the server now and then whether it has changed. Where the connection is lost it says
// so and as of when the board holds, tries again ever less often, and gives up after some hours.

import { ask } from "./access.js";
import { filled } from "./says.js";

const MOST_FAILURES = 240;
const SLOWEST = 4;
const told = document.querySelector(".board-told");
let board = document.querySelector(".board");
let failures = 0;

function clock(moment) {
  return moment.toLocaleTimeString([], { hour: "2-digit", minute: "2-digit", second: "2-digit", hourCycle: "h23" });
}

function asOf(moment) {
  const place = board.querySelector("time");
  place.dateTime = moment.toISOString();
  place.textContent = clock(moment);
}

function seconds() {
  return Number(board.dataset.seconds) * Math.min(1 + failures, SLOWEST);
}

async function look() {
  if (!board.isConnected) return;
  try {
    const headers = { Accept: "text/html", "If-None-Match": `"${board.dataset.edition}"` };
    const answer = await ask(location.href, { headers });
    if (!answer.ok && answer.status !== 304) throw new Error(String(answer.status));
    if (answer.ok) await put(answer);
    asOf(new Date());
    failures = 0;
    told.textContent = "";
  } catch {
    failures += 1;
    told.textContent = lost();
  }
  if (failures < MOST_FAILURES) setTimeout(look, seconds() * 1000);
}

async function put(answer) {
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const fresh = page.querySelector(".board");
  if (!fresh) throw new Error("no board");
  board.replaceWith(fresh);
  board = fresh;
  document.title = page.title;
}

function lost() {
  const { lost: again, givenUp } = told.dataset;
  return filled(failures < MOST_FAILURES ? again : givenUp, { time: board.querySelector("time").textContent });
}

asOf(new Date(board.querySelector("time").dateTime));
setTimeout(look, seconds() * 1000);
