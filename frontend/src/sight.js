/* Where one looks from: turned about the upright, tilted, nearer or farther; by mouse, finger, or in steps. */
import { Vector3 } from "three";

const GLIDE_MS = 220;
const LEAST = 0.4, MOST = 8;
const still = () => matchMedia("(prefers-reduced-motion: reduce)").matches;

export class Sight {
  constructor(camera, ask) {
    this.camera = camera;
    this.ask = ask;
    this.now = { turn: 0, tilt: 0, near: 1 };
    this.goal = { ...this.now };
    this.middle = new Vector3();
    this.half = new Vector3(1, 1, 1);
    this.gliding = 0;
  }

  /* Say what must be seen: its lowest and highest corner. */
  frame({ low, high }) {
    this.middle.addVectors(low, high).multiplyScalar(0.5);
    this.half.subVectors(high, low).multiplyScalar(0.5);
  }

  turn(by, tilt) { this.#go({ turn: this.goal.turn + by, tilt: this.goal.tilt + tilt }); }
  zoom(by) { this.#go({ near: this.goal.near * by }); }
  look(turn, tilt) {
    const round = 2 * Math.PI;
    const near = turn + round * Math.round((this.goal.turn - turn) / round);
    this.#go({ turn: near, tilt, near: 1 });
  }
  settle() { cancelAnimationFrame(this.gliding); this.now = { ...this.goal }; this.ask(); }

  #go(change, glide = true) {
    const goal = { ...this.goal, ...change };
    goal.tilt = Math.min(Math.max(goal.tilt, -Math.PI / 2), Math.PI / 2);
    goal.near = Math.min(Math.max(goal.near, LEAST), MOST);
    this.goal = goal;
    if (!glide || still()) return this.settle();
    const from = { ...this.now }, start = performance.now();
    cancelAnimationFrame(this.gliding);
    const step = (time) => {
      const t = Math.min(Math.max((time - start) / GLIDE_MS, 0), 1), eased = t * (2 - t);
      for (const key of Object.keys(goal)) this.now[key] = from[key] + eased * (goal[key] - from[key]);
      this.ask();
      if (t < 1) this.gliding = requestAnimationFrame(step);
    };
    this.gliding = requestAnimationFrame(step);
  }

  /* Set the camera for a canvas of this size. */
  fit(wide, tall) {
    const { turn, tilt, near } = this.now, { camera, half } = this;
    const sin = Math.sin(tilt), cos = Math.cos(tilt);
    const right = half.x * Math.abs(Math.cos(turn)) + half.y * Math.abs(Math.sin(turn));
    const deep = half.x * Math.abs(Math.sin(turn)) + half.y * Math.abs(Math.cos(turn));
    const need = Math.max(half.z * cos + deep * Math.abs(sin), (right * tall) / wide);
    const far = 4 * half.length();
    const up = (1.06 * need) / near;
    camera.top = up;
    camera.bottom = -up;
    camera.right = (up * wide) / tall;
    camera.left = -camera.right;
    camera.near = 0;
    camera.far = 2 * far;
    const way = new Vector3(cos * Math.sin(turn), -cos * Math.cos(turn), sin);
    camera.up.set(-sin * Math.sin(turn), sin * Math.cos(turn), cos);
    camera.position.copy(this.middle).addScaledVector(way, far);
    camera.lookAt(this.middle);
    camera.updateProjectionMatrix();
    camera.updateMatrixWorld();
  }
  metresPerPixel(tall) { return (this.camera.top - this.camera.bottom) / tall; }

  /* A finger turns sideways and leaves up and down to the page; the wheel belongs to the page until the view has the focus. */
  listen(canvas) {
    let last = null;
    canvas.addEventListener("pointerdown", (event) => {
      if (event.button !== 0) return;
      last = event;
      canvas.setPointerCapture(event.pointerId);
      canvas.focus({ preventScroll: true });
    });
    canvas.addEventListener("pointermove", (event) => {
      if (!last || event.pointerId !== last.pointerId) return;
      const scale = Math.PI / Math.max(canvas.clientWidth, 300);
      const tilt = event.pointerType === "touch" ? 0 : (event.clientY - last.clientY) * scale;
      this.#go({ turn: this.goal.turn - (event.clientX - last.clientX) * scale, tilt: this.goal.tilt + tilt }, false);
      last = event;
    });
    for (const end of ["pointerup", "pointercancel"]) canvas.addEventListener(end, () => { last = null; });
    canvas.addEventListener("wheel", (event) => {
      if (document.activeElement !== canvas) return;
      event.preventDefault();
      this.#go({ near: this.goal.near * Math.exp(-event.deltaY * 0.0015) }, false);
    }, { passive: false });
  }
}
