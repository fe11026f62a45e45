/* The bodies in space: pieces, legs, hook, bags, centres, water, scale. Built from the page's numbers. */
import {
  AmbientLight, BoxGeometry, BufferGeometry, DirectionalLight, DoubleSide, Float32BufferAttribute, Group,
  LatheGeometry, Matrix4, Mesh, MeshBasicMaterial, MeshLambertMaterial, SphereGeometry, TorusGeometry, Vector2, Vector3,
} from "three";
import { toCreasedNormals } from "three/addons/utils/BufferGeometryUtils.js";
import { mixed } from "./ink.js";
import { Pencil } from "./pencil.js";

const TONES = { wood: 0.1, stone: 0.28, metal: 0.5 };
const IN_THE_DARK = 0.14; // more of the ink, so that a body stands out from a dark ground
const HOLLOW = new Set(["trapped water", "sediment", "open hole"]);
const DASHES = { concretion: [6, 3], "trapped water": [1.5, 2.5], sediment: [7, 3], "open hole": [3, 2] };
const v = (at) => new Vector3(...at);

export class World {
  constructor(scene, camera) {
    this.scene = scene;
    this.pencil = new Pencil();
    this.body = new Group();
    this.rig = new Group();
    this.body.matrixAutoUpdate = false;
    const light = new DirectionalLight(0xffffff, 2.1);
    light.position.set(-1.2, 1.6, 1.4);
    camera.add(light, light.target);
    scene.add(camera, new AmbientLight(0xffffff, 1.5), this.body, this.rig);
    this.mark = "";
    this.named = [];
  }

  get bounds() {
    const low = new Vector3(), high = new Vector3();
    this.#reach(low, high);
    const over = 0.06 * (high.z - low.z);
    return { low: low.clone().setZ(low.z - over), high: high.clone().setZ(high.z + 2 * over) };
  }

  pixel(metres, wide, tall) { this.pencil.paper(metres, wide, tall); }

  /* Take new numbers; pieces are built again only where they are others. */
  bodies(data, ink) {
    const same = this.mark === data.mark && this.inked === ink;
    this.data = data;
    this.colours = ink;
    if (!same) this.#pieces();
  }
  ink(ink) { this.colours = ink; this.#pieces(); }

  #pieces() {
    empty(this.body);
    this.mark = this.data.mark;
    this.inked = this.colours;
    for (const piece of this.data.pieces) this.body.add(...this.#piece(piece));
  }

  #piece({ label, role, tone, vertices, faces }) {
    const { pencil, colours: c } = this;
    const solid = new BufferGeometry();
    solid.setAttribute("position", new Float32BufferAttribute(vertices, 3));
    solid.setIndex(faces);
    solid.computeVertexNormals();
    solid.computeBoundingBox();
    const made = [];
    const hollow = HOLLOW.has(role), coat = role === "concretion";
    const own = { concretion: c.concretion, "trapped water": c["water"], sediment: c.sediment, crate: c.crate }[role];
    const fill = own ? mixed(c.paper, own, role === "crate" ? 0.22 : 0.6) : mixed(c.paper, c.ink, (TONES[tone] ?? 0.2) + (c.isDark ? IN_THE_DARK : 0));
    const clear = hollow || coat;
    const shaded = new Mesh(toCreasedNormals(solid, 0.6), new MeshLambertMaterial({
      color: fill, transparent: clear, opacity: hollow ? 0.16 : coat ? 0.42 : 1, depthWrite: !clear,
      polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1,
    }));
    shaded.renderOrder = clear ? 3 : 0;
    made.push(shaded);
    if (coat) made.push(...this.#rim(solid, own));
    else if (!hollow) made.push(new Mesh(solid, pencil.outline(c.ink)));
    const lines = pencil.creases(solid, {
      color: own ?? c.ink, width: hollow ? 0.9 : 1.1, dash: DASHES[role] ?? null,
      over: hollow, opacity: hollow ? 0.55 : 1, order: hollow ? 4 : 2,
    });
    if (lines) made.push(lines);
    made[0].userData = { label, middle: solid.boundingBox.getCenter(new Vector3()) };
    return made;
  }

  /* Outline a clear coat: its near side first, without colour, so that of its grown far side only the rim is seen. */
  #rim(solid, color) {
    const near = new Mesh(solid, new MeshBasicMaterial({
      colorWrite: false, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1,
    }));
    const rim = new Mesh(solid, this.pencil.outline(color));
    near.renderOrder = 2.5;
    rim.renderOrder = 2.6;
    return [near, rim];
  }

