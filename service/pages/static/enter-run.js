// A run entered channel by channel. Every answer is kept in this browser at once; the run is sent when the last
// channel is answered and Send is pressed, and again until the server has it. Without this the form is one list.

import { LOST, SKIPPED, answer, bodyOf, keepDraft, newDraft, numberIn } from "./run-draft.js";
import { otherDrafts, placeOf, readDraft, scannedOf, undo } from "./run-draft.js";
import { askVerdict, attempt } from "./run-sending.js";
import { channelsIn, makeList, show, showFaults, tell } from "./run-walk.js";
import { says, saysNumber } from "./says.js";

const AGAIN = 3000;
const form = document.querySelector(".run-form");
const walk = document.querySelector(".walk");
const told = document.querySelector(".run-told");
const value = walk.querySelector(".walk-value");
const at = form.querySelector("#at");
const channels = channelsIn(form);
const ids = channels.map((channel) => channel.id);
const { trial, element, label } = form.dataset;
const round = Number(form.dataset.round);
const stored = readDraft(placeOf(trial, element, round));
const draft = stored || newDraft({ trial, element, label, round });
let index = next(-1);
let faults = {};
let sending = false;

function next(from) {
  const open = ids.map((_, place) => place).filter((place) => draft.entries[ids[place]] === undefined);
  return open.find((place) => place > from) ?? open[0] ?? null;
}

function refresh({ focus = true } = {}) {
  show(walk, draft, channels, index);
  showFaults(walk, channels, faults);
  at.value = draft.at || at.value;
  at.disabled = draft.state === "tried";
  if (!focus || draft.state === "tried") return;
  const place = index === null ? walk.querySelector("[data-does=send]") : value;
  place.focus({ preventScroll: true });
  if (index !== null) value.select();
}

function changed(place) {
  draft.state = "open";
  index = place;
  fault("");
  tell(told, keepDraft(draft) ? [] : [says("keeps-nothing")]);
  refresh();
}

function take(entry) {
  const here = index;
  delete faults[ids[here]];
  answer(draft, [ids[here]], entry);
  changed(next(here));
}

function fault(text) {
  walk.querySelector(".walk-fault").textContent = text;
}

function takeTyped() {
  const number = numberIn(value.value);
  const { lowest, highest } = form.dataset;
  const outside = (lowest && number < Number(lowest)) || (highest && number > Number(highest));
  if (number === null || outside) {
    const given = value.value.trim();
    fault(given ? says("not-taken", { given, allowed: allowed() }) : allowed());
    value.focus();
    return;
  }
  take(number);
}

function allowed() {
  return walk.querySelector("#walk-allowed").textContent;
}

const DOES = {
  step: (button) => take(Number(button.dataset.step)),
  take: takeTyped,
  lost: () => take(LOST),
  skip: () => take(SKIPPED),
  go: (button) => changed(Number(button.dataset.index)),
  undo: takeBack,
  rest: () => leave(ids.filter((id) => draft.entries[id] === undefined)),
  anew: beginAnew,
  minus: () => {
    value.value = value.value.startsWith("-") ? value.value.slice(1) : `-${value.value}`;
    value.focus();
  },
  send: queue,
  change: () => changed(next(-1)),
};

const KEYS = { [letter(".key-lost")]: "lost", [letter(".key-skip")]: "skip" };

function letter(place) {
  return walk.querySelector(place).textContent.toUpperCase();
}

function takeBack() {
  const channel = undo(draft);
  if (channel !== null) changed(ids.includes(channel) ? ids.indexOf(channel) : next(-1));
}

function leave(channelIds) {
  answer(draft, channelIds, SKIPPED);
  changed(null);
}

function beginAnew() {
  faults = {};
  answer(draft, Object.keys(draft.entries), undefined);
  changed(next(-1));
}

function press(event) {
  const button = event.target.closest("[data-does]");
  if (button) DOES[button.dataset.does](button);
}

