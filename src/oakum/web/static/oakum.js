/* Small comforts. Every page works without this file. */
"use strict";

/* The water level: slider, number field and the - and + buttons say the same; the server answers. */
document.addEventListener("input", (event) => {
  const from = event.target;
  const box = from.closest?.("[data-level]");
  if (!box || !from.matches("[data-level-input]")) return;
  for (const other of box.querySelectorAll("[data-level-input]")) {
    if (other !== from) other.value = from.value;
  }
});

document.addEventListener("click", (event) => {
  const button = event.target.closest?.("[data-level-step]");
  const box = button?.closest("[data-level]");
  if (!box) return;
  event.preventDefault();
  const field = box.querySelector("input[type=range]") ?? box.querySelector("input[type=number]");
  const next = Number(field.value) + Number(button.dataset.levelStep);
  field.value = String(Math.min(Number(field.max), Math.max(Number(field.min), next)));
  field.dispatchEvent(new Event("input", { bubbles: true }));
});

/* A rig's controls: the server tells how all of them stand after one was turned. */
document.addEventListener("htmx:after:swap", () => {
  const tried = document.querySelector("#try > .tried");
  const box = document.querySelector("[data-knobs]");
  if (!tried || !box) return;
  for (const field of box.querySelectorAll("[data-knob], [data-knob-shown]")) {
    const value = tried.dataset[field.dataset.knob ?? field.dataset.knobShown];
    if (value !== undefined && field !== document.activeElement) field.value = value;
  }
});
document.addEventListener("DOMContentLoaded", () => {
  for (const field of document.querySelectorAll("[data-scripted]")) field.hidden = false;
});

/* After a form came back with errors, the keyboard stands at the summary of what was wrong. */
const focusErrors = (root) => root.querySelector?.("[data-focus]")?.focus();
document.addEventListener("DOMContentLoaded", () => focusErrors(document));
