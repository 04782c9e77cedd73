// What is seen while a run is entered: the channel that is asked for, the list of all, and what was answered.

import { LOST, SKIPPED } from "./run-draft.js";
import { filled, says } from "./says.js";

/** The channels of the form in their order, each with its name and its RF channel. */
export function channelsIn(form) {
  return [...form.querySelectorAll(".run-row")].map((row) => ({
    id: row.dataset.channel,
    name: row.querySelector(".row-name").textContent,
    signal: row.querySelector(".row-signal").textContent,
  }));
}

/** Make the list of channels, a button each. */
export function makeList(walk, channels) {
  const list = walk.querySelector(".walk-list");
  list.replaceChildren(...channels.map((channel, index) => entryOf(channel, index)));
}

function entryOf(channel, index) {
  const entry = document.createElement("li");
  const button = document.createElement("button");
  button.type = "button";
  button.dataset.does = "go";
  button.dataset.index = index;
  button.append(part("walk-name", channel.name), part("walk-read", ""));
  entry.append(button);
  return entry;
}

function part(kind, text) {
  const span = document.createElement("span");
  span.className = kind;
  span.textContent = text;
  return span;
}

/** Show the draft as it is: the channel at `index`, or that all are answered where `index` is null. */
export function show(walk, draft, channels, index) {
  const answered = channels.filter((channel) => draft.entries[channel.id] !== undefined).length;
  walk.querySelector(".walk-done").value = answered;
  walk.querySelector(".walk-pad").hidden = index === null;
  walk.querySelector(".walk-now").hidden = index === null;
  walk.querySelector(".walk-whole").hidden = index !== null;
  walk.querySelector(".walk-all").disabled = draft.state === "tried";
  walk.querySelector("[data-does=undo]").disabled = draft.past.length === 0;
  walk.querySelector("[data-does=rest]").disabled = answered === channels.length;
  walk.querySelector("[data-does=anew]").disabled = answered === 0 || draft.state === "tried";
  if (index !== null) showChannel(walk, channels[index], index, draft.entries[channels[index].id]);
  showList(walk, draft, channels, index);
}

function showChannel(walk, channel, index, entry) {
  const count = walk.querySelector(".walk-count");
  count.textContent = filled(count.dataset.text, { number: index + 1 });
  walk.querySelector(".walk-channel").textContent = channel.name;
  walk.querySelector(".walk-signal").textContent = channel.signal;
  walk.querySelector(".walk-value").value = typeof entry === "number" ? String(entry) : "";
  mark(walk.querySelectorAll("[data-does=step]"), (button) => Number(button.dataset.step) === entry);
  mark(walk.querySelectorAll("[data-does=lost]"), () => entry === LOST);
  mark(walk.querySelectorAll("[data-does=skip]"), () => entry === SKIPPED);
}

function read(entry) {
  if (entry === LOST) return says("lost");
  if (entry === SKIPPED) return says("skipped");
  return entry === undefined ? "" : String(entry);
}

function mark(buttons, isChosen) {
  for (const button of buttons) button.setAttribute("aria-pressed", String(isChosen(button)));
}

function showList(walk, draft, channels, index) {
  walk.querySelectorAll(".walk-list button").forEach((button, place) => {
    const entry = draft.entries[channels[place].id];
    button.querySelector(".walk-read").textContent = read(entry);
    button.classList.toggle("answered", entry !== undefined);
    button.setAttribute("aria-current", place === index ? "step" : "false");
  });
}

/** Put what is wrong with channels beside them, of {id: what}; an empty object takes it all away. */
export function showFaults(walk, channels, faults) {
  walk.querySelectorAll(".walk-list li").forEach((entry, place) => {
    entry.querySelectorAll(".fault").forEach((told) => told.remove());
    const told = faults[channels[place].id];
    entry.classList.toggle("at-fault", Boolean(told));
    if (told) entry.append(part("fault", told));
  });
}

/** Say something above the channels; links are [text, address], buttons [text, what it does]. */
export function tell(place, sentences, { alarm = false, links = [], buttons = [] } = {}) {
  const box = document.createElement("div");
  box.className = alarm ? "trouble" : "told";
  for (const sentence of sentences) box.append(paragraph([sentence]));
  const actions = [...links.map(linkOf), ...buttons.map(buttonOf)];
  if (actions.length > 0) box.append(paragraph(actions, "buttons"));
  place.replaceChildren(...(sentences.length > 0 ? [box] : []));
}

function paragraph(content, kind = "") {
  const made = document.createElement("p");
  made.className = kind;
  made.append(...content);
  return made;
}

function linkOf([text, address]) {
  const made = part("button", text);
  const link = document.createElement("a");
  link.className = made.className;
  link.textContent = text;
  link.href = address;
  return link;
}

function buttonOf([text, does]) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "second";
  button.textContent = text;
  button.dataset.does = does;
  return button;
}