  /* Hang everything as in one state, with the water line at one level. */
  state(state, level) {
    const hook = v(state.hook_m), t = state.turn;
    this.turn = new Matrix4().set(t[0], t[1], t[2], 0, t[3], t[4], t[5], 0, t[6], t[7], t[8], 0, 0, 0, 0, 1);
    this.turn.premultiply(new Matrix4().makeTranslation(hook));
    this.turn.multiply(new Matrix4().makeTranslation(hook.clone().negate()));
    this.body.matrix.copy(this.turn);
    this.body.matrixWorldNeedsUpdate = true;
    empty(this.rig);
    this.named = [];
    const { low, high } = this.bounds;
    this.size = high.distanceTo(low);
    this.#legs(state, hook, low);
    for (const bag of state.bags) this.#bag(bag);
    for (const point of state.points) this.#point(point);
    this.#water(level, low, high);
    this.#scale(low);
  }

  #at(place) { return v(place).applyMatrix4(this.turn); }
  #name(key, text, at, kind, from) { this.named.push({ key, text, at, kind, from }); }

  #legs(state, hook, low) {
    const { pencil, colours: c, size, rig } = this;
    const ink = { color: c.ink, width: 2.4 };
    state.legs.forEach((leg, i) => {
      const top = this.#at(leg.top_m), end = this.#at(leg.at_m);
      rig.add(pencil.run([top, end], ink), ball(end, 0.008 * size, c.ink));
      this.#name(`leg ${i}`, leg.label, top.clone().lerp(end, 0.42), "leg", hook);
    });
    if (state.beam_m) {
      const [one, other] = state.beam_m.map((end) => this.#at(end));
      rig.add(pencil.run([one, hook, other], ink), pencil.run([one, other], { color: c.ink, width: 6 }));
    }
    const ring = new Mesh(new TorusGeometry(0.013 * size, 0.0045 * size, 10, 24), new MeshLambertMaterial({ color: c.ink }));
    ring.position.copy(hook);
    ring.rotation.x = Math.PI / 2;
    const over = hook.clone().setZ(hook.z + 0.06 * size);
    rig.add(ring, pencil.run([hook, over], ink));
    rig.add(pencil.run([hook, hook.clone().setZ(low.z)], { color: c.soft, width: 1, dash: [9, 4], over: true, order: 5 }));
    this.#name("hook", "hook", over, "point");
  }

