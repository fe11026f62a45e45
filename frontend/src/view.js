/* The rig from all sides: a canvas, its labels and its buttons. Draws what it is given and computes nothing of its own. */
import { OrthographicCamera, Scene, WebGLRenderer } from "three";
import { Sight } from "./sight.js";
import { Labels } from "./labels.js";
import { inkOf } from "./ink.js";
import { World } from "./world.js";

const TURN = Math.PI / 12;
const NEARER = 1.25;
const LOOKS = { corner: [-0.5, 0.3], front: [0, 0], side: [Math.PI / 2, 0], top: [0, Math.PI / 2] };
const KEYS = {
  ArrowLeft: "turn-left", ArrowRight: "turn-right", ArrowUp: "tilt-up", ArrowDown: "tilt-down",
  "+": "nearer", "=": "nearer", "-": "farther", PageUp: "water-up", PageDown: "water-down",
  Home: "corner", f: "front", s: "side", t: "top", n: "names",
};

/* Take over the stage of the page; `show(data)` draws a scene, and again whenever the numbers have changed. */
export function mount(stage) {
  const canvas = stage.querySelector("canvas");
  const reads = stage.querySelector("[data-scene-reads]");
  const renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true });
  const scene = new Scene();
  const camera = new OrthographicCamera();
  const labels = new Labels(stage.querySelector("[data-scene-labels]"));
  const world = new World(scene, camera);
  const sight = new Sight(camera, () => ask());
  let data = null, level = 0, names = false, asked = 0;

  const ask = () => { asked ||= requestAnimationFrame(draw); };
  function draw() {
    asked = 0;
    if (!data) return;
    const wide = canvas.clientWidth, tall = canvas.clientHeight;
    if (!wide || !tall) return;
    sight.fit(wide, tall);
    world.pixel(sight.metresPerPixel(tall), wide, tall);
    renderer.render(scene, camera);
    labels.place(world.labels(names), camera, wide, tall);
    stage.dataset.drawn = String(1 + Number(stage.dataset.drawn ?? 0));
  }
  function resize() {
    renderer.setPixelRatio(Math.min(window.devicePixelRatio || 1, 2));
    renderer.setSize(canvas.clientWidth, canvas.clientHeight, false);
    ask();
  }
  function water(index) {
    level = Math.min(Math.max(index, 0), data.levels.length - 1);
    const now = data.levels[level];
    const state = data.states.find((one) => one.state === now.state) ?? data.states[0];
    world.state(state, now);
    reads.textContent = `${now.words} ${state.words}`;
    stage.dataset.level = now.name || String(now.height_m);
    stage.dataset.state = state.state;
    for (const button of stage.querySelectorAll("[data-scene-level]")) {
      button.setAttribute("aria-pressed", String(button.dataset.sceneLevel === now.name));
    }
    ask();
  }
  const named = (name) => data.levels.findIndex((one) => one.name === name);
  const acts = {
    "turn-left": () => sight.turn(-TURN, 0), "turn-right": () => sight.turn(TURN, 0),
    "tilt-up": () => sight.turn(0, TURN), "tilt-down": () => sight.turn(0, -TURN),
    nearer: () => sight.zoom(NEARER), farther: () => sight.zoom(1 / NEARER),
    "water-up": () => water(level - 1), "water-down": () => water(level + 1),
    names: () => {
      names = !names;
      stage.querySelector('[data-scene-do="names"]').setAttribute("aria-pressed", String(names));
      ask();
    },
  };
  for (const [look, at] of Object.entries(LOOKS)) acts[look] = () => sight.look(...at);

  stage.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (!button || !data) return;
    if (button.dataset.sceneLevel) water(named(button.dataset.sceneLevel));
    else acts[button.dataset.sceneDo]?.();
  });
  canvas.addEventListener("keydown", (event) => {
    const act = event.ctrlKey || event.metaKey || event.altKey ? undefined : acts[KEYS[event.key]];
    if (!act || !data) return;
    event.preventDefault();
    act();
  });
  sight.listen(canvas);
  canvas.addEventListener("webglcontextrestored", () => { if (data) { world.ink(inkOf(stage)); water(level); } });
  for (const query of ["(prefers-color-scheme: dark)", "(forced-colors: active)"]) {
    matchMedia(query).addEventListener("change", () => { if (data) { world.ink(inkOf(stage)); water(level); } });
  }
  new ResizeObserver(resize).observe(canvas);

  return {
    get mark() { return data?.mark ?? ""; },
    show(next) {
      const was = data?.levels[level];
      data = { ...next, pieces: next.pieces ?? data.pieces };
      world.bodies(data, inkOf(stage));
      sight.frame(world.bounds);
      if (was) {
        const same = data.levels.findIndex((one) => (was.name ? one.name === was.name : one.height_m === was.height_m));
        water(same < 0 ? level : same);
      } else {
        acts.corner();
        sight.settle();
        water(named("half in"));
      }
      resize();
    },
  };
}
