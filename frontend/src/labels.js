/* Words over the canvas, as text of the page: beside what they name, clear of each other, with a line to it. */
import { Vector3 } from "three";

const GAP = 4, OUT = 18, SEEN = 20;

export class Labels {
  constructor(box) {
    this.box = box;
    this.lines = box.querySelector("svg");
    this.texts = new Map();
  }

  /* Place `wanted`: {key, text, at: Vector3, kind, from: Vector3 | undefined} where the camera sees `at`. */
  place(wanted, camera, wide, tall) {
    const seen = new Set(), boxes = [];
    for (const one of wanted) {
      if (one.span && apart(one.at, one.span, camera, wide, tall) < SEEN) continue; // seen end-on
      const element = this.#text(one);
      seen.add(one.key);
      const at = onPaper(one.at, camera, wide, tall);
      const away = one.from ? at.x - onPaper(one.from, camera, wide, tall).x : 1;
      boxes.push({ element, at, side: one.kind === "bag" ? 0 : away < -1 ? -1 : 1, wide: element.offsetWidth, tall: element.offsetHeight });
    }
    for (const [key, element] of this.texts) {
      if (!seen.has(key)) { element.remove(); this.texts.delete(key); }
    }
    boxes.sort((a, b) => Math.abs(a.side) - Math.abs(b.side) || a.at.y - b.at.y); // names on bags have the first choice
    const taken = [], drawn = [];
    for (const box of boxes) {
      const spot = clear(box, taken, wide, tall);
      taken.push(spot);
      box.element.style.transform = `translate(${spot.x.toFixed(1)}px, ${spot.y.toFixed(1)}px)`;
      if (!box.side) continue;
      const x = box.at.x < spot.x ? spot.x - 2 : box.at.x > spot.x + box.wide ? spot.x + box.wide + 2 : spot.x + box.wide / 2;
      const y = Math.min(Math.max(box.at.y, spot.y + 2), spot.y + box.tall - 2);
      drawn.push(`M${x.toFixed(1)} ${y.toFixed(1)}L${box.at.x.toFixed(1)} ${box.at.y.toFixed(1)}`);
    }
    this.lines.setAttribute("viewBox", `0 0 ${wide} ${tall}`);
    this.lines.querySelector("path").setAttribute("d", drawn.join(""));
  }

  #text({ key, text, kind }) {
    let element = this.texts.get(key);
    if (!element) {
      element = document.createElement("span");
      this.box.append(element);
      this.texts.set(key, element);
    }
    if (element.textContent !== text) element.textContent = text;
    element.className = `of-${kind}`;
    return element;
  }
}

function onPaper(point, camera, wide, tall) {
  const p = new Vector3().copy(point).project(camera);
  return { x: ((p.x + 1) * wide) / 2, y: ((1 - p.y) * tall) / 2 };
}

function apart(one, other, camera, wide, tall) {
  const a = onPaper(one, camera, wide, tall), b = onPaper(other, camera, wide, tall);
  return Math.hypot(a.x - b.x, a.y - b.y);
}

/* Find the nearest free place on the label's side, then on the other; a bag's name stays on its bag. */
function clear(box, taken, wide, tall) {
  const hits = (spot) => taken.some((other) =>
    spot.x < other.x + other.wide + GAP && other.x < spot.x + spot.wide + GAP &&
    spot.y < other.y + other.tall + GAP / 2 && other.y < spot.y + spot.tall + GAP / 2);
  let best = null;
  for (const [side, steps] of [[box.side, 9], [-box.side, 9], [box.side, 40]]) {
    for (let step = 0; step < steps; step++) {
      const shift = (step % 2 ? 1 : -1) * Math.ceil(step / 2) * 11;
      const x = box.at.x + (side > 0 ? OUT : side < 0 ? -OUT - box.wide : -box.wide / 2);
      const spot = {
        x: Math.min(Math.max(x, 2), Math.max(wide - box.wide - 2, 2)),
        y: Math.min(Math.max(box.at.y - box.tall / 2 + shift, 2), Math.max(tall - box.tall - 2, 2)),
        wide: box.wide, tall: box.tall,
      };
      best ??= spot;
      if (!hits(spot)) return spot;
    }
  }
  return best;
}