function key(event) {
  if (event.target !== value || event.ctrlKey || event.metaKey || event.altKey) return;
  const whole = value.selectionStart === 0 && value.selectionEnd === value.value.length;
  const does = event.key === "Enter" ? "take" : KEYS[event.key.toUpperCase()];
  const back = event.key === "Backspace" && value.value === "";
  if (!(back || does === "take" || (does && whole))) return;
  event.preventDefault();
  DOES[back ? "undo" : does]();
}

function queue() {
  if (bodyOf(draft, ids) === null) {
    tell(told, [says("nothing-scanned")], { alarm: true });
    return;
  }
  draft.state = "queued";
  keepDraft(draft);
  send();
}

async function send() {
  if (sending) return;
  sending = true;
  const attempted = attempt(draft, form.dataset.sentTo, ids);
  if (draft.state === "tried") tell(told, [says("sending")]);
  refresh({ focus: false });
  const outcome = await attempted;
  sending = false;
  if (outcome.later) {
    notYet(outcome.later);
  } else if (outcome.refused) {
    refuse(outcome.refused);
  } else {
    done(outcome);
  }
}

function notYet(why) {
  const queued = draft.state === "queued";
  const buttons = queued ? [[says("change"), "change"]] : [];
  tell(told, [says("held"), why, ...(queued ? [] : [says("locked")])], { alarm: true, buttons });
  refresh({ focus: false });
  setTimeout(tryAgain, AGAIN);
}

function tryAgain() {
  if (!form.isConnected || draft.state === "open") return;
  if (navigator.onLine) {
    send();
  } else {
    setTimeout(tryAgain, AGAIN);
  }
}

function refuse(problem) {
  const sent = scannedOf(draft, ids);
  const general = [];
  for (const one of problem.errors || []) {
    const found = /^#\/readings\/(\d+)\/(value|received|channel)$/.exec(one.pointer || "");
    if (found) {
      faults[sent[Number(found[1])]] = one.detail;
    } else {
      general.push(one.detail);
    }
  }
  const first = ids.findIndex((id) => faults[id]);
  index = first >= 0 ? first : next(-1);
  const where = first >= 0 ? [says("mend-below")] : [];
  const said = general.length + where.length > 0 ? general : [problem.detail];
  tell(told, [says("refused"), ...new Set(said), ...where], { alarm: true });
  refresh();
}

function done({ kept, rows }) {
  walk.hidden = true;
  form.hidden = true;
  const page = form.dataset.address;
  const links = [[says("next-run"), `${page}/enter`], [says("to-trial"), page]];
  tell(told, [saysNumber("sent", rows, { batch: kept, element: label, round })], { links });
  told.querySelector("a").focus();
  askVerdict(trial);
}

async function others() {
  const list = document.createElement("div");
  told.before(list);
  const lines = await Promise.all(otherDrafts(draft).map(otherLine));
  const links = lines.filter((line) => line.link).map((line) => line.link);
  tell(list, lines.map((line) => line.text), { links });
}

async function otherLine(other) {
  const run = says("run", { element: other.label, round: other.round });
  const query = new URLSearchParams({ element: other.element, round: other.round });
  const link = [says("go-on", { run }), `${form.dataset.address}/enter?${query}`];
  if (other.state === "open") return { text: says("begun", { run }), link };
  const outcome = await attempt(other, form.dataset.sentTo, other.channels || ids);
  if (outcome.kept) return { text: says("now-sent", { run, batch: outcome.kept }) };
  return { text: says("waits", { run }), link };
}

function setUp() {
  makeList(walk, channels);
  form.querySelector(".run-rows").remove();
  form.querySelector(".plain-send").remove();
  walk.hidden = false;
  walk.addEventListener("click", press);
  told.addEventListener("click", press);
  walk.addEventListener("keydown", key);
  form.addEventListener("submit", (event) => event.preventDefault());
  at.addEventListener("change", () => {
    draft.at = at.value.trim();
    draft.atTyped = true;
    keepDraft(draft);
  });
  refresh();
  if (stored && draft.state !== "open") {
    send();
  } else if (stored && Object.keys(draft.entries).length > 0) {
    const count = ids.filter((id) => draft.entries[id] !== undefined).length;
    tell(told, [says("found-again", { done: count, count: ids.length, moment: draft.at.replace("T", " ") })]);
  }
  others();
}

setUp();
