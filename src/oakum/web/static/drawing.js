/* A touch on the picture of a drawing writes its place into the list of control marks. */
"use strict";
(() => {
  const figure = document.querySelector("[data-control-size]");
  const list = document.querySelector("textarea[name=control]");
  if (!figure || !list) return;
  const [wide, high] = figure.dataset.controlSize.split(" ").map(Number);
  figure.querySelector("[data-control-hint]").hidden = false;
  figure.querySelector("svg").addEventListener("click", (event) => {
    const box = event.currentTarget.getBoundingClientRect();
    const u = Math.round((event.clientX - box.left) / box.width * wide);
    const v = Math.round((event.clientY - box.top) / box.height * high);
    const lines = list.value.split("\n");
    const open = lines.findIndex((line) => line.trim() && line.trim().split(/\s+/).length === 1);
    if (open >= 0) lines[open] = `${lines[open].trim()} ${u} ${v}`;
    else lines.push(`MARK ${u} ${v}`);
    list.value = lines.join("\n").replace(/^\n+/, "");
    list.focus();
  });
})();
