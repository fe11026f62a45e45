/* Lines as a draughtsman draws them: of one width on paper, dashed or whole, and the outline of a solid. */
import { BackSide, DoubleSide, EdgesGeometry, ShaderMaterial, Vector2 } from "three";
import { LineMaterial } from "three/addons/lines/LineMaterial.js";
import { LineSegments2 } from "three/addons/lines/LineSegments2.js";
import { LineSegmentsGeometry } from "three/addons/lines/LineSegmentsGeometry.js";

const CREASE_DEG = 30;

export class Pencil {
  constructor() {
    this.size = new Vector2(1, 1);
    this.metres = { value: 1 };
    this.materials = new Set();
  }

  /* Tell how large a pixel is, in metres, and the canvas in pixels. */
  paper(metres, wide, tall) {
    this.metres.value = metres;
    for (const material of this.materials) {
      material.resolution.set(wide, tall);
      if (material.dashed) material.dashScale = 1 / metres;
    }
  }

  /* Draw separate strokes: `points` as x, y, z of one end after the other, two to a stroke. */
  strokes(points, { color, width = 1.2, dash = null, over = false, opacity = 1, order = 2 }) {
    const material = new LineMaterial({
      color, linewidth: width, dashed: dash !== null, dashSize: dash?.[0] ?? 1, gapSize: dash?.[1] ?? 1,
      depthTest: !over, depthWrite: !over, transparent: over || opacity < 1, opacity,
    });
    this.materials.add(material);
    material.addEventListener("dispose", () => this.materials.delete(material));
    const lines = new LineSegments2(new LineSegmentsGeometry().setPositions(points), material);
    if (dash) lines.computeLineDistances();
    lines.renderOrder = order;
    return lines;
  }

  run(points, style) {
    const ends = [];
    for (let i = 0; i + 1 < points.length; i++) ends.push(...points[i].toArray(), ...points[i + 1].toArray());
    return this.strokes(ends, style);
  }

  /* Draw the creases of a solid; nothing where it has none. */
  creases(geometry, style) {
    const edges = new EdgesGeometry(geometry, CREASE_DEG);
    const points = edges.getAttribute("position").array;
    edges.dispose();
    return points.length ? this.strokes(points, style) : null;
  }

  /* Return the ink that stands out a pixel round a solid: its far side, grown. */
  outline(color, width = 1.3) {
    return new ShaderMaterial({
      uniforms: { ink: { value: color }, metres: this.metres, width: { value: width } },
      vertexShader:
        "uniform float metres; uniform float width; void main() {" +
        " gl_Position = projectionMatrix * modelViewMatrix * vec4(position + normal * metres * width, 1.0); }",
      fragmentShader:
        "uniform vec3 ink; void main() { gl_FragColor = vec4(ink, 1.0);\n#include <colorspace_fragment>\n }",
      side: BackSide,
    });
  }
}

export const BOTH = DoubleSide;
