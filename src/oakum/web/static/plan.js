/* The plan of the site: drag, wheel, keys and fingers move the window at once, then the server draws it anew.
   Without this file the same buttons and links ask for whole pages. */
"use strict";
(() => {
  const form = document.querySelector("[data-plan]");
  if (!form) return;
  const stage = form.querySelector("[data-plan-stage]");
  const REACH = 24; // a finger reaches the nearest mark within 24 px
  const WAIT = 140;
  let asking = null, timer = 0, turn = { dx: 0, dy: 0, k: 1 };

  form.classList.add("live");
  form.querySelector("[data-plan-keys]").hidden = false;

  const sight = () => form.querySelector("#plan-sight");
  const drawing = () => sight().querySelector("svg");
  const units = () => drawing().viewBox.baseVal.width / drawing().getBoundingClientRect().width;

  /* The question as it stands: the fields of the form, the window as it was moved, the size of the screen. */
  function question(go = "") {
    const asked = new URLSearchParams(new FormData(form));
    const per = Number(sight().dataset.planPer), box = drawing().viewBox.baseVal;
    const middle = { x: (box.width / 2 - turn.dx) / turn.k, y: (box.height / 2 - turn.dy) / turn.k };
    asked.set("x", Number(sight().dataset.planX) + (middle.x - box.width / 2) / per);
    asked.set("y", Number(sight().dataset.planY) - (middle.y - box.height / 2) / per);
    asked.set("w", box.width / (per * turn.k));
    const wide = Math.round(sight().clientWidth);
    asked.set("px", wide);
    asked.set("py", Math.round(wide < 560 ? wide * 1.15 : wide * 0.75));
    if (go) asked.set("go", go);
    for (const [name, value] of [...asked]) if (value === "") asked.delete(name, value);
    return asked;
  }

  async function ask(go = "") {
    clearTimeout(timer);
    asking?.abort();
    asking = new AbortController();
    try {
      const answer = await fetch(`/seabed/plan?${question(go)}`, { signal: asking.signal });
      if (!answer.ok) throw new Error(`the server answered ${answer.status}`);
      const text = await answer.text();
      const made = new DOMParser().parseFromString(text, "text/html");
      turn = { dx: 0, dy: 0, k: 1 };
      for (const id of ["plan-sight", "plan-key", "beside"]) form.querySelector(`#${id}`).replaceWith(made.getElementById(id));
      const across = form.querySelector("#across");
      if (across) across.value = "";
      history.replaceState(null, "", `/seabed?${sight().dataset.planQuery}`);
    } catch (error) {
      if (error.name !== "AbortError") location.assign(`/seabed?${question(go)}`);
    }
  }

  const later = () => { clearTimeout(timer); timer = setTimeout(ask, WAIT); };

  function show() {
    const world = drawing().querySelector("[id$=-world]");
    world.setAttribute("transform", `translate(${turn.dx} ${turn.dy}) scale(${turn.k})`);
  }

  function shift(dx, dy) {
    turn.dx += dx; turn.dy += dy;
    show();
  }

  function zoom(factor, x, y) {
    turn.dx = x - (x - turn.dx) * factor;
    turn.dy = y - (y - turn.dy) * factor;
    turn.k *= factor;
    show();
  }

  const spot = (event) => {
    const box = drawing().getBoundingClientRect();
    return { x: (event.clientX - box.left) * units(), y: (event.clientY - box.top) * units() };
  };

  /* One finger or the mouse moves, two fingers also change the scale; a touch without a move chooses a mark. */
  const down = new Map();
  let moved = 0;
  stage.addEventListener("pointerdown", (event) => {
    if (!event.target.closest("#plan-sight") || event.button > 0) return;
    down.set(event.pointerId, spot(event));
    if (down.size === 1) moved = 0;
  });
  addEventListener("pointermove", (event) => {
    const before = down.get(event.pointerId);
    if (!before) return;
    const now = spot(event), others = [...down].filter(([id]) => id !== event.pointerId).map(([, at]) => at);
    moved += Math.hypot(now.x - before.x, now.y - before.y);
    down.set(event.pointerId, now);
    if (moved < 4) return;
    clearTimeout(timer);
    asking?.abort();
    sight().classList.add("held");
    if (others.length) {
      const far = (at) => Math.hypot(at.x - others[0].x, at.y - others[0].y) || 1;
      zoom(far(now) / far(before), others[0].x, others[0].y);
    } else shift(now.x - before.x, now.y - before.y);
  });
  for (const kind of ["pointerup", "pointercancel"]) addEventListener(kind, (event) => {
    if (!down.delete(event.pointerId) || down.size) return;
    sight().classList.remove("held");
    if (moved >= 4) later();
  });
  stage.addEventListener("dragstart", (event) => event.preventDefault());

  stage.addEventListener("click", (event) => {
    if (!event.target.closest("#plan-sight")) return;
    event.preventDefault();
    if (moved >= 4) return;
    const at = spot(event);
    let best = null, least = REACH * units();
    for (const link of drawing().querySelectorAll("a[data-mark]")) {
      const far = Math.hypot(Number(link.dataset.x) - at.x, Number(link.dataset.y) - at.y);
      if (far < least) { best = link; least = far; }
    }
    if (!best) return;
    form.elements.mark.value = best.dataset.mark;
    ask();
  });

  stage.addEventListener("wheel", (event) => {
    if (!event.target.closest("#plan-sight")) return;
    event.preventDefault();
    const at = spot(event);
    zoom(Math.exp(-Math.max(-240, Math.min(240, event.deltaY)) / 480), at.x, at.y);
    later();
  }, { passive: false });

  const KEYS = {
    ArrowLeft: "left", ArrowRight: "right", ArrowUp: "up", ArrowDown: "down", "+": "in", "=": "in", "-": "out", 0: "whole",
  };
  stage.addEventListener("keydown", (event) => {
    const go = KEYS[event.key];
    if (!go || event.ctrlKey || event.metaKey || event.altKey || event.target !== stage) return;
    event.preventDefault();
    ask(go);
  });

  form.addEventListener("submit", (event) => {
    event.preventDefault();
    ask(event.submitter?.name === "go" ? event.submitter.value : "");
  });
  form.addEventListener("change", (event) => {
    if (event.target.name === "drawn") form.submit();
    else ask();
  });

  /* The server's drawing has a usual size; on another screen it is drawn once more to fit. */
  if (Math.abs(sight().clientWidth - drawing().viewBox.baseVal.width) > 2) ask();
  let wide = innerWidth;
  addEventListener("resize", () => { if (innerWidth !== wide) { wide = innerWidth; later(); } });
})();