  #bag({ name, mouth_m, foot_m, diameter_m }) {
    const { pencil, colours: c, rig } = this;
    const r = diameter_m / 2, mouth = this.#at(mouth_m);
    const profile = [new Vector2(0.28 * r, 0)];
    for (let i = 0; i <= 20; i++) {
      const angle = -0.61 + (i / 20) * (Math.PI / 2 + 0.61);
      profile.push(new Vector2(Math.max(r * Math.cos(angle), 1e-4), 1.2 * r + r * Math.sin(angle)));
    }
    const shape = new LatheGeometry(profile, 28).rotateX(Math.PI / 2);
    const skin = new Mesh(shape, new MeshLambertMaterial({ color: mixed(c.paper, c.ink, c.isDark ? 0.14 : 0.06), side: DoubleSide }));
    const rim = new Mesh(shape, pencil.outline(c.ink));
    for (const part of [skin, rim]) part.position.copy(mouth);
    rig.add(skin, rim);
    if (foot_m) rig.add(pencil.run([mouth, this.#at(foot_m)], { color: c.ink, width: 1.4 }));
    this.#name(`bag ${name}`, name, mouth.clone().setZ(mouth.z + 1.3 * r), "bag");
  }

  #point({ tag, at_m, middle_m, half_m }) {
    const { pencil, colours: c, rig, size } = this;
    const at = this.#at(at_m), half = half_m.map((h) => Math.max(h, 0.002 * size));
    const cloud = new Group();
    const skin = new Mesh(new SphereGeometry(1, 24, 16), new MeshBasicMaterial({
      color: c.signal, transparent: true, opacity: 0.16, depthTest: false, depthWrite: false,
    }));
    skin.renderOrder = 6;
    cloud.add(skin);
    for (const [a, b] of [[0, 1], [0, 2], [1, 2]]) {
      const round = Array.from({ length: 41 }, (_, i) => {
        const p = [0, 0, 0];
        p[a] = Math.cos((i * Math.PI) / 20);
        p[b] = Math.sin((i * Math.PI) / 20);
        return v(p.map((value, axis) => value * half[axis]));
      });
      const shape = pencil.run(round, { color: c.signal, width: 0.9, over: true, order: 6 });
      shape.scale.set(1 / half[0], 1 / half[1], 1 / half[2]);
      cloud.add(shape);
    }
    const place = new Matrix4().makeTranslation(v(middle_m)).scale(v(half));
    cloud.matrixAutoUpdate = false;
    cloud.matrix.multiplyMatrices(this.turn, place);
    rig.add(cloud, ball(at, 0.006 * size, c.signal, true));
    this.#name(`point ${tag}`, tag, at, "point");
  }

  /* The water: a clear block whose top is the surface, and the sea's crest and trough where its height is known. */
  #water(level, low, high) {
    const { pencil, colours: c, rig, data } = this;
    const z = level.surface_m, down = low.z;
    const a = [low.x, low.y], b = [high.x, high.y];
    const corners = (at) => [[a[0], a[1]], [b[0], a[1]], [b[0], b[1]], [a[0], b[1]], [a[0], a[1]]].map(([x, y]) => new Vector3(x, y, at));
    const surface = { color: c.water, width: 1.8, order: 8 };
    rig.add(pencil.run(corners(z), surface));
    const tall = z - down;
    if (tall > 1e-4) {
      const block = new Mesh(new BoxGeometry(b[0] - a[0], b[1] - a[1], tall), [0, 1, 2, 3, 4, 5].map((side) => new MeshBasicMaterial({
        color: c.water, transparent: true, opacity: side === 4 ? 0.2 : 0.08, depthWrite: false, side: side === 4 ? DoubleSide : 0,
      })));
      block.position.set((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, down + tall / 2);
      block.renderOrder = 7;
      rig.add(block);
    }
    if (data.wave_m) {
      for (const side of [-0.5, 0.5]) rig.add(pencil.run(corners(z + side * data.wave_m), { color: c.water, width: 1, dash: [5, 4], order: 8 }));
      this.#name("wave", data.wave, new Vector3(b[0], b[1], z + data.wave_m / 2), "water");
    }
    this.#name("water", level.name ? `water line, ${level.name}` : "water line", new Vector3(b[0], a[1], z), "water");
  }

  #scale(low) {
    const { colours: c, rig, data } = this;
    const at = (share) => low.clone().setX(low.x + share * data.bar_m);
    rig.add(this.pencil.run([at(0), at(1)], { color: c.ink, width: 7, over: true, order: 9 }));
    for (const share of [0.25, 0.75]) {
      rig.add(this.pencil.run([at(share), at(share + 0.25)], { color: c.paper, width: 4.5, over: true, order: 10 }));
    }
    this.named.push({ key: "scale", text: data.bar, at: at(1), kind: "point", span: at(0) });
  }

  /* Return what is to be written, the pieces' names only where asked for: each once, at its nearest copy. */
  labels(names) {
    if (!names) return this.named;
    const nearest = new Map();
    for (const piece of this.body.children) {
      const { label, middle } = piece.userData;
      if (!label) continue;
      const at = middle.clone().applyMatrix4(this.turn);
      const away = at.distanceToSquared(this.eye());
      if (!nearest.has(label) || nearest.get(label).away > away) nearest.set(label, { at, away });
    }
    const parts = [...nearest].map(([name, { at }]) => ({ key: `part ${name}`, text: name, at, kind: "part", from: v(this.data.states[0].hook_m) }));
    return [...this.named.filter((one) => one.kind !== "leg"), ...parts];
  }
  eye() { return this.scene.children.find((one) => one.isCamera).position; }

  #reach(low, high) {
    const lows = this.data.states.map((s) => v(s.low_m)), highs = this.data.states.map((s) => v(s.high_m));
    low.copy(lows[0]);
    high.copy(highs[0]);
    for (const one of lows) low.min(one);
    for (const one of highs) high.max(one);
    for (const level of this.data.levels) low.z = Math.min(low.z, level.surface_m);
    const room = 0.18 * Math.max(high.x - low.x, high.y - low.y);
    low.x -= room; low.y -= room; high.x += room; high.y += room;
  }
}

function ball(at, radius, color, over = false) {
  const made = new Mesh(new SphereGeometry(radius, 14, 10), new MeshBasicMaterial({ color, depthTest: !over, transparent: over }));
  made.position.copy(at);
  made.renderOrder = over ? 9 : 0;
  return made;
}

function empty(group) {
  for (const child of [...group.children]) {
    child.traverse((one) => {
      one.geometry?.dispose();
      for (const material of [one.material ?? []].flat()) material.dispose();
    });
    group.remove(child);
  }
}
